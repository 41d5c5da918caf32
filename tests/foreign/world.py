"""Road with bends and slopes, wind with gusts, and the motion of a vehicle on it."""
import math

import numpy as np

import vehicles

STEP = 0.01  # s
PADDLING = 0.9  # m/s: faster feet do not push
STRIDE = 0.45  # s


class Road:
    """A road through town, then a nearly straight one; per metre: slope (rising along it), bend, heading, place."""

    def __init__(self, rng, town, length):
        self.town = town
        self.length = length
        n = int(town + length) + 400
        s = np.arange(n)
        self.slope = self._slopes(rng, s, town).tolist()
        turn = self._bends(rng, s, town)
        self.bend = turn.tolist()
        self.heading = rng.uniform(0, 2 * np.pi) + np.cumsum(turn)
        self.x = np.concatenate(([0.0], np.cumsum(np.cos(self.heading))[:-1]))
        self.y = np.concatenate(([0.0], np.cumsum(np.sin(self.heading))[:-1]))

    @staticmethod
    def _slopes(rng, s, town):
        out = np.zeros(len(s))
        for length, size in ((60, 0.001), (150, 0.0025), (400, 0.004)):
            out += size * rng.standard_normal() * np.sin(2 * np.pi * (s / length + rng.uniform()))
        hills = 0.02 * np.sin(2 * np.pi * (s / rng.uniform(250, 600) + rng.uniform()))
        base = np.clip(0.008 * rng.standard_normal(), -0.02, 0.02)
        fade = np.clip((s - town) / 100, 0, 1)
        return out + base * fade + hills * (1 - fade)

    @staticmethod
    def _bends(rng, s, town):
        turn = np.zeros(len(s))
        at = 60.0
        while at < town - 80:
            long = rng.uniform(25, 70)
            turn[int(at):int(at + long)] += rng.uniform(-1.2, 1.2) / long
            at += long + rng.uniform(60, 250)
        turn[int(town):] += rng.choice((0.0, rng.uniform(-1, 1) / 1500))
        return turn


class Wind:
    """Wind along the road, m/s, against whoever rides along it; gusts of some seconds."""

    def __init__(self, rng, seconds=4000):
        total = min(6.0, rng.rayleigh(2.2))
        mean = total * math.cos(rng.uniform(0, 2 * math.pi))
        keep = math.exp(-1 / rng.uniform(3, 8))
        gusts = rng.standard_normal(seconds) * 0.25 * total * math.sqrt(1 - keep * keep)
        for i in range(1, seconds):
            gusts[i] += keep * gusts[i - 1]
        self.values = (mean + gusts).tolist()

    def at(self, time):
        i = min(int(time), len(self.values) - 2)
        part = min(time - i, 1.0)
        return self.values[i] * (1 - part) + self.values[i + 1] * part


class Still:
    """No wind."""

    @staticmethod
    def at(_time):
        return 0.0


class Flat:
    """A level road."""

    class _Level:
        def __getitem__(self, _place):
            return 0.0

    slope = bend = _Level()


class Motion:
    """A vehicle under way. Everything by time is recorded in lists, one figure a step."""

    def __init__(self, vehicle, road, wind, place=0.0):
        self.vehicle, self.road, self.wind = vehicle, road, wind
        self.drive = vehicles.Drive(vehicle)
        self.time, self.speed, self.place, self.travel = 0.0, 0.0, place, 0.0
        self.direction, self.side, self.arc = 1, -1.8, None
        self.record = {key: [] for key in ("speed", "place", "side", "direction", "travel", "turned")}

    def resistance(self):
        """Slope and air, N, and rolling, N, at this moment."""
        car = self.vehicle
        weight = car.mass * vehicles.GRAVITY
        air = self.speed + self.wind.at(self.time) * self.direction
        slope = self.road.slope[int(self.place)] * self.direction
        return weight * slope + 0.5 * vehicles.AIR * car.area * air * abs(air), weight * car.rolling

    def step(self, throttle, brake, style, feet=0.0):
        """One step of time: throttle 0 to 1, brake m/s2; feet push as hard as an acceleration, m/s2, takes."""
        car = self.vehicle
        push = self.drive.force(self.speed, throttle, style, STEP)
        against, rolling = self.resistance()
        holding = rolling + brake * car.mass
        net = push - against
        if self.speed > 0:
            net -= holding
        else:
            net = max(0.0, net - holding)
        gain = feet or net / (car.mass * (1 + car.rotating))
        self.carry(max(0.0, self.speed + gain * STEP))

    def carry(self, speed):
        """One step of time to a speed, m/s; below 0: backwards."""
        moved = 0.5 * (self.speed + speed) * STEP
        self.speed = speed
        self.travel += moved
        self.time += STEP
        self._move(moved)
        self._note()

    def paddle(self, style):
        """From rest, feet push stride by stride, for as long as this start has it, with the throttle shut."""
        begin = self.time
        while self.time - begin < style.paddle:
            push = style.stride * (1 - 0.8 * math.cos(2 * math.pi * (self.time - begin) / STRIDE))
            self.step(0.0, 0.0, style, push if self.speed < PADDLING else 0.0)

    def roll_back(self, style):
        """A few cm backwards, and at rest again."""
        steps = 45
        for i in range(1, steps):
            self.carry(-style.back * math.sin(math.pi * i / steps))
        self.carry(0.0)

    def _move(self, moved):
        """Along the road, or round the half circle of a turn."""
        if self.arc is None:
            self.place += self.direction * moved / (1 - self.side * self.road.bend[int(self.place)])
            return
        place, side, angle = self.arc
        angle = min(math.pi, angle + moved / abs(side))
        self.place = place + self.direction * abs(side) * math.sin(angle)
        self.side = side * math.cos(angle)
        self.arc = (place, side, angle)
        if angle >= math.pi:
            self.arc, self.direction = None, -self.direction

    def _note(self):
        r = self.record
        r["speed"].append(self.speed)
        r["place"].append(self.place)
        r["side"].append(self.side)
        r["direction"].append(self.direction)
        r["travel"].append(self.travel)
        r["turned"].append(self.arc[2] if self.arc else 0.0)
