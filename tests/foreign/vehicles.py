"""Vehicles: how hard they push, what holds them back. Figures are orders of magnitude from memory, not of a make."""
import dataclasses
import math

GRAVITY = 9.80665
AIR = 1.2  # kg/m3


@dataclasses.dataclass
class Vehicle:
    """One vehicle with its rider: kg, m2, N, W, m/s, s. `gears` are the top speeds of the gears; empty: stepless."""
    name: str
    mass: float
    area: float
    rolling: float
    pull: float
    power: float
    top: float
    launch: float
    gears: tuple = ()
    shift: float = 0.3
    grip: float = 0.6
    dip: float = 0.0
    rotating: float = 0.05

    def full(self, speed, gear):
        """Force at the wheel, N, with the throttle open."""
        if self.gears:
            turn = speed / self.gears[gear]
            if gear == 0:
                turn = max(turn, 0.4)  # the clutch slips
            force = self.pull * self.gears[0] / self.gears[gear] * (1 - 0.8 * (turn - 0.65) ** 2)
        else:
            force = min(self.pull, self.power / max(speed, 0.5))
            if self.dip:
                force *= 1 - self.dip * math.exp(-((speed - 5.5) / 1.5) ** 2)
        if speed > self.top:
            force *= max(0.0, 1 - (speed - self.top) / 0.8)
        return min(force, self.grip * self.mass * GRAVITY)


def two_stroke_scooter(rng):
    return Vehicle("two-stroke scooter", rng.uniform(155, 190), rng.uniform(0.5, 0.65), 0.016, rng.uniform(360, 480),
                   rng.uniform(3200, 5200), 24, rng.uniform(0.1, 0.4), dip=rng.uniform(0, 0.2))


def moped(rng):
    low = rng.uniform(5, 6)
    return Vehicle("moped", rng.uniform(145, 175), 0.55, 0.016, rng.uniform(420, 520), 0, rng.uniform(12.6, 16.5),
                   rng.uniform(0.1, 0.3), (low, 1.5 * low, 2.05 * low, 2.7 * low), rng.uniform(0.3, 0.5))


def small_motorcycle(rng):
    low = rng.uniform(7.5, 9)
    return Vehicle("125 motorcycle", rng.uniform(190, 225), 0.55, 0.016, rng.uniform(650, 800), 0, 29,
                   rng.uniform(0.08, 0.25), (low, 1.55 * low, 2.1 * low, 2.7 * low, 3.3 * low), rng.uniform(0.2, 0.4))


def big_motorcycle(rng):
    return Vehicle("600 motorcycle", rng.uniform(260, 300), 0.5, 0.015, rng.uniform(2400, 3000), 0, 60,
                   rng.uniform(0.1, 0.3), (26, 36, 46, 56, 64), rng.uniform(0.12, 0.3), rng.uniform(0.45, 0.65))


def electric_scooter(rng):
    return Vehicle("electric scooter", rng.uniform(165, 210), 0.6, 0.015, rng.uniform(300, 520),
                   rng.uniform(2800, 6000), rng.uniform(12.4, 24), rng.uniform(0.1, 0.4))


def kart(rng):
    return Vehicle("kart", rng.uniform(150, 180), 0.45, 0.022, rng.uniform(650, 950), rng.uniform(5500, 9000), 26,
                   rng.uniform(0.1, 0.3), grip=0.7)


def old_car(rng):
    low = rng.uniform(11, 13)
    return Vehicle("old car", rng.uniform(750, 1150), 0.8, 0.014, rng.uniform(3000, 4200), 0, 45,
                   rng.uniform(0.1, 0.3), (low, 1.75 * low, 2.6 * low, 3.6 * low), rng.uniform(0.4, 0.8), 0.45)


LIGHT = (two_stroke_scooter, moped, electric_scooter)  # light enough to be pushed with the feet
ALL = (two_stroke_scooter, moped, small_motorcycle, big_motorcycle, electric_scooter, kart, old_car)


@dataclasses.dataclass
class Style:
    """One start: share of the usual force; time, s, of the clutch, of opening the throttle, of a change of gear.

    `paddles` and `rolls` are the shares of the rider's starts with paddling and with rolling back. Of this one:
    `paddle`, s, and `stride`, m/s2, how long and how hard the feet push before the throttle; `back`, m/s, how fast it
    rolls back.
    """
    strength: float = 1.0
    launch: float = 0.3
    ramp: float = 0.2
    shift: float = 0.3
    paddles: float = 0.0
    rolls: float = 0.0
    paddle: float = 0.0
    stride: float = 0.0
    back: float = 0.0

    def varied(self, rng, scatter):
        """The same rider's next start; `scatter` is the relative sd of the force."""
        start = dataclasses.replace(self, strength=self.strength * (1 + scatter * rng.standard_normal()),
                                    launch=self.launch * math.exp(0.15 * rng.standard_normal()),
                                    ramp=self.ramp * math.exp(0.25 * rng.standard_normal()),
                                    shift=self.shift * math.exp(0.15 * rng.standard_normal()))
        if self.paddles and rng.uniform() < self.paddles:
            start.paddle, start.stride = rng.uniform(0.4, 1.1), rng.uniform(0.4, 1.0)
        if self.rolls and rng.uniform() < self.rolls:
            start.back = rng.uniform(0.1, 0.3)
        return start


class Drive:
    """Engine, clutch and gears between throttle and wheel."""

    def __init__(self, vehicle):
        self.vehicle = vehicle
        self.taken = 0.0
        self.gear = 0
        self.wait = 0.0

    def change_gear(self, speed, throttle, style, step):
        """Goes up near the top of a gear, down without delay."""
        gears = self.vehicle.gears
        up = 0.97 if throttle > 0.7 else 0.6
        if self.wait > 0:
            self.wait -= step
        elif self.gear + 1 < len(gears) and speed > up * gears[self.gear] and throttle > 0.05:
            self.gear += 1
            self.wait = style.shift
        while self.gear > 0 and speed < 0.3 * gears[self.gear]:
            self.gear -= 1

    def force(self, speed, throttle, style, step):
        """Force at the wheel, N, after one more step of time, s."""
        if self.vehicle.gears:
            self.change_gear(speed, throttle, style, step)
            if self.wait > 0:
                throttle = 0.0
        if throttle < self.taken:
            lag = 0.05
        else:
            lag = style.launch if speed < 2.5 else 0.08
        self.taken += (throttle - self.taken) * min(1.0, step / lag)
        return self.taken * style.strength * self.vehicle.full(speed, self.gear)
