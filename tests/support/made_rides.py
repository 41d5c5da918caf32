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


def moved(lines, seconds):
    """The sentences so much later on their day."""
    out = []
    for line in lines:
        fields = line.strip()[1:-3].split(",")
        at = fields[1]  # in both kinds of sentence that these rides have
        later = int(at[:2]) * 3600 + int(at[2:4]) * 60 + int(at[4:6]) + seconds
        fields[1] = f"{later // 3600:02}{later // 60 % 60:02}{later % 60:02}{at[6:]}"
        out.append(sentence(",".join(fields)).strip())
    return out


def sections(first, second):
    return f"vehicle = Heron 125\n[{first}]\nsetup = as bought\n[{second}]\nsetup = new clutch springs\n"


def make_in_turns(folder, count):
    """A ride a day, each of two set-ups, one after the other in one log, told by sections of its conditions."""
    before, after = ((root / "fixtures/before-after" / side / "ride.nmea.gz") for side in ("before", "after"))
    first = gzip.decompress(before.read_bytes()).decode().splitlines()
    second = moved(gzip.decompress(after.read_bytes()).decode().splitlines(), 3600)
    for i in range(count):
        there = folder / f"{i // 100:03}" / f"{i:05}"
        there.mkdir(parents=True)
        (there / "conditions.ini").write_text(sections("09:00Z-10:00Z", "10:00Z-12:00Z"))
        on = date(2021, 1, 1) + timedelta(days=i)
        (there / "ride.nmea.gz").write_bytes(gzip.compress(ride(first + second, on, random.Random(i)), 6, mtime=0))


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
