#!/usr/bin/env python3
"""Do the tests bite? Plants the faults of faults.txt one by one in a copy of the source, builds, and runs the fast
tests but those that only compare text with text that was accepted ([golden]), and those on real logs.

    tests/mutation/mutate.py                     all faults; exit code 1 if one survives or no longer fits the code
    tests/mutation/mutate.py --only jolts        those whose name contains the text (may be repeated)
    tests/mutation/mutate.py --check             only whether each fits the code
    tests/mutation/mutate.py --work DIR          where to copy and build (build/mutation), kept for the next time

A fault is killed by the test that faults.txt names, or else by any other, which is then told.
"""
import argparse
import html
import os
import pathlib
import re
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
ALL_TESTS = "~[slow]~[reallog]~[golden]"
LONGEST_S = 600.0


def faults():
    """The stanzas of faults.txt, each a dict of name, file, old, new and test."""
    text = pathlib.Path(__file__).with_name("faults.txt").read_text(encoding="utf-8")
    text = "\n".join(line for line in text.split("\n") if not line.startswith("#"))
    found = []
    for stanza in re.split(r"\n\s*\n", text.strip()):
        fault = dict(re.fullmatch(r"(\w+) ?(.*)", line).groups() for line in stanza.split("\n"))
        if sorted(fault) != ["file", "name", "new", "old", "test"]:
            sys.exit(f"faults.txt: a fault has name, file, old, new and test:\n{stanza}")
        found.append(fault)
    return found


def misfit(fault):
    """Why a fault cannot be planted; empty if it can."""
    path = ROOT / fault["file"]
    count = path.read_text(encoding="utf-8").count(fault["old"]) if path.exists() else -1
    return {1: "", 0: "its text is not there", -1: "its file is not there"}.get(count, "its text is there twice")


def copy_source(source):
    """Brings the copy up to date; what has not changed keeps its time, so that little is built again."""
    tops = [path for path in ROOT.iterdir() if path.name not in ("build", ".git")]
    wanted = {str(path.relative_to(ROOT)) for top in tops for path in [top, *top.rglob("*")] if path.is_file()}
    for old in [path for path in source.rglob("*") if path.is_file()]:
        if str(old.relative_to(source)) not in wanted:
            old.unlink()
    for name in wanted:
        here, there = ROOT / name, source / name
        if not there.exists() or here.read_bytes() != there.read_bytes():
            there.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(here, there)


def run(command, **more):
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace", **more)


def build(work):
    if not (work / "build/build.ninja").exists():
        made = run(["cmake", "-S", work / "source", "-B", work / "build", "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Debug",
                    "-DCMAKE_CXX_FLAGS_DEBUG=-O1", "-DBOTHWAYS_BUILD_TESTS=ON"])
        if made.returncode != 0:
            return made
    return run(["cmake", "--build", work / "build", "--target", "bothways_tests", "-j", "2"])


def failed_tests(work, spec):
    """Names of the test cases that failed; a crash or a hang counts as one."""
    try:
        done = run([work / "build/tests/bothways_tests", spec, "-r", "xml"], timeout=LONGEST_S)
    except subprocess.TimeoutExpired:
        return ["(no end)"]
    cases = re.split(r'<TestCase name="', done.stdout)[1:]
    names = [html.unescape(case.split('"', 1)[0]) for case in cases if '<OverallResult success="true"' not in case]
    return names or ([] if "</Catch>" in done.stdout else ["(crash)"])


def try_fault(work, fault):
    """Plants one fault; returns whether it was killed, and by what."""
    path = work / "source" / fault["file"]
    sound = path.read_text(encoding="utf-8")
    path.write_text(sound.replace(fault["old"], fault["new"]), encoding="utf-8")
    try:
        built = build(work)
        if built.returncode != 0:
            return False, "DOES NOT BUILD\n" + built.stdout[-1500:]
        expected = re.sub(r"([,\[\\])", r"\\\1", fault["test"])
        if failed_tests(work, expected) == [fault["test"]]:
            return True, fault["test"]
        others = failed_tests(work, ALL_TESTS)
        return bool(others), ("not as expected, but by: " + "; ".join(others[:3])) if others else "SURVIVES"
    finally:
        path.write_text(sound, encoding="utf-8")


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--only", action="append", default=[])
    options.add_argument("--check", action="store_true")
    options.add_argument("--work", type=pathlib.Path, default=ROOT / "build/mutation")
    asked = options.parse_args()
    chosen = [f for f in faults() if not asked.only or any(text in f["name"] for text in asked.only)]
    bad = [f"{f['name']}: {misfit(f)} ({f['file']})" for f in chosen if misfit(f)]
    print("\n".join(bad) or f"{len(chosen)} faults fit the code", flush=True)
    if asked.check:
        return 1 if bad else 0
    work = asked.work.resolve()
    (work / "source").mkdir(parents=True, exist_ok=True)
    copy_source(work / "source")
    built = build(work)
    if built.returncode != 0:
        sys.exit("the sound source does not build\n" + built.stdout[-3000:])
    if failed := failed_tests(work, ALL_TESTS):
        sys.exit("fails without any fault: " + "; ".join(failed))
    for fault in [f for f in chosen if not misfit(f)]:
        begin = time.monotonic()
        killed, by = try_fault(work, fault)
        print(f"{'killed' if killed else 'LIVES '} {time.monotonic() - begin:4.0f} s  {fault['name']}: {by}", flush=True)
        bad += [] if killed else [fault["name"]]
    print(f"{len(chosen) - len(bad)} of {len(chosen)} faults killed" + "".join(f"\n  not: {name}" for name in bad))
    return 1 if bad else 0


if __name__ == "__main__":
    os.environ["NINJA_STATUS"] = ""
    sys.exit(main())
