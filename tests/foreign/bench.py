"""Rides of many kinds of receivers against the program; see README.md."""
import argparse
import collections
import dataclasses
import json
import math
import multiprocessing
import pathlib
import sys
import tempfile
import zlib

try:
    import numpy as np
except ImportError:
    print("skipped: python3-numpy is missing")
    sys.exit(77)

import judge
import kinds
import rides
import splits
import vehicles
import writers

CHANGES = (0.0, 0.0, 0.02, -0.02, 0.04, -0.04, 0.08, -0.08)


def streams(seed, kind, number):
    """Random streams of a couple of rides and of one ride of it."""
    key = zlib.crc32(kind.encode())
    return (np.random.default_rng([seed, key, 0, number // 2]), np.random.default_rng([seed, key, 1, number]))


def make_ride(seed, kind, number, folder):
    """Simulates one ride and writes its log. Two rides are a couple: one vehicle, before and after a change."""
    couple, own = streams(seed, kind, number)
    sort = kinds.KINDS[kind]
    vehicle = sort.vehicles[couple.integers(len(sort.vehicles))](couple)
    style = vehicles.Style(1.0, vehicle.launch * couple.uniform(0.8, 1.3), couple.uniform(0.08, 0.35), vehicle.shift)
    scatter, change = couple.uniform(0.003, 0.015), couple.choice(CHANGES)
    if number % 2:
        style = dataclasses.replace(style, strength=1 + change)
    if sort.feet:
        style = dataclasses.replace(style, paddles=couple.uniform(0.2, 0.6), rolls=couple.uniform(0.1, 0.4))
    device, place, dress = [np.random.default_rng(couple.integers(2 ** 63, size=2)) for _ in range(3)]
    day = 1 + 0.005 * own.standard_normal()
    ride = rides.simulate(own, vehicle, style, scatter, day, int(own.integers(2, 5)))
    begin = float(1_767_225_600 + int(own.integers(0, 300)) * 86_400 + int(own.integers(6, 20)) * 3600
                  + int(own.integers(0, 3600)))
    log = sort.log(ride, device, own)
    if log.clock:
        ride.starts = [dataclasses.replace(s, time=float(log.clock(s.time))) for s in ride.starts]
    lag = device.uniform(0, 0.15)
    path = writers.write(dataclasses.replace(log, time=log.time + lag), begin, writers.Place(place), dress, folder,
                         f"{kind}-{number}")
    return ride, path, begin + lag


def keep_truth(path, ride, begin):
    """Beside the log: what is true of it."""
    starts = [dict(dataclasses.asdict(s), unix=begin + s.time) for s in ride.starts]
    truth = {"vehicle": dataclasses.asdict(ride.vehicle), "rider": ride.rider, "begin_unix_s": begin, "own": ride.own,
             "starts": starts}
    path.with_suffix(".truth.json").write_text(json.dumps(truth, indent=1, default=float))


def work(task):
    """One couple, or one ride alone: simulate, run, judge."""
    program, seed, kind, numbers, keep = task
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(keep or temporary)
        made, verdicts = [], []
        for number in numbers:
            ride, path, begin = make_ride(seed, kind, number, folder)
            made.append((ride, path))
            verdicts.append(judge.judge_ride(program, path, kind, number, ride, begin, pathlib.Path(temporary)))
            if keep:
                keep_truth(path, ride, begin)
        if len(made) == 2:
            verdicts.append(judge.judge_couple(program, [p for _, p in made], kind, numbers[0], made[0][0].own,
                                               made[1][0].own, pathlib.Path(temporary)))
    return kind, len(numbers), verdicts


def mean(values):
    return float(np.mean(values)) if values else math.nan


class Row:
    """Counts of one kind, or of all."""

    def __init__(self, name):
        self.name, self.rides, self.verdicts = name, 0, []

    def add(self, count, verdicts):
        self.rides += count
        self.verdicts += verdicts

    def sum(self, key):
        return sum(getattr(v, key) for v in self.verdicts)

    def all(self, key):
        return [x for v in self.verdicts for x in getattr(v, key)]

    def figures(self, what, split=None):
        return [f for f in self.all("figures") if f.what == what and split in (None, f.split)]

    @property
    def found(self):
        return 100 * self.sum("found") / max(1, self.sum("full"))

    @property
    def taken(self):
        return 100 * self.sum("taken") / max(1, self.sum("others"))

    def held(self, what, split=None):
        figures = self.figures(what, split)
        return 100 * sum(f.held for f in figures) / len(figures) if figures else math.nan

    def cells(self):
        runs, first = self.figures("run"), self.figures("run", splits.NAMES[0])
        z2 = mean([(f.error / max(f.sd, 0.0005)) ** 2 for f in runs])
        return [self.name, str(self.rides), str(self.sum("full")), f"{self.found:.1f}", f"{self.taken:.1f}",
                f"{self.held('run'):.1f}", f"{self.held('run', splits.NAMES[0]):.1f}",
                f"{mean([f.error for f in first]):+.3f}", f"{mean([f.half for f in first]):.3f}", f"{z2:.2f}",
                f"{self.held('movement'):.1f}", f"{self.held('pair'):.1f}", f"{self.held('result'):.1f}",
                f"{self.held('difference'):.1f}", f"{self.sum('wrong_words')}/{self.sum('words')}"]


HEAD = ["kind", "rides", "starts", "found %", "others taken %", "held %", "held 0-30 km/h %", "bias s", "half width s",
        "(error/sd)²", "movement held %", "pairs held %", "results held %", "differences held %", "wrong words"]


def table(rows, markdown):
    """Lines of text, or of Markdown."""
    cells = [HEAD] + [r.cells() for r in rows]
    if markdown:
        lines = ["| " + " | ".join(c) + " |" for c in cells]
        return [lines[0], "|" + "---|" * len(HEAD), *lines[1:]]
    wide = [max(len(c[k]) for c in cells) for k in range(len(HEAD))]
    return ["  ".join(c[k].ljust(wide[k]) if k == 0 else c[k].rjust(wide[k]) for k in range(len(HEAD))) for c in cells]


def worst(row, count):
    """The figures furthest outside their interval, and starts missed or taken."""
    figures = [f for f in row.all("figures") if not f.held]
    figures.sort(key=lambda f: -abs(f.error) / max(f.half, 0.001))
    seen = collections.Counter()
    for f in figures:
        seen[f.kind, f.ride] += 1
        if seen[f.kind, f.ride] > 2 or sum(min(n, 2) for n in seen.values()) > count:
            continue  # two of a ride are enough
        yield (f"{f.kind}:{f.ride} {f.what} at {f.run:.1f} s, {f.split}: error {f.error:+.3f} s, "
               f"half width {f.half:.3f} s")
    for kind, ride, what, at, why in row.all("missed")[:count]:
        yield f"{kind}:{ride} {what} at {at}: {why}"


def check(row):
    """What is below the limits of the test, in words."""
    if row.found < 90:
        yield f"found {row.found:.1f} % of the full-throttle starts; at least 90 are wanted"
    if not row.held("run") >= 85:
        yield f"held {row.held('run'):.1f} % of the times; at least 85 are wanted"
    if row.taken > 5:
        yield f"took {row.taken:.1f} % of the other starts; 5 are allowed"
    yield from row.all("trouble")


def arguments():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--program", required=True, type=pathlib.Path)
    parser.add_argument("--rides", type=int, default=20, help="rides of each kind")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kinds", help="names with commas between; all but exact by default")
    parser.add_argument("--only", metavar="KIND:I", help="one ride alone")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--markdown", type=pathlib.Path, metavar="FILE")
    parser.add_argument("--keep", type=pathlib.Path, metavar="DIR", help="keep logs and truths")
    parser.add_argument("--worst", type=int, default=0, metavar="N")
    parser.add_argument("--check", action="store_true", help="exit code 1 if the limits of the test are not met")
    return parser.parse_args()


def tasks_of(options, names):
    if options.keep:
        options.keep.mkdir(parents=True, exist_ok=True)
    if options.only:
        kind, number = options.only.split(":")
        return [(options.program.resolve(), options.seed, kind, [int(number)], options.keep)]
    return [(options.program.resolve(), options.seed, kind, [i, i + 1][:options.rides - i], options.keep)
            for i in range(0, options.rides, 2) for kind in names]


def main():
    options = arguments()
    names = options.kinds.split(",") if options.kinds else [k for k in kinds.KINDS if not k.startswith("exact")]
    if options.only:
        names = [options.only.split(":")[0]]
    unknown = [k for k in names if k not in kinds.KINDS]
    if unknown or not options.program.is_file():
        sys.exit(f"no such kind: {', '.join(unknown)}" if unknown else f"no program at {options.program}")
    rows, pooled = {k: Row(k) for k in names}, Row("all")
    with multiprocessing.Pool(options.jobs) as pool:
        for kind, count, verdicts in pool.imap(work, tasks_of(options, names)):
            rows[kind].add(count, verdicts)
            pooled.add(count, verdicts)
    shown = [*rows.values(), pooled]
    print("\n".join(table(shown, False)))
    print("\n".join([*worst(pooled, options.worst), *pooled.all("trouble")]))
    if options.markdown:
        options.markdown.write_text("\n".join(table(shown, True)) + "\n", encoding="utf-8")
    faults = list(check(pooled)) if options.check else []
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
