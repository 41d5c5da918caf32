"""The logbook's cache, with processes of their own: what is remembered is what would be worked out, and nothing more is worked out anew
than a change has in it.

logbook_cache_test.py PROGRAM FOLDER; FOLDER is made anew and removed.
"""
import os
import pathlib
import shutil
import signal
import sqlite3
import subprocess
import sys
import time

sys.path.append(str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import made_rides  # noqa: E402

program, work = sys.argv[1], pathlib.Path(sys.argv[2])
rides, cache = work / "rides", work / "cache"
file = cache / "bothways" / "rides.sqlite"
environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "LC_ALL": "C"}
FORMATS = (["--format", "text"], ["--format", "csv"], ["--format", "json"], ["--page"])
faults = []


def hold(what, true):
    if not true:
        faults.append(what)


def start(*more):
    return subprocess.Popen([program, "logbook", str(rides), *more], env=environment, stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE)


def ended(process):
    out, err = process.communicate(timeout=120)
    return process.returncode, out, err


def logbook(*more):
    return ended(start(*more))


def anew(*more):
    return logbook("--no-cache", *more)


def entries():
    with sqlite3.connect(file) as database:
        hold("the cache is sound", database.execute("PRAGMA integrity_check").fetchone() == ("ok",))
        return {row[0] for row in database.execute("SELECT key FROM entry")}


def formats_are_alike():
    for how in FORMATS:
        expected = anew(*how)
        hold(f"{how}: worked out and remembered are the same bytes", logbook(*how) == expected)
        hold(f"{how}: and again", logbook(*how) == expected)
    hold("a page without charts is refused alike" if expected[0] else "a page has the table", expected[0] or b"<table" in expected[1])


def a_changed_byte_changes_what_it_must():
    """Of days A A B B C the first B: its log twice (look, runs), its day, and the changes of both B and of C."""
    log = rides / "000" / "00002" / "ride.nmea.gz"
    before = entries()
    sound = log.read_bytes()
    plain = bytearray(made_rides.gzip.decompress(sound))
    plain[len(plain) // 2] ^= 1
    log.write_bytes(made_rides.gzip.compress(bytes(plain), 6, mtime=0))
    changed = logbook()
    new = entries()
    hold(f"a changed byte makes 6 entries, not {len(new - before)}", len(new - before) == 6 and before <= new)
    hold("a changed byte gives what would be worked out", changed == anew())
    log.write_bytes(sound)
    logbook()
    hold("what was there before is still known", entries() == new)


def a_second_split_or_clock_is_another_logbook():
    for more in (["--splits", "0-30 mph"], ["--clock", "movement"], ["--splits", "30-50 mph, 0-30 mph"]):
        expected = anew(*more)
        hold(f"{more}: the first time", logbook(*more) == expected)
        hold(f"{more}: the second time", logbook(*more) == expected)


def two_at_once(expected, what):
    for outcome in [ended(process) for process in [start(), start(), start("--jobs", "1")]]:
        hold(f"{what}: processes at once are all right", outcome == expected)
    hold(f"{what}: so is the next", logbook() == expected)


def cut_and_killed(expected):
    whole = len(entries())
    os.truncate(file, file.stat().st_size // 2)
    hold("cut in half it does no harm", logbook() == expected)
    hold(f"cut in half it is made anew, {len(entries())} of {whole} entries", 0 < len(entries()) <= whole)
    hold("and finds all the next time", logbook() == expected)
    os.truncate(file, file.stat().st_size // 2)
    two_at_once(expected, "cut in half")
    for wait in (0.02, 0.1, 0.3, 0.5):
        file.unlink(missing_ok=True)
        process = start()
        time.sleep(wait)
        process.send_signal(signal.SIGKILL)
        process.communicate()
        hold(f"killed after {wait} s it does no harm", logbook() == expected)
        entries()


shutil.rmtree(work, ignore_errors=True)
try:
    made_rides.make(rides, 5, 2)
    result = anew()
    hold("the logbook has its changes", result[0] == 0 and result[1].count(b" against number ") == 3)
    hold("with --no-cache nothing is remembered", not cache.exists())
    two_at_once(result, "no cache yet")
    hold("only the owner may read it", file.stat().st_mode & 0o777 == 0o600)
    formats_are_alike()
    a_changed_byte_changes_what_it_must()
    a_second_split_or_clock_is_another_logbook()
    cut_and_killed(result)
finally:
    shutil.rmtree(work, ignore_errors=True)
print("\n".join(faults) or "what is remembered is what would be worked out")
sys.exit(1 if faults else 0)
