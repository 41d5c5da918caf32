#!/usr/bin/env python3
"""How long a logbook takes the first time, the second, and after a ride was added, on a tree that is made here.

logbook.py [--in-turns] PROGRAM [RIDES [FOLDER]]: a ride a day on one vehicle, a set-up of 25 rides, or with --in-turns two set-ups in each
log, told by sections of its conditions. The tree and the cache lie in FOLDER, which is kept where it is named.
"""
import gzip
import os
import pathlib
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta

sys.path.append(str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import made_rides  # noqa: E402

A_SETUP = 25


def timed(what, program, rides, cache, *more):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.monotonic()
    out = subprocess.run([program, "logbook", rides, *more], check=True, stdout=subprocess.PIPE,
                         env=dict(os.environ, XDG_CACHE_HOME=str(cache))).stdout
    wall = time.monotonic() - start
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(f"{what:34} {wall:8.2f} s wall {after.ru_utime - before.ru_utime:8.2f} s user "
          f"{after.ru_stime - before.ru_stime:6.2f} s system", flush=True)
    return out


def measure(program, count, folder, in_turns):
    rides, cache = folder / "rides", folder / "cache"
    if not rides.exists():
        made_rides.make_in_turns(rides, count) if in_turns else made_rides.make(rides, count, A_SETUP)
    first = timed(f"{count} rides, the first time", program, rides, cache)
    for more in ([], [], ["--format", "csv"], ["--format", "json"]):
        second = timed(f"the second time {' '.join(more)}", program, rides, cache, *more)
        assert more or second == first
    lines = gzip.decompress((rides / "000/00000/ride.nmea.gz").read_bytes()).decode().splitlines()
    added = rides / "added"
    added.mkdir()
    last = rides / f"{(count - 1) // 100:03}/{count - 1:05}"
    (added / "conditions.ini").write_text((last / "conditions.ini").read_text())
    on = date(2021, 1, 1) + timedelta(days=count)
    (added / "ride.nmea").write_bytes(made_rides.ride(lines, on, random.Random(-1)))
    timed("with a ride added", program, rides, cache)
    for file in added.iterdir():
        file.unlink()
    added.rmdir()
    size = sum(file.stat().st_size for file in cache.rglob("*") if file.is_file())
    print(f"the cache takes {size / 1e6:.1f} MB")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--in-turns"]
    in_turns = len(arguments) < len(sys.argv) - 1
    program = str(pathlib.Path(arguments[0]).resolve())
    count = int(arguments[1]) if len(arguments) > 1 else 1000
    if len(arguments) > 2:
        measure(program, count, pathlib.Path(arguments[2]).resolve(), in_turns)
        return
    with tempfile.TemporaryDirectory() as folder:
        measure(program, count, pathlib.Path(folder), in_turns)


if __name__ == "__main__":
    main()
