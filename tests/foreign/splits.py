"""What is true of a start: its splits by both clocks, and on a level road in still air."""
import dataclasses

import numpy as np

import world

KMH, MPH = 1 / 3.6, 0.44704
ROLLOUT = 0.3048  # m, the foot after which the clock starts
SPLITS = (("0-30 km/h", 30 * KMH), ("0-30 mph", 30 * MPH), ("0-50 km/h", 50 * KMH), ("0-60 mph", 60 * MPH),
          ("30-50 km/h", (30 * KMH, 50 * KMH)))
MARKS = (("60 ft", 18.288), ("100 m", 100.0), ("201.168 m", 201.168))
NAMES = [name for name, _ in SPLITS + MARKS]


@dataclasses.dataclass
class Start:
    """A start from rest or from a roll: kind, time of first movement forward, s, and for a full one its true times, how
    long the feet pushed, s, and how fast it rolled back before, m/s."""
    kind: str
    time: float
    times: dict = dataclasses.field(default_factory=dict)
    movement: dict = dataclasses.field(default_factory=dict)
    still: dict = dataclasses.field(default_factory=dict)
    paddle: float = 0.0
    back: float = 0.0


def crossing(values, mark):
    """Index with its fraction at which a series first reaches a mark, or None."""
    above = values >= mark
    if not above.any():
        return None
    i = int(np.argmax(above))
    if i == 0:
        return 0.0
    return i - 1 + (mark - values[i - 1]) / (values[i] - values[i - 1])


def split_times(speed, travel):
    """True times, s, by the clock after the first foot and from first movement, of one start from rest."""
    foot = crossing(travel, ROLLOUT)
    moved = max(0, int(np.argmax(speed > 1e-6)) - 1)
    rollout, movement = {}, {}
    for name, mark in SPLITS + MARKS:
        if isinstance(mark, tuple):
            a, b = crossing(speed, mark[0]), crossing(speed, mark[1])
            if a is not None and b is not None:
                rollout[name] = movement[name] = (b - a) * world.STEP
            continue
        at = crossing(travel if (name, mark) in MARKS else speed, mark)
        if at is not None and foot is not None:
            rollout[name] = (at - foot) * world.STEP
            movement[name] = (at - moved) * world.STEP
    return rollout, movement


def still_times(vehicle, style):
    """Times, s, after the first foot of one start on a level road in still air."""
    motion = world.Motion(vehicle, world.Flat(), world.Still())
    motion.paddle(style)
    begin = motion.time
    while motion.time < 45 and (motion.travel < 210 or motion.speed < 27):
        motion.step(min(1.0, (motion.time - begin) / style.ramp), 0.0, style)
        if motion.travel > 500:
            break
    r = motion.record
    return split_times(np.array([0.0] + r["speed"]), np.array([0.0] + r["travel"]))[0]
