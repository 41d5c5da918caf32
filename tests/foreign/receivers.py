"""Receivers: what each makes of a ride. The kinds, a sentence each, stand in kinds.py."""
import dataclasses

import numpy as np

import signals
import vehicles
import world


@dataclasses.dataclass
class Log:
    """Rows of a log: time, s since the begin of the ride; place, m; speed, m/s (or None); course, radians.

    `clock` gives the log's time of a true one where the log's clock does not run true.
    """
    time: np.ndarray
    x: np.ndarray
    y: np.ndarray
    speed: object
    course: np.ndarray
    form: str = "csv"
    step_speed: float = 0.0
    time_digits: int = 3
    digits: int = 7
    clock: object = None


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

    def hold_places(self, standing, tau):
        """Static hold of the places; they catch up with the time constant `tau`, s."""
        self.x, self.y = signals.freeze(np.column_stack((self.x, self.y)), standing, self.step, tau).T

    def log(self, speed, **more):
        course = self.course + np.where(self.true > 1, 0.01, 0.3) * self.rng.standard_normal(self.n)
        return Log(self.time, self.x, self.y, speed, course, **more)


def small(make):
    """Noise of a good receiver's speed, m/s."""
    return make.uniform(0.03, 0.1)


def exact(ride, make, rng):
    s = Sampled(ride, make, rng, 100, white=0.0)
    s.x, s.y = s.at(ride, ride.x), s.at(ride, ride.y)
    return s.log(np.abs(s.v), digits=9)


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


def tracked(ride, make, rng, accelerating, rate):
    """Samples with the places of a tracker, and its speed."""
    s = Sampled(ride, make, rng, rate, white=0.05)
    size, tau, slow = make.uniform(0.04, 0.12), make.uniform(0.1, 0.4), make.uniform(1, 4)
    way = (np.sin(s.course), np.cos(s.course))
    px, vx = signals.track(s.x, s.v * way[0] + size * rng.standard_normal(s.n), s.step, tau, slow, accelerating)
    py, vy = signals.track(s.y, s.v * way[1] + size * rng.standard_normal(s.n), s.step, tau, slow, accelerating)
    s.x, s.y = px, py
    return s, np.hypot(vx, vy)


def tracker(accelerating, rate=10):
    def receiver(ride, make, rng):
        s, speed = tracked(ride, make, rng, accelerating, rate)
        return s.log(speed, form="nmea")
    return receiver


def speed_hold(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    on = make.uniform(0.3, 1.0)
    return s.log(signals.hold(s.noisy(small(make)), on, on * make.uniform(0.5, 0.9), make.integers(1, 4)), form="nmea")


def static_hold(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    on = make.uniform(0.4, 1.0)
    speed = signals.hold(s.noisy(small(make)), on, 0.7 * on, 2)
    s.hold_places(speed == 0, make.uniform(0.4, 1.5))
    return s.log(speed, form="nmea")


def tracker_hold(rate):
    def receiver(ride, make, rng):
        s, speed = tracked(ride, make, rng, True, rate)
        on = make.uniform(0.3, 0.8)
        speed = signals.hold(speed, on, make.uniform(0.4, 0.8) * on, max(1, round(make.uniform(0.1, 0.4) * rate)))
        s.hold_places(speed == 0, make.uniform(0.4, 1.5))
        return s.log(speed, form="nmea")
    return receiver


def hold_half(ride, make, rng):
    s = Sampled(ride, make, rng, 10)
    return s.log(signals.hold(s.noisy(small(make)), 0.5, make.uniform(0.25, 0.5), make.integers(1, 3)), form="nmea")


def places_held(rate):
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate, white=0.01)
        on = make.uniform(0.3, 0.8)
        standing = signals.hold(s.noisy(small(make)), on, 0.6 * on, make.integers(1, 3)) == 0
        s.hold_places(standing, make.uniform(0.4, 0.8))
        return s.log(None, form="gpx")
    return receiver


def multipath(rate, form):
    """Reflections add to the noise, in whatever direction they come from."""
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate)
        along, across = signals.reflections(rng, s.time, make.uniform(8, 40))
        s.v = s.v + along
        return s.log(np.hypot(s.noisy(small(make)), across), form=form)
    return receiver


def aided(ride, make, rng):
    """The vehicle squats as it accelerates: the accelerometer then feels a share of gravity, too."""
    s = Sampled(ride, make, rng, 50, white=0.01)
    pitch = signals.first_order(make.uniform(-0.004, 0.012) * s.a, 0.15, s.step)
    felt = s.a + vehicles.GRAVITY * pitch + make.uniform(-0.1, 0.1) + 0.15 * rng.standard_normal(s.n)
    satellites = np.interp(s.time - make.uniform(0.05, 0.2), s.time, s.v) + signals.wandering(rng, s.n, s.step, 0.04, 2)
    speed = signals.complementary(felt, satellites, s.true < 0.02, s.step, make.uniform(0.5, 1.5))
    return s.log(np.maximum(speed, 0.0))


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
    s.hold_places(s.true < 0.4, make.uniform(1, 3))
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


def phone_ahead(ride, make, rng):
    """It adds what the speed will gain until the reading is shown, by the last two readings."""
    s, speed = phone_samples(ride, make, rng)
    speed = np.maximum(0.0, speed + make.uniform(0.2, 0.6) * np.diff(speed, prepend=speed[0]) / s.step)
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


def coarse(rate, step, form="csv"):
    def receiver(ride, make, rng):
        s = Sampled(ride, make, rng, rate)
        return s.log(s.noisy(make.uniform(0.02, 0.06)), form=form, step_speed=step)
    return receiver
