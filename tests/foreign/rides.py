"""A ride: town, a few pairs of full-throttle starts, home; with the truth of every start."""
import dataclasses
import math

import numpy as np

import splits
import vehicles
import world


class Rider:
    """Rides a vehicle by simple rules, and notes each start."""

    def __init__(self, rng, motion, style, scatter):
        self.rng, self.motion, self.style, self.scatter = rng, motion, style, scatter
        self.starts = []
        # At the end of a stop riders ease the brake, more or less: a share of the slowing, from some speed on.
        self.end_share, self.end_speed = rng.uniform(0.25, 1.0), rng.uniform(0.5, 2.0)

    def pull(self, wanted, cap=1.0):
        """Throttle for an acceleration, m/s2."""
        m = self.motion
        against, rolling = m.resistance()
        need = wanted * m.vehicle.mass * (1 + m.vehicle.rotating) + against + rolling
        full = m.vehicle.full(m.speed, m.drive.gear)
        return min(cap, max(0.0, need / full)) if full > 1 else cap

    def can(self):
        """Acceleration, m/s2, that the vehicle has from rest here."""
        m = self.motion
        against, rolling = m.resistance()
        return (m.vehicle.full(2.0, 0) - against - rolling) / (m.vehicle.mass * (1 + m.vehicle.rotating))

    def stand(self, seconds):
        until = self.motion.time + seconds
        while self.motion.time < until:
            self.motion.step(0.0, 3.0, self.style)

    def stop(self, slowing=None, to=0.0):
        """Brakes down to a speed, as softly at the end as the rider does."""
        slowing = slowing or self.rng.uniform(1.2, 3.0)
        share = min(1.0, self.end_share * self.rng.uniform(0.8, 1.25))
        while self.motion.speed > to:
            soft = share + (1 - share) * min(1.0, self.motion.speed / self.end_speed)
            self.motion.step(0.0, slowing * soft, self.style)

    def ease(self, speed, share):
        """Accelerates at a share of what the vehicle can, up to a speed."""
        wanted = share * self.can()
        end = self.motion.time + 40
        while self.motion.speed < speed and self.motion.time < end:
            self.motion.step(self.pull(wanted, 0.65), 0.0, self.style)

    def cruise(self, metres, speed):
        """Holds a speed, not quite, for a distance; never across the ends of the road."""
        end = self.motion.travel + metres
        wave = self.rng.uniform(0, 6)
        while self.motion.travel < end:
            wanted = 0.5 * (speed + 0.4 * math.sin(self.motion.time / 3 + wave) - self.motion.speed)
            brake = max(0.0, -wanted - 0.3)
            self.motion.step(self.pull(max(wanted, -0.3), 0.65), brake, self.style)

    def mark(self, kind):
        self.starts.append(splits.Start(kind, self.motion.time))

    def settle(self):
        """Sets the time of the last start to its first movement."""
        begin = int(round(self.starts[-1].time / world.STEP))
        moving = np.array(self.motion.record["speed"][begin:]) > 1e-6
        if moving.any():
            self.starts[-1].time = (begin + int(np.argmax(moving))) * world.STEP

    def open(self, style, until):
        """Opens the throttle in full until a condition holds; from rest after paddling, if this start has it, or else
        the brake is let go just before."""
        if self.motion.speed == 0:
            self.motion.paddle(style)
        begin = self.motion.time + self.rng.uniform(0, 0.15) if self.motion.speed == 0 else self.motion.time
        late = begin + 40
        while not until() and self.motion.time < late:
            self.motion.step(min(1.0, max(0.0, (self.motion.time - begin) / style.ramp)), 0.0, style)

    def full_start(self, speed, metres):
        """A start that counts: in full until a speed or a distance."""
        style = self.style.varied(self.rng, self.scatter)
        if style.back:
            self.motion.roll_back(style)
        self.mark("full")
        first, from_ = len(self.motion.record["speed"]) - 1, self.motion.travel
        self.open(style, lambda: self.motion.speed >= speed or self.motion.travel - from_ >= metres)
        r = self.motion.record
        start = self.starts[-1]
        start.paddle, start.back = style.paddle, style.back
        start.times, start.movement = splits.split_times(np.array(r["speed"][first:]),
                                                         np.array(r["travel"][first:]) - from_)
        start.still = splits.still_times(self.motion.vehicle, style)
        self.settle()

    def traffic(self, limit):
        """A start that does not count, of a kind by chance, at rest before; ends rolling below `limit`."""
        kind = self.rng.choice(("gentle", "gentle", "brisk", "jab", "aborted", "rolling", "creep"))
        rng = self.rng
        self.mark(kind)
        if kind in ("gentle", "brisk"):
            share = rng.uniform(0.2, 0.4) if kind == "gentle" else rng.uniform(0.4, 0.55)
            self.ease(rng.uniform(0.6, 1.0) * limit, share)
        elif kind == "jab":
            self.jab(limit)
        elif kind == "aborted":
            self.ease(rng.uniform(1.5, 5), rng.uniform(0.3, 0.6))
            self.stop()
            self.settle()
            self.stand(rng.uniform(1, 5))
            self.mark("gentle")
            self.ease(rng.uniform(0.6, 1.0) * limit, rng.uniform(0.2, 0.4))
        elif kind == "rolling":
            self.roll(limit)
        else:
            for _ in range(rng.integers(1, 4)):
                self.ease(rng.uniform(0.6, 2.5), 0.2)
                self.stop()
                self.settle()
                self.stand(rng.uniform(0.4, 4))
                self.mark("creep")
            self.ease(rng.uniform(0.6, 1.0) * limit, rng.uniform(0.2, 0.4))
        self.settle()

    def jab(self, limit):
        """Full throttle, but let off well below the first mark; then on at ease."""
        off = self.rng.uniform(2.5, 6.5)
        self.open(self.style.varied(self.rng, self.scatter), lambda: self.motion.speed >= off)
        end = self.motion.time + self.rng.uniform(0.5, 2)
        while self.motion.time < end:
            self.motion.step(0.0, 0.4, self.style)
        self.settle()
        self.ease(self.rng.uniform(0.6, 1.0) * limit, self.rng.uniform(0.2, 0.4))

    def roll(self, limit):
        """Rolls off slowly, then full throttle from the roll."""
        self.ease(self.rng.uniform(2.5, 5), self.rng.uniform(0.2, 0.35))
        self.cruise(self.rng.uniform(4, 25), self.motion.speed)
        self.settle()
        self.mark("rolling")
        self.open(self.style.varied(self.rng, self.scatter), lambda: self.motion.speed >= limit)

    def turn(self):
        """Turns round at a walking pace."""
        self.stop(to=2.5)
        m = self.motion
        m.arc = (m.place, m.side, 0.0)
        while m.arc is not None:
            self.motion.step(self.pull(2 * (2.3 - m.speed), 0.5), 0.0, self.style)

    def through_town(self, to_place):
        """From stop to stop until a place on the road."""
        while True:
            left = (to_place - self.motion.place) * self.motion.direction
            if left < 150:
                break
            limit = min(self.rng.uniform(7, 13.5), 0.85 * self.motion.vehicle.top)
            self.traffic(limit)
            gone = self.rng.uniform(0, max(1.0, min(200.0, left - 140)))
            self.cruise(gone, min(limit, self.motion.speed + 1))
            self.stop()
            self.stand(self.rng.choice((0.6, 3, 8, 20)) * self.rng.uniform(0.6, 1.4))


@dataclasses.dataclass
class Ride:
    """What happened: arrays by time at 100 Hz, starts, and the vehicle's own time on a level road in still air."""
    vehicle: vehicles.Vehicle
    time: np.ndarray
    x: np.ndarray
    y: np.ndarray
    speed: np.ndarray
    course: np.ndarray
    starts: list
    own: dict
    rider: dict


def pairs_of_starts(rider, pairs, goal, metres):
    """Full-throttle starts out and back, in turns or two and two."""
    in_turns = rider.rng.uniform() < 0.75 or pairs % 2
    order = [1, -1] * pairs if in_turns else [1, 1, -1, -1] * (pairs // 2)
    for way in order:
        if rider.motion.direction != way:
            rider.cruise(rider.rng.uniform(2, 25), 4.0)
            rider.turn()
            rider.stop()
        rider.stand(rider.rng.uniform(3, 15))
        rider.full_start(goal * rider.rng.uniform(0.96, 1.04), metres)
        rider.stop()


def places(road, record):
    """Coordinates, m, and course, radians clockwise from north, of all steps."""
    place, side = np.array(record["place"]), np.array(record["side"])
    s = np.arange(len(road.x))
    heading = np.interp(place, s, road.heading)
    x = np.interp(place, s, road.x) - side * np.sin(heading)
    y = np.interp(place, s, road.y) + side * np.cos(heading)
    way = np.where(np.array(record["direction"]) > 0, 0.0, np.pi) + np.array(record["turned"])
    return x, y, np.mod(np.pi / 2 - heading - way, 2 * np.pi)


def simulate(rng, vehicle, style, scatter, day, pairs):
    """One ride. `day` is the factor of the day on the force; the vehicle's own time is without it."""
    metres = rng.uniform(150, 330)
    road = world.Road(rng, rng.uniform(500, 1500), 3000)
    motion = world.Motion(vehicle, road, world.Wind(rng), place=20.0)
    today = dataclasses.replace(style, strength=style.strength * day)
    rider = Rider(rng, motion, today, scatter)
    rider.stand(rng.uniform(10, 60))
    rider.through_town(road.town + 200)
    goal = min(rng.uniform(0.8, 0.97) * vehicle.top, rng.uniform(15, 29))
    rider.traffic(8)
    rider.cruise(rng.uniform(50, 150), min(8, motion.speed + 1))
    rider.stop()
    pairs_of_starts(rider, pairs, goal, metres)
    rider.stand(rng.uniform(3, 10))
    rider.traffic(9)
    if motion.direction > 0:
        rider.turn()
    rider.cruise(20, 8)
    rider.stop()
    rider.through_town(100)
    rider.stand(rng.uniform(5, 30))
    x, y, course = places(road, motion.record)
    speed = np.array(motion.record["speed"])
    count = 40 if style.paddles else 8  # starts of two sorts take more for a mean
    own = [splits.still_times(vehicle, style.varied(rng, scatter)) for _ in range(count)]
    mean = {name: float(np.mean([o[name] for o in own])) for name in splits.NAMES if all(name in o for o in own)}
    time = (np.arange(len(speed)) + 1) * world.STEP
    habits = {"end_share": rider.end_share, "end_speed": rider.end_speed, **dataclasses.asdict(style)}
    return Ride(vehicle, time, x, y, speed, course, rider.starts, mean, habits)
