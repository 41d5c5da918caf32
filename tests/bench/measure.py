"""Programs run in turn, and what each round took."""
import os
import statistics
import subprocess
import sys
import time


class Sample:
    """One run of a command, or of several at once."""

    def __init__(self, wall_s, cpu_s, peak_mb):
        self.wall_s, self.cpu_s, self.peak_mb = wall_s, cpu_s, peak_mb


def run(*commands):
    """All of these at once, until the last has ended."""
    start = time.perf_counter()
    children = [subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) for command in commands]
    cpu_s, peak_mb = 0.0, 0.0
    for child, command in zip(children, commands):
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode != 0:
            sys.exit(f"{' '.join(map(str, command))}: exit {child.returncode}")
        cpu_s += usage.ru_utime + usage.ru_stime
        peak_mb = max(peak_mb, usage.ru_maxrss / 1024)
    return Sample(time.perf_counter() - start, cpu_s, peak_mb)


def in_turn(rows, rounds):
    """{name: [Sample a round]} of {name: [commands that run at once]}; the files are warm, for each runs once before."""
    taken = {name: [] for name in rows}
    for commands in rows.values():
        run(*commands)
    for _ in range(rounds):
        for name, commands in rows.items():
            taken[name].append(run(*commands))
    return taken


def median_of(samples, figure):
    return statistics.median(getattr(sample, figure) for sample in samples)


def ratios(samples, floor, figure):
    """Of each round with the floor of the same round."""
    return [getattr(a, figure) / getattr(b, figure) for a, b in zip(samples, floor)]


def row_of(name, samples, floor):
    """A line of a Markdown table: name, ms, ratio by the clock (least to most), ratio in CPU time, peak MB."""
    wall, cpu = ratios(samples, floor, "wall_s"), ratios(samples, floor, "cpu_s")
    return (f"| {name} | {1000 * median_of(samples, 'wall_s'):.0f} | {statistics.median(wall):.2f} "
            f"({min(wall):.2f} to {max(wall):.2f}) | {statistics.median(cpu):.2f} | {max(s.peak_mb for s in samples):.0f} |")


def table(title, taken, floor):
    """Markdown; `floor` is the row that the others are divided by."""
    lines = [f"| {title} | ms | times the floor, by the clock | in CPU time | peak MB |", "|---|---|---|---|---|"]
    lines += [row_of(name, samples, taken[floor]) for name, samples in taken.items()]
    return "\n".join(lines)
