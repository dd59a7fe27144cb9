#!/usr/bin/env bash
# Plans the example builds and compares text, JSON, every part of the workbook, calendar, shopping list, picture and the
# drive train's figures with example-build/expected/, byte for byte; then plans again and expects the same bytes.
# FETTLEFUND_COLLECT=1 rewrites the expected files instead: read the difference before you commit it.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-build/release/cli/fettlefund}
expected=example-build/expected
if [ ! -x "$program" ]; then
  echo "broken: $program is not built"
  echo "0 passed, 1 failed"
  exit 1
fi
passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# produce_more NAME FOLDER: what is made of the plan besides: calendar, shopping list, picture; the drive train's figures.
produce_more() {
  "$program" calendar "example-build/$1.build" -o "$2/$1.ics" >/dev/null 2>"$work/told" || cat "$work/told"
  "$program" shopping "example-build/$1.build" -o "$2/$1.csv" >/dev/null 2>"$work/told" || cat "$work/told"
  "$program" picture "example-build/$1.build" -o "$2/$1.svg" >/dev/null 2>"$work/told" || cat "$work/told"
  "$program" drive "example-build/$1.build" -o "$2/$1.drive.txt" >/dev/null 2>"$work/told" || true  # a van has none
}

# produce FOLDER: all outputs of all examples, workbooks unpacked.
produce() {
  mkdir -p "$1"
  local name
  for name in outfit camper; do
    "$program" plan --steps "example-build/$name.build" >"$1/$name.txt" 2>"$work/told" || cat "$work/told"
    "$program" plan --json "example-build/$name.build" >"$1/$name.json" 2>"$work/told" || cat "$work/told"
    "$program" sheet "example-build/$name.build" -o "$work/$name.xlsx" >/dev/null 2>"$work/told" || cat "$work/told"
    cp "$work/$name.xlsx" "$1/$name.xlsx"
    [ "$1" = "$work/once" ] && produce_more "$name" "$1"
    /usr/bin/python3 - "$work/$name.xlsx" "$1/$name.sheets" <<'PY'
import sys, zipfile
zipfile.ZipFile(sys.argv[1]).extractall(sys.argv[2])
PY
  done
}

# claim TEXT LEFT RIGHT: the two files or folders are the same.
claim() {
  if [ -e "$2" ] && [ -e "$3" ] && diff -r "$2" "$3" >"$work/difference"; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'broken: %s\n' "$1"
    head -c 2000 "$work/difference"
  fi
}

produce "$work/once"
if [ "${FETTLEFUND_COLLECT:-0}" = 1 ]; then
  rm -rf "$expected"
  cp -r "$work/once" "$expected"
  rm -f "$expected"/*.xlsx
  echo "collected into $expected"
fi
produce "$work/again"
for name in outfit camper; do
  claim "$name: the text is as expected" "$expected/$name.txt" "$work/once/$name.txt"
  claim "$name: the JSON is as expected" "$expected/$name.json" "$work/once/$name.json"
  claim "$name: every part of the workbook is as expected" "$expected/$name.sheets" "$work/once/$name.sheets"
  claim "$name: the calendar is as expected" "$expected/$name.ics" "$work/once/$name.ics"
  claim "$name: the shopping list is as expected" "$expected/$name.csv" "$work/once/$name.csv"
  claim "$name: the picture is as expected" "$expected/$name.svg" "$work/once/$name.svg"
  claim "$name: the same input gives the same workbook, byte for byte" "$work/once/$name.xlsx" "$work/again/$name.xlsx"
  claim "$name: the same input gives the same text" "$work/once/$name.txt" "$work/again/$name.txt"
done
grep -E '^    [1-4]  20' README.md >"$work/shown"
grep -E '^    [1-4]  20' "$expected/outfit.txt" >"$work/planned"
claim "the README shows the plan's first lines" "$work/planned" "$work/shown"
claim "outfit: the drive train is as expected" "$expected/outfit.drive.txt" "$work/once/outfit.drive.txt"
echo "$passed passed, $failed failed"
