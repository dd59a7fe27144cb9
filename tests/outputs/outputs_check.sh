#!/usr/bin/env bash
# Reads calendar, shopping list and picture back with independent libraries (Debian's python3-icalendar; Python's own csv
# and XML) and compares them with the plan's JSON report.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-build/cli/fettlefund}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cp tests/outputs/awkward.build example-build/camper.build "$folder"
for build in awkward camper; do
  "$program" plan --json --effort quick -o "$folder/$build.json" "$folder/$build.build" 2>"$folder/told" &&
    "$program" calendar --effort quick --revision 3 "$folder/$build.build" >/dev/null 2>"$folder/told" &&
    "$program" shopping --effort quick "$folder/$build.build" >/dev/null 2>"$folder/told" &&
    "$program" picture --effort quick "$folder/$build.build" >/dev/null 2>"$folder/told" || cat "$folder/told"
done
/usr/bin/python3 tests/outputs/outputs.py "$folder" awkward camper
