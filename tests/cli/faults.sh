#!/bin/sh
# Faults from outside: no half file, the earlier one untouched, the right exit code, no hang.
# faults.sh PROGRAM LOG FOLDER: LOG has many rows, FOLDER is made anew and removed.
set -u
program=$1 log=$2 work=$3
rm -rf "$work"
mkdir -p "$work"
trap 'rm -rf "$work"' EXIT
failed=0

# check WHAT COMMAND...: says what does not hold.
check() {
  what=$1
  shift
  if ! "$@"; then
    echo "does not hold: $what" >&2
    failed=1
  fi
}
says() { # says WORDS FILE
  tr -s '\n ' ' ' <"$2" | grep -q -- "$1"
}

whole=$work/whole.csv
"$program" fixes "$log" --format csv -o "$whole"
check "the whole file has thousands of rows" [ "$(wc -l <"$whole")" -gt 5000 ]

# A full disk, under standard output and under a file.
for command in fixes speed runs ""; do
  "$program" $command "$log" >/dev/full 2>"$work/err"
  check "$command: a full standard output is exit 1" [ $? -eq 1 ]
  check "$command: a full standard output is said" says "standard output could not be written" "$work/err"
done
echo before >"$work/out.csv"
(
  trap '' XFSZ  # a limit of 8 kB then acts as a full disk
  ulimit -f 8
  exec "$program" fixes "$log" --format csv -o "$work/out.csv"
) 2>"$work/err"
check "a disk that fills up is exit 1" [ $? -eq 1 ]
check "a disk that fills up is said" says "could not be written" "$work/err"
check "the earlier file is untouched" [ "$(cat "$work/out.csv")" = before ]
check "no other file is left" [ "$(find "$work" -name '*out.csv*' | wc -l)" -eq 1 ]

# A disk of 64 kB, in a name space of its own.
disk=$work/disk
mkdir "$disk"
if unshare -rm mount -t tmpfs -o size=64k tmpfs "$disk" 2>/dev/null; then
  # shellcheck disable=SC2016  # the inner shell expands them
  unshare -rm sh -c '
    mount -t tmpfs -o size=64k tmpfs "$3"
    echo before >"$3/out.csv"
    "$1" fixes "$2" --format csv -o "$3/out.csv"
    echo $? >"$4/code"
    cp "$3/out.csv" "$4/kept"
    ls -A "$3" >"$4/left"
    "$1" page "$2" -o "$3/page.html"
    echo $? >>"$4/code"
    ls -A "$3" >>"$4/left"' - "$program" "$log" "$disk" "$work" 2>"$work/err"
  check "a small disk that is full is exit 1" [ "$(tr '\n' ' ' <"$work/code")" = "1 1 " ]
  check "that the small disk is full is said" says "out.csv could not be written" "$work/err"
  check "on it the earlier file is untouched" [ "$(cat "$work/kept")" = before ]
  check "on it no other file is left" [ "$(tr '\n' ' ' <"$work/left")" = "out.csv out.csv " ]
else
  echo "no file system may be mounted here: a small disk is not tried"
fi

# Killed at once, at any moment.
for wait in 0.005 0.01 0.015 0.02 0.03 0.04 0.06 0.08; do
  echo before >"$work/out.csv"
  "$program" fixes "$log" --format csv -o "$work/out.csv" 2>/dev/null &
  sleep "$wait"
  kill -9 $! 2>/dev/null
  wait $! 2>/dev/null
  check "killed after $wait s, the file is the earlier or the whole one" \
    sh -c '[ "$(cat "$1")" = before ] || cmp -s "$1" "$2"' - "$work/out.csv" "$whole"
done

# A folder with all that is no log.
mkdir "$work/rides"
cp "$log" "$work/rides/"
mkfifo "$work/rides/pipe.gpx"
ln -s /dev/zero "$work/rides/zero.nmea"
ln -s . "$work/rides/again"
ln -s self.csv "$work/rides/self.csv"
timeout 60 "$program" runs "$work/rides" --format csv -o "$work/runs.csv" 2>"$work/err"
check "a link that leads to itself is a file that cannot be read" [ $? -eq 1 ]
check "it is named" says "self.csv" "$work/err"
check "the log beside it is read" [ "$(wc -l <"$work/runs.csv")" -gt 6 ]
rm "$work/rides/self.csv"
timeout 60 "$program" runs "$work/rides" --format csv -o "$work/runs.csv" 2>"$work/err"
check "a pipe, a device and a loop of links in a folder do no harm" [ $? -eq 0 ]

exit $failed
