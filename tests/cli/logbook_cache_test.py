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
rides, turns, cache = work / "rides", work / "turns", work / "cache"
file = cache / "bothways" / "rides.sqlite"
environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "LC_ALL": "C"}
FORMATS = (["--format", "text"], ["--format", "csv"], ["--format", "json"], ["--page"])
faults = []


def hold(what, true):
    if not true:
        faults.append(what)


def start(*more, folder=rides):
    return subprocess.Popen([program, "logbook", str(folder), *more], env=environment, stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE)


def ended(process):
    out, err = process.communicate(timeout=120)
    return process.returncode, out, err


def logbook(*more, folder=rides):
    return ended(start(*more, folder=folder))


def anew(*more, folder=rides):
    return logbook("--no-cache", *more, folder=folder)


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


def a_log_in_parts_is_remembered_part_by_part():
    """Two days of A and B in one log: times and notes of it, its parts (look, runs), days, and the changes A to B, B to A, A to B."""
    made_rides.make_in_turns(turns, 2)
    log, conditions = (turns / "000" / "00000" / name for name in ("ride.nmea.gz", "conditions.ini"))

    def new_entries(what, expected):
        before = entries()
        told = anew(folder=turns)
        for time_of in ("first", "second"):
            hold(f"{what}: as worked out, the {time_of} time", logbook(folder=turns) == told)
            hold(f"{what}: {expected} entries, not {len(entries() - before)}", len(entries() - before) == expected)
        return told

    first = new_entries("a log in parts", 2 * (1 + 2 * 2) + 4 + 3)
    hold("both set-ups are told", first[0] == 0 and first[1].count(b"new clutch springs") > 1)
    sound = conditions.read_text()
    # A ends before its last run, which is then a part that no section tells of: both with their days, and the change from A to B.
    conditions.write_text(made_rides.sections("09:00Z-09:35Z", "10:00Z-12:00Z"))
    new_entries("another time", 2 * 2 + 2 + 1)
    # 09:00 and 11:00 in a zone an hour off are the same parts, from the first fix to 10:00 UTC.
    conditions.write_text(made_rides.sections("09:00+00:00", "11:00+01:00"))
    new_entries("the same times in other words", 0)
    conditions.write_text(sound)
    new_entries("as it was", 0)
    plain = bytearray(made_rides.gzip.decompress(log.read_bytes()))
    plain[len(plain) // 2] ^= 1
    log.write_bytes(made_rides.gzip.compress(bytes(plain), 6, mtime=0))
    before = entries()
    hold("a changed byte in a log of parts is noticed", logbook(folder=turns) == anew(folder=turns))
    hold("and makes entries anew", len(entries() - before) >= 1 + 2 * 2)


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
    a_log_in_parts_is_remembered_part_by_part()
finally:
    shutil.rmtree(work, ignore_errors=True)
print("\n".join(faults) or "what is remembered is what would be worked out")
sys.exit(1 if faults else 0)
