#!/usr/bin/env bash
# Plans the example builds and compares text, JSON and every part of the workbook with example-build/expected/, byte for
# byte; then plans again and expects the same bytes. FETTLEFUND_COLLECT=1 rewrites the expected files instead: read the
# difference before you commit it.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-build/release/cli/fettlefund}
expected=example-build/expected
passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# produce FOLDER: all outputs of all examples, workbooks unpacked.
produce() {
  mkdir -p "$1"
  local name
  for name in scrambler camper; do
    "$program" plan --steps "example-build/$name.build" >"$1/$name.txt" 2>"$work/told" || cat "$work/told"
    "$program" plan --json "example-build/$name.build" >"$1/$name.json" 2>"$work/told" || cat "$work/told"
    "$program" sheet "example-build/$name.build" -o "$work/$name.xlsx" >/dev/null 2>"$work/told" || cat "$work/told"
    cp "$work/$name.xlsx" "$1/$name.xlsx"
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
for name in scrambler camper; do
  claim "$name: the text is as expected" "$expected/$name.txt" "$work/once/$name.txt"
  claim "$name: the JSON is as expected" "$expected/$name.json" "$work/once/$name.json"
  claim "$name: every part of the workbook is as expected" "$expected/$name.sheets" "$work/once/$name.sheets"
  claim "$name: the same input gives the same workbook, byte for byte" "$work/once/$name.xlsx" "$work/again/$name.xlsx"
  claim "$name: the same input gives the same text" "$work/once/$name.txt" "$work/again/$name.txt"
done
echo "$passed passed, $failed failed"
