"""Many rides from two: those of fixtures/before-after, each on a day of its own and with noise of its own, so that no two are alike."""
import gzip
import pathlib
import random
from datetime import date, timedelta

root = pathlib.Path(__file__).resolve().parents[2]


def sentence(body):
    total = 0
    for byte in body.encode():
        total ^= byte
    return f"${body}*{total:02X}\r\n"


def ride(lines, day, noise):
    """A log's sentences on another day, each speed a little off."""
    out = []
    for line in lines:
        fields = line.strip()[1:-3].split(",")
        if fields[0].endswith("RMC"):
            fields[9] = day.strftime("%d%m%y")
            fields[7] = f"{max(0.0, float(fields[7]) + noise.uniform(-0.02, 0.02)):.3f}"
        out.append(sentence(",".join(fields)))
    return "".join(out).encode()


def make(folder, count, a_setup):
    """A ride a day from 2021-01-01 on, so many with one set-up, each in a folder of its own."""
    sides = []
    for side in ("before", "after"):
        there = root / "fixtures/before-after" / side
        sides.append((gzip.decompress((there / "ride.nmea.gz").read_bytes()).decode().splitlines(),
                      (there / "conditions.ini").read_text()))
    for i in range(count):
        setup = i // a_setup
        lines, conditions = sides[setup % 2]
        there = folder / f"{i // 100:03}" / f"{i:05}"
        there.mkdir(parents=True)
        named = [line if not line.startswith("setup") else f"setup = number {setup + 1}" for line in conditions.splitlines()]
        (there / "conditions.ini").write_text("\n".join(named) + "\n")
        on = date(2021, 1, 1) + timedelta(days=i)
        (there / "ride.nmea.gz").write_bytes(gzip.compress(ride(lines, on, random.Random(i)), 6, mtime=0))
