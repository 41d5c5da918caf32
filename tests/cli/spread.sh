#!/bin/sh
# Many logs timed by workers that know nothing of each other, one of which is killed and tried again, and merged: the
# bytes are those of one process. Also with each half of the logs on a machine of its own: a bare root without a network,
# where there is nothing but the program, what it is linked to and its logs; only pipes lead in and out.
# spread.sh PROGRAM LOG FOLDER COUNT: LOG is a GPX file of 2026-05-04; COUNT copies of its beginning, two runs, get a day each.
set -eu
program=$(realpath "$1") log=$(realpath "$2") work=$3 count=$4
splits="0-30 mph, 0-40 mph, 30-50 mph"
batch=25
rm -rf "$work"
mkdir -p "$work/rides"
trap 'rm -rf "$work"' EXIT
cd "$work"

awk '{ print } /<\/trkpt>/ && ++points == 150 { print "</trkseg></trk></gpx>"; exit }' "$log" >short.gpx
awk -v from="$(date -u -d 1999-12-31 +%s)" -v count="$count" '
  { lines[NR] = $0 }
  END {
    for (i = 1; i <= count; ++i) {
      day = strftime("%Y-%m-%d", from + i * 86400, 1)
      for (n = 1; n <= NR; ++n) {
        line = lines[n]
        gsub("2026-05-04", day, line)
        print line > ("rides/" day ".gpx")
      }
      close("rides/" day ".gpx")
    }
  }' short.gpx
test "$(ls rides | wc -l)" -eq "$count"

cat >worker.sh <<'END'
#!/bin/sh
# worker.sh PROGRAM SPLITS LOG...: whoever comes to the batch of the second log is killed in the middle of a line.
program=$1 splits=$2
shift 2
if [ "${1#*2000-01-02}" != "$1" ] || [ "${2#*2000-01-02}" != "$2" ]; then
  if mkdir killed 2>/dev/null; then
    "$program" runs "$@" --format jsonl --rides --splits "$splits" --jobs 1 | head -c 30000
    kill -9 $$
  fi
fi
exec "$program" runs "$@" --format jsonl --rides --splits "$splits" --jobs 1
END
chmod +x worker.sh

"$program" rides --splits "$splits" --format json -o all.json

echo "spread over two workers at once, $batch logs each time, one killed"
find rides -name '*.gpx' | sort |
  parallel -q --jobs 2 --retries 3 -n "$batch" ./worker.sh "$program" "$splits" {} >lines.jsonl
test -d killed
test "$(wc -l <lines.jsonl)" -eq "$count"
"$program" --from-jsonl lines.jsonl --format json -o merged
cmp merged all.json
if [ "$count" -le 100 ]; then
  for command in pairs "logbook --no-cache"; do
    # shellcheck disable=SC2086  # words
    "$program" $command rides --splits "$splits" --format csv -o whole
    # shellcheck disable=SC2086  # words
    "$program" $command --from-jsonl lines.jsonl --format csv -o merged
    cmp merged whole
  done
fi

if ! unshare -rn chroot / true 2>/dev/null; then
  echo "no namespaces to be had here: bare roots without a network are not tried"
  exit 0
fi
echo "each half on a machine of its own"
ls rides/*.gpx >names
split -n l/2 names half.
for half in half.aa half.ab; do
  mkdir -p "root.$half/program"
  ldd "$program" | grep -o '/[^ ]*' | xargs cp -L --parents -t "root.$half"
  cp "$program" "root.$half/program/"
  xargs cp --parents -t "root.$half" <$half
done
on_machine() { # on_machine ROOT WORDS...: in a root and a network of its own
  bare=$1
  shift
  unshare -rn chroot "$bare" "/program/$(basename "$program")" "$@" --format jsonl --rides --splits "$splits"
}
{
  on_machine root.half.ab runs rides
  on_machine root.half.aa runs rides
} | "$program" --from-jsonl - --format json -o merged
cmp merged all.json
echo "$count logs: the same bytes"
