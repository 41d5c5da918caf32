#!/usr/bin/python3
"""Compares our readers with general-purpose ones, gpxpy and pynmea2, fix by fix on the same files.

Usage: reference_test.py DUMP_PROGRAM FOLDER...
Exit code: 0 all equal, 1 some differ, 77 a module is missing (skipped).
"""
import csv
import datetime
import gzip
import io
import math
import pathlib
import re
import subprocess
import sys

try:
    import gpxpy
    import pynmea2
except ImportError as error:
    print(f"skipped: {error}")
    sys.exit(77)

EPOCH = datetime.datetime(1970, 1, 1, tzinfo=datetime.timezone.utc)
# What our readers do on purpose and a general reader does not: times spread, speeds corrected, UTF-16 without
# help, glued sentences, times that a general reader rejects. Their truth is in fixtures_test.cpp.
OURS_ONLY = {
    "gpx-kmh-whole-seconds.gpx", "gpx-time-spellings.gpx", "gpx-utf16.gpx", "nmea-utf16.nmea",
    "nmea-whole-seconds.nmea", "nmea-leap-second.nmea", "nmea-cr-only.nmea", "nmea-no-checksum.nmea",
    "nmea_no_checksum.nmea", "gpx-10-points-11-header.gpx", "gpx-white-space-time.gpx", "csv-unix-seconds.csv.gz",
    "hp58534a.log", "test.gpx",
}


def unix_us(time):
    if time.tzinfo is None:
        time = time.replace(tzinfo=datetime.timezone.utc)
    return (time - EPOCH) // datetime.timedelta(microseconds=1)


def our_fixes(program, path):
    done = subprocess.run([program, str(path)], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        return None
    rows = csv.DictReader(io.StringIO(done.stdout))
    return [{name: (float(cell) if cell else None) for name, cell in row.items()} | {"us": int(row["time_unix_us"])}
            for row in rows]


def text_of(path):
    raw = path.read_bytes()
    if raw[:2] == b"\x1f\x8b":
        raw = gzip.decompress(raw)
    return raw


# GPX: the same points, the same numbers.

def number(text):
    try:
        value = float(text)
    except (TypeError, ValueError):
        return None
    return value if math.isfinite(value) else None


def extension_speed(point):
    for extension in point.extensions:
        for element in extension.iter():
            if isinstance(element.tag, str) and element.tag.rsplit("}", 1)[-1].rsplit(":", 1)[-1] == "speed":
                return number(element.text)
    return None


def gpx_fixes(raw):
    fixes = {}
    for track in gpxpy.parse(raw.decode("utf-8-sig")).tracks:
        for segment in track.segments:
            for point in segment.points:
                if point.time is None:
                    continue
                speed = point.speed if point.speed is not None else extension_speed(point)
                fix = {"us": unix_us(point.time), "lat": point.latitude, "lon": point.longitude,
                       "ele": point.elevation, "speed_mps": speed if speed is None or speed >= 0 else None}
                kept = fixes.setdefault(fix["us"], fix)
                for name, value in fix.items():
                    if kept[name] is None:
                        kept[name] = value
    return [fixes[us] for us in sorted(fixes)]


def compare_gpx(ours, raw):
    theirs = gpx_fixes(raw)
    if len(ours) != len(theirs):
        return [f"{len(ours)} fixes, gpxpy has {len(theirs)}"]
    return [f"{name} at {mine['us']}: {mine[name]}, gpxpy has {other[name]}"
            for mine, other in zip(ours, theirs) for name in ("us", "lat", "lon", "ele", "speed_mps")
            if mine[name] != other[name]]


# NMEA: every fix is what some sentence of its instant says, and every valid sentence has its fix.

def sentences(raw):
    for line in raw.decode("latin-1").replace("\r", "\n").split("\n"):
        for piece in line.split("$")[1:]:
            if "*" not in piece:
                continue
            star = piece.index("*")
            if piece[star + 3:star + 4].isalnum():
                continue
            try:
                yield pynmea2.parse("$" + piece[:star + 3], check=True)
            except (pynmea2.ParseError, ValueError):
                continue


def valid(message):
    mode = getattr(message, "mode_indicator", None) or getattr(message, "mode", None) or ""
    if message.sentence_type == "RMC":
        fields = message.data
        return message.status == "A" and (len(fields) < 12 or fields[11] not in ("N", "E"))
    if message.sentence_type == "GGA":
        return message.data[5] not in ("", "0", "6")
    if message.sentence_type == "GNS":
        return message.data[5] != "" and any(letter not in "NE" for letter in message.data[5])
    if message.sentence_type == "GLL":
        fields = message.data
        return fields[0] != "" and (len(fields) < 6 or fields[5] in ("", "A")) and (
            len(fields) < 7 or fields[6] not in ("N", "E"))
    return mode not in ("N", "E")


def clock_us(message):
    time = message.timestamp
    return ((time.hour * 60 + time.minute) * 60 + time.second) * 1_000_000 + time.microsecond


def place(message):
    try:
        if message.lat and message.lon:
            return message.latitude, message.longitude
    except (ValueError, AttributeError):
        pass
    return None


def collect(raw):
    """By time of day: places, speeds in m/s, heights, and days of the valid sentences; and all speeds of VTG."""
    moments, vtg = {}, []
    for message in sentences(raw):
        kind = getattr(message, "sentence_type", None)  # proprietary ones have none
        if kind == "VTG":
            vtg += [value for value in ((number(message.data[4]) or 0.0) * 1852 / 3600,
                                        (number(message.data[6]) or 0.0) / 3.6)]
        if kind not in ("RMC", "GGA", "GNS", "GLL") or not isinstance(getattr(message, "timestamp", None), datetime.time):
            continue
        if not valid(message):
            continue
        moment = moments.setdefault(clock_us(message), {"places": [], "speeds": [], "heights": [], "days": []})
        where = place(message)
        if where:
            moment["places"].append(where)
        if kind == "RMC":
            knots = number(message.data[6])
            if knots is not None:
                moment["speeds"].append(knots * 1852 / 3600)
            if isinstance(message.datestamp, datetime.date):
                moment["days"].append(message.datestamp.toordinal())
        if kind in ("GGA", "GNS"):
            moment["heights"].append(number(message.data[8]))
    return moments, vtg


def near(value, candidates, tolerance):
    return any(candidate is not None and abs(value - candidate) <= tolerance for candidate in candidates)


def compare_nmea(ours, raw):
    moments, vtg = collect(raw)
    wrong = []
    day_us = 86_400_000_000
    seen = set()
    for fix in ours:
        at = fix["us"] % day_us
        here = [(us, moment) for us, moment in moments.items() if abs(us - at) <= 5_000]
        if not here:
            wrong.append(f"no sentence for the fix at {fix['us']}")
            continue
        seen.update(us for us, _ in here)
        pick = lambda name: [value for _, moment in here for value in moment[name]]
        if fix["lat"] is not None and not any(
                abs(fix["lat"] - lat) < 1e-9 and abs(fix["lon"] - lon) < 1e-9 for lat, lon in pick("places")):
            wrong.append(f"place at {fix['us']}")
        if fix["speed_mps"] is not None and not near(fix["speed_mps"], pick("speeds") + vtg, 1e-9):
            wrong.append(f"speed at {fix['us']}: {fix['speed_mps']}, pynmea2 has {pick('speeds')}")
        if fix["speed_mps"] is None and pick("speeds"):
            wrong.append(f"no speed at {fix['us']}")
        if fix["ele"] is not None and not near(fix["ele"], pick("heights"), 0.0):
            wrong.append(f"height at {fix['us']}")
        days = pick("days")
        if days and fix["us"] // day_us + EPOCH.date().toordinal() not in days:
            wrong.append(f"day at {fix['us']}")
    missing = [us for us, moment in moments.items() if us not in seen and (moment["places"] or moment["speeds"])]
    return wrong + [f"no fix for the sentence at {us}" for us in missing]


def main():
    program, folders = sys.argv[1], sys.argv[2:]
    compared = fixes = failed = 0
    for folder in folders:
        for path in sorted(pathlib.Path(folder).rglob("*")):
            if not path.is_file() or path.name in OURS_ONLY or path.suffix in (".txt", ".md", ".csv"):
                continue
            ours = our_fixes(program, path)
            if ours is None:
                continue
            raw = text_of(path)
            try:
                if re.search(rb"<(\w+:)?(kml|TrainingCenterDatabase)", raw[:65536]):
                    continue  # no general-purpose reader to compare with
                is_gpx = re.search(rb"<(\w+:)?gpx", raw[:65536]) is not None
                wrong = compare_gpx(ours, raw) if is_gpx else compare_nmea(ours, raw)
            except (gpxpy.gpx.GPXException, ValueError) as error:
                print(f"{path}: the general reader gave up ({str(error)[:60]})")
                continue
            compared += 1
            fixes += len(ours)
            failed += bool(wrong)
            for text in wrong[:3]:
                print(f"{path}: {text}")
    print(f"{compared} files with {fixes} fixes compared, {failed} differ")
    sys.exit(1 if failed or compared < 30 else 0)


main()
