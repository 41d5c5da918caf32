"""What the program writes as JSON is described by docs/schema: every key, with its kind.

schema_test.py PROGRAM SOURCE; ends with 77 (skipped) where python3-jsonschema is not installed.
"""
import copy
import json
import pathlib
import subprocess
import sys

try:
    import jsonschema
except ImportError:
    print("python3-jsonschema is not installed")
    sys.exit(77)

program, source = sys.argv[1], pathlib.Path(sys.argv[2])
schema, ride_schema = (json.loads((source / "docs/schema" / name).read_text())
                       for name in ("bothways-1.schema.json", "bothways-ride-1.schema.json"))
for one in (schema, ride_schema):
    jsonschema.Draft202012Validator.check_schema(one)

SIDES = ["fixtures/before-after/before", "fixtures/before-after/after"]
CASES = [
    ("result", ["fixtures/demo"]),
    ("result", ["fixtures/demo", "--clock", "movement", "--splits", "0-30 mph, 60 ft", "--leave-out", "2 gust"]),
    ("result", ["fixtures/in-turns"]),
    ("result", ["fixtures/battery-csv", "--include-gentle"]),
    ("result", ["fixtures/town-scooter", "--strip-places"]),
    ("result", ["fixtures/two-logs/1-out.nmea"]),
    ("runs", ["runs", "fixtures/phone-1hz", "--splits", "30-50 mph, 60 ft"]),
    ("pairs", ["pairs", "fixtures/two-logs"]),
    ("comparison", ["compare", *SIDES]),
    ("comparison", ["compare", *SIDES, "--clock", "movement", "--only", "after:1-2"]),
    ("comparison", ["compare", "fixtures/in-turns"]),
    ("plans", ["plan", "--detect", "0.1s", SIDES[0]]),
    ("plans", ["plan", "--detect", "2%", "--scatter", "1.5%"]),
    ("trips", ["trip", "fixtures/battery-csv", "fixtures/demo", "--fuel", "0.5L"]),
    ("power", ["power", "fixtures/demo", "--mass", "200kg"]),
    ("logbook", ["logbook", "fixtures/before-after", "--no-cache"]),
    ("logbook", ["logbook", "fixtures/in-turns", "fixtures/two-logs/1-out.nmea", "--no-cache", "--clock", "movement"]),
    ("table", ["fixes", "fixtures/battery-csv"]),
    ("table", ["speed", "fixtures/demo"]),
]


RIDES = ["fixtures/in-turns", "fixtures/positions-5hz", "fixtures/town-scooter", "fixtures/before-after/before", "fixtures/battery-csv"]


def closed(node):
    """The schema without room for keys that it does not name."""
    if isinstance(node, dict):
        node = {key: closed(value) for key, value in node.items()}
        if node.get("type") in ("object", ["object", "null"]):
            node["additionalProperties"] = False
    elif isinstance(node, list):
        node = [closed(value) for value in node]
    return node


def validator(name):
    strict = closed(copy.deepcopy(ride_schema if name == "line" else schema))
    strict.pop("anyOf", None)
    return jsonschema.Draft202012Validator({**strict, "$ref": "#/$defs/" + name})


def printed(arguments, kind):
    return subprocess.run([program, *arguments, "--format", kind], cwd=source, check=True, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.DEVNULL).stdout


faults = []


def hold(name, document, what):
    for error in validator(name).iter_errors(document):
        faults.append(f"{' '.join(what)}: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")


for name, arguments in CASES:
    hold(name, json.loads(printed(arguments, "json")), arguments)
for line in printed(["fixtures/two-logs"], "jsonl").splitlines():
    hold("log_line", json.loads(line), ["jsonl"])
lines = printed(["runs", *RIDES, "--rides", "--splits", "0-30 mph, 60 ft"], "jsonl").splitlines()
for line in lines:
    hold("line", json.loads(line), ["runs --rides"])

# A schema that takes anything would pass as well.
ride = json.loads(lines[0])
ride["ride"]["runs"]["accepted"][0]["edges"][0].pop()
if validator("line").is_valid(ride):
    faults.append("the schema takes an edge without its travel")
broken = json.loads(printed(["fixtures/two-logs"], "json"))
broken["logs"][0]["runs"][0]["splits"][0]["time"] = broken["logs"][0]["runs"][0]["splits"][0].pop("time_s")
if validator("result").is_valid(broken):
    faults.append("the schema takes a split without its time")
print("\n".join(faults[:40]) or f"{len(CASES)} outputs are as docs/schema says")
sys.exit(1 if faults else 0)
