"""What recorders, apps and exports make of readings: rows lost, repeated, made up, smoothed, stamped anew."""
import dataclasses

import numpy as np

import receivers
import signals


def chosen(log, keep):
    """Only some rows of a log."""
    return dataclasses.replace(log, time=log.time[keep], x=log.x[keep], y=log.y[keep], speed=log.speed[keep],
                               course=log.course[keep])


def dropped(ride, make, rng):
    log = receivers.raw(10, "nmea")(ride, make, rng)
    lost = signals.bursts(rng, len(log.time), make.uniform(0.005, 0.04), 2, make.uniform(1, 4)) > 1
    return chosen(log, ~lost)


def repeated(ride, make, rng):
    log = receivers.raw(10)(ride, make, rng)
    twice = 1 + (rng.uniform(size=len(log.time)) < make.uniform(0.02, 0.15))
    return chosen(log, np.repeat(np.arange(len(log.time)), twice))


def polled(rate):
    """Asked ten times a second."""
    def receiver(ride, make, rng):
        log = receivers.raw(rate)(ride, make, rng)
        times = 10 // rate
        again = chosen(log, np.repeat(np.arange(len(log.time)), times))
        again.time = again.time + 0.1 * (np.arange(len(again.time)) % times)
        return again
    return receiver


def between(readings, rows, through, form="csv"):
    """Rows made up between the raw readings of a log: `through` draws a line of places or of speeds."""
    def recorder(ride, make, rng):
        log = receivers.raw(readings)(ride, make, rng)
        time = np.arange(log.time[0], log.time[-1], 1 / rows)
        x, y, speed = [through(time, log.time, v) for v in (log.x, log.y, log.speed)]
        course = np.interp(time, log.time, np.unwrap(log.course))
        return receivers.Log(time, x, y, np.maximum(speed, 0.0), course, form)
    return recorder


def run_on(readings):
    """Place by the last speed, speed by a share of its last change, until the next reading puts both right."""
    def recorder(ride, make, rng):
        log = receivers.raw(readings)(ride, make, rng)
        trend = make.uniform(0.5, 1) * np.diff(log.speed, prepend=log.speed[0]) * readings
        time = np.arange(log.time[0], log.time[-1], 0.1)
        last = np.searchsorted(log.time, time + 0.001) - 1
        since = time - log.time[last]
        x = log.x[last] + log.speed[last] * np.sin(log.course[last]) * since
        y = log.y[last] + log.speed[last] * np.cos(log.course[last]) * since
        speed = np.maximum(0.0, log.speed[last] + trend[last] * since)
        return receivers.Log(time, x, y, speed, log.course[last], "nmea")
    return recorder


def app_smoothed(ride, make, rng):
    log = receivers.raw(10)(ride, make, rng)
    speed = signals.first_order(log.speed, make.uniform(0.2, 0.8), 0.1)
    log.speed = np.where(speed < make.uniform(0.1, 0.4), 0.0, speed)
    return log


def export_centred(ride, make, rng):
    log = receivers.raw(10)(ride, make, rng)
    log.speed = signals.centred(log.speed, make.uniform(0.15, 0.5), 0.1)
    return log


def median_slew(ride, make, rng):
    log = receivers.raw(10)(ride, make, rng)
    log.speed = signals.slew(signals.median(log.speed, 5), make.uniform(3.5, 9) * 0.1)
    return log


def clock_steps(ride, make, rng):
    log = receivers.raw(10)(ride, make, rng)
    count = int(rng.integers(2, 7))
    when, by = rng.choice(log.time[50:-50], count, replace=False), rng.choice((0.5, 1.0), count)

    def clock(time):
        return time + np.sum(by * (np.asarray(time)[..., None] >= when), axis=-1)
    return dataclasses.replace(log, time=clock(log.time), clock=clock)
