#!/usr/bin/env python3
"""Compares the reader and the program with the floors, in interleaved rounds.

ratios.py BUILD [--megabytes 100] [--rounds 9] [--only gpx|nmea|runs]

Each round runs every program once on the same warmed file, the floor first. Printed for each: the median over rounds of its
time divided by the floor's time in the same round, by the clock and in CPU time (steadier on a busy machine), smallest and
largest, and peak memory. Tables are written as text, CSV and JSON lines. Last, the CPU time of finding and timing a run, from
`bothways_bench`. A spread (largest by smallest clock ratio) above 1.5 means: measure again on a quieter machine.
"""
import argparse
import json
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time


def run(command):
    """Wall seconds, CPU seconds, peak MB of one run."""
    start = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    wall_s = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: exit {child.returncode}")
    return wall_s, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def measure(commands, rounds):
    """{name: [(wall, cpu, MB) a round]}; the first of `commands` is the floor."""
    taken = {name: [] for name in commands}
    for command in commands.values():  # warms the file
        run(command)
    for _ in range(rounds):
        for name, command in commands.items():
            taken[name].append(run(command))
    return taken


def show(title, taken):
    floor = next(iter(taken))
    print(title)
    for name, rows in taken.items():
        wall = [row[0] / base[0] for row, base in zip(rows, taken[floor])]
        cpu = [row[1] / base[1] for row, base in zip(rows, taken[floor])]
        print(f"  {name:<32} {1000 * statistics.median(row[0] for row in rows):8.0f} ms"
              f"  x {statistics.median(wall):5.2f} (x {min(wall):.2f} to {max(wall):.2f})"
              f"  cpu x {statistics.median(cpu):5.2f} (x {min(cpu):.2f} to {max(cpu):.2f})"
              f"  peak {max(row[2] for row in rows):6.1f} MB", flush=True)


def show_runs(bench):
    """CPU time a run on each fixture of `bothways_bench`: median of five."""
    out = subprocess.run([bench, "--benchmark_filter=launch_fit", "--benchmark_format=json", "--benchmark_repetitions=5"],
                         stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True).stdout
    print("Finding and timing a run, CPU")
    for row in json.loads(out)["benchmarks"]:
        if row.get("aggregate_name") == "median":
            name = row["run_name"].split("/")[-1]
            print(f"  {name:<32} {1000 * row['s_a_run']:8.2f} ms a run  ({row['runs']:.0f} runs)", flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("--megabytes", default="100")
    parser.add_argument("--rounds", type=int, default=9)
    parser.add_argument("--only", choices=["gpx", "nmea", "runs"])
    options = parser.parse_args()
    bench = options.build / "tests" / "bench"
    tool = options.build / "cli" / "bothways"
    floors = {"gpx": "pull_empty", "nmea": "nmea_scan"}
    with tempfile.TemporaryDirectory() as folder:
        for kind, floor in floors.items():
            if options.only not in (None, kind):
                continue
            log = pathlib.Path(folder) / f"ride.{kind}"
            with open(log, "wb") as out:
                subprocess.run([bench / "make_log", kind, options.megabytes], stdout=out, check=True)
            commands = {floor: [bench / floor, log], "reading alone": [bench / "read_only", log]}
            if tool.exists():
                for form in ("text", "csv", "jsonl"):
                    commands[f"bothways fixes, {form}"] = [tool, "fixes", "--jobs", "1", "--format", form, log]
                commands["bothways"] = [tool, "--jobs", "1", log]
            show(f"{kind.upper()}, {options.megabytes} MB", measure(commands, options.rounds))
            log.unlink()
    if options.only in (None, "runs"):
        show_runs(bench / "bothways_bench")


main()
