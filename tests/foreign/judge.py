"""Runs the program and holds what it says against the truth."""
import dataclasses
import json
import os
import subprocess

import splits

SPLITS = ", ".join(splits.NAMES)
NEAR = 3.0  # s: a run belongs to a start no further away


@dataclasses.dataclass
class Figure:
    """One figure of the program beside the truth, s; `below` and `above`: errors that its interval allows."""
    kind: str
    ride: int
    what: str
    split: str
    error: float
    sd: float
    below: float
    above: float
    run: float = 0.0

    @property
    def held(self):
        return self.below <= self.error <= self.above

    @property
    def half(self):
        return 0.5 * (self.above - self.below)


@dataclasses.dataclass
class Verdict:
    """What one ride gave."""
    full: int = 0
    found: int = 0
    others: int = 0
    taken: int = 0
    figures: list = dataclasses.field(default_factory=list)
    trouble: list = dataclasses.field(default_factory=list)
    missed: list = dataclasses.field(default_factory=list)
    wrong_words: int = 0
    words: int = 0


def run(program, arguments, folder):
    """The program's JSON, or None; and what it said on the error stream, with its exit code."""
    env = dict(os.environ, XDG_CONFIG_HOME=str(folder), LC_ALL="C")
    command = [str(program), *map(str, arguments), "--splits", SPLITS, "--format", "json", "--jobs", "1"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=180, env=env, check=False)
    except subprocess.TimeoutExpired:
        return None, "no answer in 180 s", -1
    try:
        return json.loads(done.stdout), done.stderr, done.returncode
    except ValueError:
        return None, done.stderr, done.returncode


def figure(kind, ride, what, split, truth, row, at=0.0, stem="time"):
    """From a row of the output; `stem` is `time`, `movement_time` or `difference`."""
    lead = {"time": "", "movement_time": "movement_", "difference": ""}[stem]
    value, low, high = row[f"{stem}_s"], row[f"{lead}lo95_s"], row[f"{lead}hi95_s"]
    # Figures have thousandths of a second: what lies at the rounded end is inside.
    return Figure(kind, ride, what, split, value - truth, row[f"{lead}sd_s"], value - high - 0.0005,
                  value - low + 0.0005, at)


def nearest(starts, time):
    near = min(starts, key=lambda s: abs(s.time - time), default=None)
    return near if near and abs(near.time - time) <= NEAR else None


def judge_runs(verdict, kind, i, ride, output, begin):
    """Runs against starts; gives the start of each run by its number."""
    by_id, found = {}, set()
    for log in output["logs"]:
        for one in log["runs"]:
            at = one["start_unix_s"] - begin
            start = nearest(ride.starts, at)
            if start is None or start.kind != "full":
                verdict.taken += 1
                verdict.missed.append((kind, i, "taken", round(at, 2), start.kind if start else "nothing"))
                continue
            by_id[one["id"]] = start
            found.add(id(start))
            for row in one["splits"]:
                for stem, truth in (("time", start.times), ("movement_time", start.movement)):
                    if row["name"] in truth and f"{stem}_s" in row:
                        what = "run" if stem == "time" else "movement"
                        verdict.figures.append(figure(kind, i, what, row["name"], truth[row["name"]], row, at, stem))
    full = [s for s in ride.starts if s.kind == "full"]
    verdict.full, verdict.found = len(full), len(found)
    verdict.others = len(ride.starts) - len(full)
    for s in full:
        if id(s) not in found:
            verdict.missed.append((kind, i, "missed", round(s.time, 2), reason(output, begin, s)))
    return by_id


def reason(output, begin, start):
    """Why the program left a start out."""
    near = [r for log in output["logs"] for r in log["rejected"] if abs(r["start_unix_s"] - begin - start.time) < NEAR]
    return near[0]["code"] + ": " + near[0]["text"] if near else "not seen"


def judge_pairs(verdict, kind, i, ride, output, by_id):
    """Pairs and result against times on a level road in still air: of their starts, and of the vehicle."""
    for log in output["logs"]:
        for pair in log.get("pairs", ()):
            starts = [by_id.get(n) for n in pair["runs"]]
            if None in starts:
                continue
            for row in pair["splits"]:
                still = [s.still.get(row["name"]) for s in starts]
                if None not in still:
                    verdict.figures.append(figure(kind, i, "pair", row["name"], sum(still) / 2, row))
    for row in output.get("overall", ()):
        if row["name"] in ride.own:
            verdict.figures.append(figure(kind, i, "result", row["name"], ride.own[row["name"]], row))


def judge_ride(program, path, kind, i, ride, begin, folder):
    """All about one log."""
    verdict = Verdict()
    output, said, code = run(program, [path], folder)
    if code == 3 and output is None:
        output = {"logs": []}
    if output is None or code not in (0, 3):
        verdict.trouble.append(f"{kind}:{i}: exit code {code}: {said.strip()[:200]}")
        output = {"logs": []}
    by_id = judge_runs(verdict, kind, i, ride, output, begin)
    judge_pairs(verdict, kind, i, ride, output, by_id)
    return verdict


def judge_couple(program, paths, kind, i, before, after, folder):
    """Before against after: differences held, and words with the wrong sign."""
    verdict = Verdict()
    output, said, code = run(program, ["compare", *paths], folder)
    if output is None or code != 0:
        if code != 3:
            verdict.trouble.append(f"{kind}:{i}: compare: exit code {code}: {said.strip()[:200]}")
        return verdict
    for row in output["differences"]:
        name = row["name"]
        if name not in before or name not in after:
            continue
        truth = after[name] - before[name]
        verdict.figures.append(figure(kind, i, "difference", name, truth, row, stem="difference"))
        if row["verdict"] in ("quicker", "slower"):
            verdict.words += 1
            if (row["verdict"] == "quicker") != (truth < 0):
                verdict.wrong_words += 1
                verdict.missed.append((kind, i, "wrong word", name, f"{row['verdict']}, true {truth:+.3f} s"))
    return verdict
