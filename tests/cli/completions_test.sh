#!/bin/bash
# What the shells complete. completions_test.sh FOLDER PROGRAM: FOLDER holds the three files.
set -euo pipefail
folder=$1 program=$2
fail() { echo "$1"; exit 1; }

bash -n "$folder/bothways.bash"
source "$folder/bothways.bash"
compopt() { :; }  # outside a completion bash has none
completed() {
  COMP_WORDS=("$@")
  COMP_CWORD=$(($# - 1))
  _bothways
  printf '%s\n' "${COMPREPLY[@]}"
}
cd "$(mktemp -d)"
touch ride.gpx "two words.gpx"
[ "$(completed bothways --format cs)" = csv ] || fail "the formats are not completed"
[ "$(completed bothways compare --format jsonl)" = jsonl ] || fail "nor after a command"
[ "$(completed bothways ride)" = ride.gpx ] || fail "files are not completed"
[ "$(completed bothways two)" = "two words.gpx" ] || fail "files with blanks are not completed"
completed bothways comp | grep -qx compare || fail "commands are not completed"
[ -z "$(completed bothways runs comp)" ] || fail "a command is completed behind another"
for command in "" fixes speed runs pairs compare plan trip power page logbook; do
  told=$("$program" $command --help | grep -oE '^  (-., |    )--[a-z-]+' | grep -oE -- '--[a-z-]+' | sort)
  offered=$(completed bothways $command -- | grep -- -- | sort)
  [ "$told" = "$offered" ] || fail "'bothways $command --help' and bash differ: $(diff <(echo "$told") <(echo "$offered"))"
  for option in $told; do
    grep -q -- "-l ${option#--}\b" "$folder/bothways.fish" || fail "fish lacks $option"
    grep -q -- "$option" "$folder/_bothways" || fail "zsh lacks $option"
  done
done

if command -v fish > /dev/null; then
  export HOME=$PWD
  offered() { fish -c "source $folder/bothways.fish; complete -C '$1'" | cut -f1; }
  offered "bothways comp" | grep -qx compare || fail "fish does not complete commands"
  [ "$(offered "bothways runs --format j" | sort | tr '\n' ' ')" = "json jsonl " ] || fail "nor formats"
  offered "bothways compare --be" | grep -qx -- --before || fail "nor options"
fi
if command -v zsh > /dev/null; then
  zsh -n "$folder/_bothways" || fail "zsh cannot read it"
fi
