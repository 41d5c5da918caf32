"""Makes the logs that are read in the bench, once: they are kept where they are."""
import subprocess


def made(path, command):
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        unfinished = path.with_name(path.name + ".part")
        with open(unfinished, "wb") as out:
            subprocess.run(command, stdout=out, check=True)
        unfinished.rename(path)
    return path


def long_log(folder, make_log, kind, megabytes, lap_s):
    return made(folder / f"{megabytes}-mb-{lap_s}.{kind}", [make_log, kind, str(megabytes), str(lap_s)])


def many_logs(folder, make_log, count):
    """`count` logs of half a megabyte, a day apart, half of them GPX: about three minutes at 10 Hz, five starts or four."""
    logs = folder / f"{count}-logs"
    for i in range(1, count + 1):
        kind = "gpx" if i % 2 else "nmea"
        made(logs / f"{i:04}.{kind}", [make_log, kind, "0.5", "40", str(i)])
    return logs


def halves(folder, logs):
    """The logs of a folder dealt out to two, as links."""
    two = [folder / f"{logs.name}-half-{n}" for n in (1, 2)]
    for n, half in enumerate(two):
        half.mkdir(exist_ok=True)
        for log in sorted(logs.iterdir())[n::2]:
            if not (half / log.name).exists():
                (half / log.name).hardlink_to(log)
    return two
