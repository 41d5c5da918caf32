"""Kinds of receivers: what each makes of a ride. A kind is a function with one sentence in KINDS."""
import dataclasses

import numpy as np

import signals
import world


@dataclasses.dataclass
class Log:
    """Rows of a log: time, s since the begin of the ride; place, m; speed, m/s (or None); course, radians."""
    time: np.ndarray
    x: np.ndarray
    y: np.ndarray
    speed: object
    course: np.ndarray
    form: str = "csv"
    step_speed: float = 0.0
    time_digits: int = 3
    digits: int = 7


class Sampled:
    """Truth at a receiver's instants, with its errors of place; `make` is the device, `rng` the day."""

    def __init__(self, ride, make, rng, rate, smooth=None, white=0.02):
        self.make, self.rng, self.rate, self.step = make, rng, rate, 1 / rate
        begin = rng.uniform(0, 1) if rate <= 1 else rng.uniform(0, 0.2)
        self.time = np.arange(begin, ride.time[-1] - 0.2, self.step)
        smooth = smooth or (lambda values: values)
        x, y, v = smooth(ride.x), smooth(ride.y), smooth(ride.speed)
        n = len(self.time)
        wander, slow = make.uniform(0.7, 2.5), make.uniform(60, 200)
        self.x = self.at(ride, x) + signals.wandering(rng, n, self.step, wander, slow) + white * rng.standard_normal(n)
        self.y = self.at(ride, y) + signals.wandering(rng, n, self.step, wander, slow) + white * rng.standard_normal(n)
        self.v = self.at(ride, v)
        self.true = self.at(ride, ride.speed)
        self.a = np.gradient(self.true, self.step)
        index = np.searchsorted(ride.time, self.time).clip(0, len(ride.time) - 1)
        self.course = ride.course[index]
        self.n = n

    def at(self, ride, values):
        return np.interp(self.time, ride.time, values)

    def noisy(self, size):
        """Speed with white noise along and across the way: never below 0, as receivers give it."""
        return self.with_errors(size * self.rng.standard_normal(self.n), size * self.rng.standard_normal(self.n))

    def with_errors(self, along, across):
        return np.hypot(self.v + along, across * (self.true < 3) + 0.0)

    def log(self, speed, **more):
        course = self.course + np.where(self.true > 1, 0.01, 0.3) * self.rng.standard_normal(self.n)
        return Log(self.time, self.x, self.y, speed, course, **more)


def small(make):
    """Noise of a good receiver's speed, m/s."""
    return make.uniform(0.03, 0.1)


def exact(ride, make, rng):
    s = Sampled(ride, make, rng, 100, white=0.0)
    s.x, s.y = s.at(ride, ride.x), s.at(ride, ride.y)
    return s.log(s.v, digits=9)


def raw(rate, form="csv"):
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate)
        return s.log(s.noisy(small(make)), form=form)
    return receiver


def quiet_rest(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    size = np.where(s.true < 0.05, make.uniform(0.005, 0.02), make.uniform(0.05, 0.12))
    return s.log(s.noisy(size), form="nmea")


def pulling_noise(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    return s.log(s.noisy(make.uniform(0.03, 0.06) + make.uniform(0.02, 0.06) * np.abs(s.a)))


def heavy_tails(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    wild = signals.bursts(rng, s.n, make.uniform(0.02, 0.09), make.uniform(4, 9), make.uniform(1, 8))
    return s.log(s.noisy(small(make) * wild), form="nmea")


def correlated(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    size, tau = make.uniform(0.04, 0.12), make.uniform(0.3, 3)
    errors = [signals.wandering(rng, s.n, s.step, size, tau) + 0.02 * rng.standard_normal(s.n) for _ in range(2)]
    return s.log(s.with_errors(*errors))


def filtered(kind, rate=10, form="csv"):
    def receiver(ride, make, rng):
        delay = make.uniform(0.1, 0.4)
        smooth = {"first": lambda v: signals.first_order(v, delay, world.STEP),
                  "second": lambda v: signals.second_order(v, delay, world.STEP),
                  "mean": lambda v: signals.moving_average(v, 2 * delay, world.STEP)}[kind]
        s = Sampled(ride, make, rng, rate, smooth)
        return s.log(s.noisy(make.uniform(0.02, 0.06)), form=form)
    return receiver


def tracker(accelerating, rate=10):
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate, white=0.05)
        size, tau, slow = make.uniform(0.04, 0.12), make.uniform(0.1, 0.4), make.uniform(1, 4)
        way = (np.sin(s.course), np.cos(s.course))
        px, vx = signals.track(s.x, s.v * way[0] + size * rng.standard_normal(s.n), s.step, tau, slow, accelerating)
        py, vy = signals.track(s.y, s.v * way[1] + size * rng.standard_normal(s.n), s.step, tau, slow, accelerating)
        s.x, s.y = px, py
        return s.log(np.hypot(vx, vy), form="nmea")
    return receiver


def speed_hold(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    on = make.uniform(0.3, 1.0)
    return s.log(signals.hold(s.noisy(small(make)), on, on * make.uniform(0.5, 0.9), make.integers(1, 4)), form="nmea")


def static_hold(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    on = make.uniform(0.4, 1.0)
    speed = signals.hold(s.noisy(small(make)), on, 0.7 * on, 2)
    frozen = signals.freeze(np.column_stack((s.x, s.y)), speed == 0, s.step, make.uniform(0.4, 1.5))
    s.x, s.y = frozen.T
    return s.log(speed, form="nmea")


def phone_samples(ride, make, rng, speed=True, delay=None):
    """Samples of a phone, one a second; its speed is smoothed, noisy, the more the harder it pulls, and 0 at rest."""
    tau = make.uniform(0, 0.6)
    s = Sampled(ride, make, rng, 1, lambda v: signals.first_order(v, tau, world.STEP))
    n = s.n
    own = signals.wandering(rng, n, 1, 1, make.uniform(0.3, 2)) if make.uniform() < 0.5 else rng.standard_normal(n)
    size = make.uniform(0.08, 0.25) * (1 + make.uniform(0, 0.5) * np.abs(s.a))
    on = make.uniform(0.3, 0.9)
    if delay:
        s.v = np.interp(s.time - delay, s.time, s.v)
    frozen = signals.freeze(np.column_stack((s.x, s.y)), s.true < 0.4, 1, make.uniform(1, 3))
    s.x, s.y = frozen.T
    return s, (signals.hold(s.with_errors(size * own, 0.0), on, 0.8 * on, 1) if speed else None)


def phone(stamps):
    def receiver(ride, make, rng):
        s, speed = phone_samples(ride, make, rng)
        if stamps == "whole":
            s.time = np.floor(s.time)
        if stamps == "jitter":
            late = make.uniform(0.02, 0.12) * rng.exponential(1, s.n)
            s.time = s.time + np.minimum(late, 0.6)
        return s.log(speed, form="gpx", time_digits=0 if stamps == "whole" else 3, digits=7, step_speed=0.01)
    return receiver


def phone_late(ride, make, rng):
    s, speed = phone_samples(ride, make, rng, delay=make.uniform(0.3, 1.0))
    return s.log(speed, form="gpx", step_speed=0.01)


def phone_mean(ride, make, rng):
    """Its app writes the mean of the last two or three readings, or one in which each has a share less than the next."""
    s, speed = phone_samples(ride, make, rng)
    kind = make.integers(3)
    shares = (np.full(2, 1 / 2), np.full(3, 1 / 3), 0.4 ** np.arange(8) * 0.6)[kind]
    mean = np.convolve(np.concatenate((np.full(len(shares) - 1, speed[0]), speed)), shares, mode="valid")
    return s.log(mean, form="gpx", digits=7, step_speed=0.01)


def phone_positions(ride, make, rng):
    s, _ = phone_samples(ride, make, rng, speed=False)
    error = [signals.wandering(rng, s.n, 1, make.uniform(0.2, 0.6), 3) * np.minimum(1, s.true / 2) for _ in range(2)]
    s.x, s.y = s.x + error[0], s.y + error[1]
    return s.log(None, form="gpx")


def watch(ride, make, rng):
    s = Sampled(ride, make, rng, 1)
    s.time = np.floor(s.time)
    return s.log(s.noisy(small(make)), form="gpx", time_digits=0)


def chosen(log, keep):
    """Only some rows of a log."""
    return dataclasses.replace(log, time=log.time[keep], x=log.x[keep], y=log.y[keep], speed=log.speed[keep],
                               course=log.course[keep])


def dropped(ride, make, rng):
    log = raw(10, "nmea")(ride, make, rng)
    lost = signals.bursts(rng, len(log.time), make.uniform(0.005, 0.04), 2, make.uniform(1, 4)) > 1
    return chosen(log, ~lost)


def repeated(ride, make, rng):
    log = raw(10)(ride, make, rng)
    twice = 1 + (rng.uniform(size=len(log.time)) < make.uniform(0.02, 0.15))
    return chosen(log, np.repeat(np.arange(len(log.time)), twice))


def polled(rate):
    """Asked ten times a second."""
    def receiver(ride, make, rng):
        log = raw(rate)(ride, make, rng)
        times = 10 // rate
        again = chosen(log, np.repeat(np.arange(len(log.time)), times))
        again.time = again.time + 0.1 * (np.arange(len(again.time)) % times)
        return again
    return receiver


def coarse(rate, step, form="csv"):
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate)
        return s.log(s.noisy(make.uniform(0.02, 0.06)), form=form, step_speed=step)
    return receiver


def drawn(ride, make, rng):
    log = raw(1)(ride, make, rng)
    time = np.arange(log.time[0], log.time[-1], 0.2)
    between = [np.interp(time, log.time, v) for v in (log.x, log.y, log.speed)]
    return Log(time, *between, np.interp(time, log.time, np.unwrap(log.course)), "csv")


KINDS = {
    "exact": (exact, "The truth, 100 rows a second, for the check of the bench itself."),
    "raw-5": (raw(5), "Raw Doppler speed with white noise, 5 Hz, CSV."),
    "raw-10": (raw(10, "nmea"), "Raw Doppler speed with white noise, 10 Hz, NMEA."),
    "raw-18": (raw(18), "Raw Doppler speed with white noise, 18 Hz, CSV."),
    "raw-25": (raw(25, "nmea"), "Raw Doppler speed with white noise, 25 Hz, NMEA."),
    "quiet-rest": (quiet_rest, "Noise many times smaller at rest than in motion, 10 Hz."),
    "pulling-noise": (pulling_noise, "Noise that grows with the acceleration, 10 Hz."),
    "heavy-tails": (heavy_tails, "Bursts of noise four to nine times as large, 2 to 9 % of the time, 10 Hz."),
    "correlated": (correlated, "Noise correlated over 0.3 to 3 s, 10 Hz."),
    "filter-first": (filtered("first"), "Low pass of first order, 0.1 to 0.4 s, over speed and places, 10 Hz."),
    "filter-second": (filtered("second", 10, "nmea"), "Low pass of second order, delay 0.1 to 0.4 s, 10 Hz."),
    "filter-mean": (filtered("mean"), "Moving average with a delay of 0.1 to 0.4 s, 10 Hz."),
    "filter-first-5": (filtered("first", 5, "gpx"), "Low pass of first order, 0.1 to 0.4 s, 5 Hz, GPX."),
    "tracker-speed": (tracker(False), "Tracker of place and speed, 0.1 to 0.4 s, 10 Hz."),
    "tracker-pull": (tracker(True), "Tracker of place, speed and acceleration that overshoots, 0.1 to 0.4 s, 10 Hz."),
    "tracker-pull-5": (tracker(True, 5), "The same at 5 Hz."),
    "speed-hold": (speed_hold, "Speed 0 below 0.3 to 1 m/s with hysteresis and a wait, 10 Hz."),
    "static-hold": (static_hold, "Speed 0 and places frozen at rest, which catch up within 1 to 4 s, 10 Hz."),
    "watch": (watch, "Raw speed once a second, stamps of whole seconds, GPX."),
    "phone": (phone("ms"), "Phone, 1 Hz: smoothed, noisy, 0 at rest, GPX with milliseconds."),
    "phone-whole": (phone("whole"), "The same with stamps of whole seconds."),
    "phone-jitter": (phone("jitter"), "The same with stamps late by a varying 20 to 600 ms."),
    "phone-late": (phone_late, "The same with a speed 0.3 to 1 s later than its places."),
    "phone-mean": (phone_mean, "The same with a speed that an app has averaged over its last readings."),
    "phone-positions": (phone_positions, "Phone that writes places only, frozen at rest, 1 Hz."),
    "dropped": (dropped, "Raw 10 Hz of which 0.5 to 4 % of the rows are lost, alone or a few together."),
    "repeated": (repeated, "Raw 10 Hz of which 2 to 15 % of the rows stand twice."),
    "polled": (polled(5), "Raw 5 Hz asked ten times a second: each reading again 0.1 s later."),
    "polled-1": (polled(1), "Raw 1 Hz asked ten times a second."),
    "coarse-knots": (coarse(5, 0.1 * 1852 / 3600, "nmea"), "Speed in steps of 0.1 knots, 5 Hz."),
    "coarse-half": (coarse(10, 0.5 / 3.6), "Speed in steps of 0.5 km/h, 10 Hz."),
    "coarse-kmh": (coarse(10, 1 / 3.6), "Speed in steps of 1 km/h, 10 Hz."),
    "drawn": (drawn, "1 Hz drawn out to 5 Hz by straight lines."),
}
