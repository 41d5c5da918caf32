"""Logs as files: GPX, NMEA 0183 (RMC and GGA), CSV in several dresses."""
import datetime
import math

import numpy as np

A, E2 = 6378137.0, 0.00669437999014  # WGS 84


class Place:
    """Where on Earth the ride is; metres east and north become degrees."""

    def __init__(self, rng):
        self.lat, self.lon = rng.uniform(-58, 62), rng.uniform(-170, 170)

    def degrees(self, x, y):
        sin = math.sin(math.radians(self.lat))
        w = 1 - E2 * sin * sin
        lat = self.lat + np.degrees(y / (A * (1 - E2) / w ** 1.5))
        sin = np.sin(np.radians(lat))
        return lat, self.lon + np.degrees(x / (A / np.sqrt(1 - E2 * sin * sin) * np.cos(np.radians(lat))))


def utc(unix, digits):
    """Date and time of seconds since 1970, rounded to some decimals."""
    ticks = round(unix * 10 ** digits)
    whole, part = divmod(ticks, 10 ** digits)
    when = datetime.datetime.fromtimestamp(whole, datetime.timezone.utc)
    return when, f".{part:0{digits}d}" if digits else ""


def iso(unix, digits):
    when, part = utc(unix, digits)
    return when.strftime("%Y-%m-%dT%H:%M:%S") + part + "Z"


def gpx(log, begin, place, rng):
    """GPX 1.1 with the speed in extensions, or 1.0 with its own element."""
    old = log.speed is not None and rng.uniform() < 0.3
    version = "1.0" if old else "1.1"
    name = f"http://www.topografix.com/GPX/{version.replace('.', '/')}"
    out = ['<?xml version="1.0" encoding="UTF-8"?>',
           f'<gpx version="{version}" creator="bench" xmlns="{name}"><trk><trkseg>']
    lat, lon = place.degrees(log.x, log.y)
    for i, t in enumerate(log.time):
        row = f'<trkpt lat="{lat[i]:.{log.digits}f}" lon="{lon[i]:.{log.digits}f}">'
        row += f"<time>{iso(begin + t, log.time_digits)}</time>"
        if log.speed is not None:
            speed = f"<speed>{log.speed[i]:.3f}</speed>"
            row += speed if old else f"<extensions>{speed}</extensions>"
        out.append(row + "</trkpt>")
    out.append("</trkseg></trk></gpx>\n")
    return "\n".join(out)


def sentence(body):
    """With its checksum."""
    check = 0
    for c in body:
        check ^= ord(c)
    return f"${body}*{check:02X}\r\n"


def angle(value, wide, signs):
    """Degrees as NMEA writes them: degrees and minutes together."""
    ticks = round(abs(value) * 60 * 1e6)
    whole, minutes = divmod(ticks, 60_000_000)
    return f"{whole:0{wide}d}{minutes / 1e6:09.6f},{signs[value < 0]}"


def nmea(log, begin, place, _rng):
    """RMC and GGA for each row."""
    out = []
    lat, lon = place.degrees(log.x, log.y)
    decimals = 1 if log.step_speed else 3
    for i, t in enumerate(log.time):
        when, part = utc(begin + t, 3)
        where = f"{angle(lat[i], 2, 'NS')},{angle(lon[i], 3, 'EW')}"
        clock = when.strftime("%H%M%S") + part
        knots = log.speed[i] * 3600 / 1852
        course = f"{math.degrees(log.course[i]) % 360:.1f}" if knots > 0.5 else ""
        out.append(sentence(f"GNRMC,{clock},A,{where},{knots:.{decimals}f},{course},{when:%d%m%y},,,A"))
        out.append(sentence(f"GNGGA,{clock},{where},1,12,0.8,120.0,M,45.0,M,,"))
    return "".join(out)


SPEEDS = (("speed_mps", 1.0, 3), ("Speed (km/h)", 3.6, 3), ("speed_kn", 3600 / 1852, 3), ("velocity_kmh", 3.6, 2),
          ("Speed (mph)", 1 / 0.44704, 3))
TIMES = ("time", "unix_s", "Time (ms)", "timestamp")


def csv(log, begin, place, rng):
    """CSV with names, units, separators and times by chance."""
    name, factor, decimals = SPEEDS[1 if log.step_speed else rng.integers(len(SPEEDS))]
    if log.step_speed:
        decimals = 1
    clock = TIMES[rng.integers(len(TIMES))]
    cut = ";" if rng.uniform() < 0.3 else ","
    names = ("lat", "lon") if rng.uniform() < 0.5 else ("latitude", "longitude")
    out = [cut.join((clock, *names, name))]
    lat, lon = place.degrees(log.x, log.y)
    form = {"unix_s": lambda t: f"{t:.3f}", "Time (ms)": lambda t: f"{t * 1000:.0f}"}.get(clock, lambda t: iso(t, 3))
    for i, t in enumerate(log.time):
        out.append(cut.join((form(begin + t), f"{lat[i]:.{log.digits}f}", f"{lon[i]:.{log.digits}f}",
                             f"{log.speed[i] * factor:.{decimals}f}")))
    return "\n".join(out) + "\n"


def write(log, begin, place, rng, folder, name):
    """Writes a log, and gives its path. Coarse speeds are rounded here."""
    if log.step_speed and log.speed is not None:
        log.speed = np.round(log.speed / log.step_speed) * log.step_speed
    path = folder / f"{name}.{log.form}"
    path.write_text({"gpx": gpx, "nmea": nmea, "csv": csv}[log.form](log, begin, place, rng), newline="")
    return path
