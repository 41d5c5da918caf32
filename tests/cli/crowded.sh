#!/bin/sh
# A few logs among a hundred thousand other files: the same result as without these, in bounded time and memory.
# crowded.sh PROGRAM LOG FOLDER OTHERS: LOG is a GPX file of 2026-05-04.
set -eu
program=$(realpath "$1") log=$(realpath "$2") work=$3 others=$4
rm -rf "$work"
mkdir -p "$work/few" "$work/rides/deep/deeper"
trap 'rm -rf "$work"' EXIT
cd "$work"

for day in 2026-05-05 2026-05-06 2026-05-07; do
  sed "s/2026-05-04/$day/g" "$log" >"few/$day.gpx"
done
seq -f 'rides/%08g.txt' "$others" | xargs touch
cp few/2026-05-05.gpx few/2026-05-06.gpx rides
cp few/2026-05-07.gpx rides/deep/deeper

"$program" runs few --format csv | cut -d, -f3- >few.csv  # all but number and path
(
  ulimit -v 1000000  # kB
  timeout 120 "$program" runs rides --format csv >all.csv 2>err
)
tr -s '\n ' ' ' <err | grep -q "$others other files in rides are not ride logs: $others .txt"
test "$(wc -l <all.csv)" -gt 6
cut -d, -f3- all.csv | cmp - few.csv
echo "3 logs among $others files: the same runs"
