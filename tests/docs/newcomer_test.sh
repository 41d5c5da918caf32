#!/bin/bash
# Runs the newcomer's commands of README.md as they stand there, from the archive to the verdict, in an empty folder.
# newcomer_test.sh SOURCE PROGRAM: the archive is made of SOURCE. So that packages are left alone and nothing is built
# twice, .ci/try of the copy is one that checks what is asked of it and puts PROGRAM where the build would.
set -euo pipefail
source=$1 program=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

script=$(awk '/^<!-- newcomer -->/ {on = 1} on && /^```$/ {exit} on && !/^(<!--|```)/' "$source/README.md")
count=$(grep -c . <<< "$script")
[ "$count" -ge 2 ] && [ "$count" -le 5 ] || { echo "README.md has $count newcomer's commands, not 2 to 5"; exit 1; }
grep -q '^\.ci/try$' <<< "$script" || { echo "README.md builds by something else than .ci/try"; exit 1; }

mkdir "$work/bothways"
tar -C "$source" --exclude=./build --exclude=./.git -cf - . | tar -C "$work/bothways" -xf -
[ -x "$work/bothways/.ci/try" ]
cat > "$work/bothways/.ci/try" << TRY
#!/bin/bash
set -eu
cd "\$(dirname "\$0")/.."
[ -f CMakePresets.json ]
mkdir -p build/release/cli
cp "$program" build/release/cli/bothways
TRY
tar -C "$work" -czf "$work/bothways.tar.gz" bothways
rm -r "$work/bothways"

cd "$work"
env -u TZ LC_ALL=C.UTF-8 bash -euo pipefail -c "$script" > out 2> err
grep -q '^Did the change help?$' out || { cat out err; exit 1; }
grep -q 'quicker by' out || { cat out err; exit 1; }
