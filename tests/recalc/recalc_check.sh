#!/bin/sh
# Recalculates workbooks with LibreOffice: every formula cell must come to the value stored in the file, and edits
# must move the later reserves by exactly what they should. Workbooks of builds under way must come to what `plan` says;
# FETTLEFUND_REMEMBERED=60 makes more of them.
#   recalc_check.sh [BUILD FOLDER]     default: the one of $FETTLEFUND, or build, beside tests
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
default=$root/build
[ -n "${FETTLEFUND:-}" ] && default=$(dirname "$(dirname "$FETTLEFUND")")
build=${1:-$default}
program=$build/cli/fettlefund
python=/usr/bin/python3
export PYTHONDONTWRITEBYTECODE=1
passed=0 failed=0 skipped=0

finish() {
  echo "$passed passed, $failed failed, $skipped skipped"
  [ "$failed" -eq 0 ]
  exit
}

if ! command -v soffice >/dev/null && ! command -v libreoffice >/dev/null; then
  echo "skipped: LibreOffice is not installed"
  skipped=1
  finish
fi
if [ ! -x "$build/tests/lib_tests" ]; then
  echo "FAILED: no program $build/tests/lib_tests; build it first"
  failed=1
  finish
fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
FETTLEFUND_SAMPLES=$work "$build/tests/lib_tests" -ns -tc="sample workbooks*" >/dev/null

# The example builds too, where the program can already make their workbooks.
for example in "$root"/example-build/*.build; do
  [ -e "$example" ] || continue
  name=$(basename "$example" .build)
  if ! "$program" sheet "$example" -o "$work/example-$name.xlsx" >/dev/null 2>"$work/why"; then
    echo "skipped: no workbook of $name: $(head -n 1 "$work/why")"
    skipped=$((skipped + 1))
    rm -f "$work/example-$name.xlsx"
  fi
done

for file in "$work"/*.xlsx; do
  if "$python" "$here/recalc.py" "$file"; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
done

# Adds the counts of a script that ends with "N passed, N failed".
count_those_of() {
  sed '$d' "$1"
  counts=$(tail -n 1 "$1")
  case $counts in
    *" passed, "*" failed")
      passed=$((passed + ${counts%% passed*}))
      rest=${counts#*, }
      failed=$((failed + ${rest%% failed}))
      ;;
    *)
      echo "FAILED: $2 could not be checked"
      failed=$((failed + 1))
      ;;
  esac
}

if "$python" -c "import openpyxl" 2>/dev/null; then
  "$python" "$here/edits.py" "$work" >"$work/edits"
  count_those_of "$work/edits" "the edits"
  "$python" "$here/remembered.py" "$program" "$work" "${FETTLEFUND_REMEMBERED:-6}" >"$work/remembered"
  count_those_of "$work/remembered" "the workbooks that remember"
else
  echo "skipped: edits and workbooks that remember, since openpyxl is not installed"
  skipped=$((skipped + 1))
fi
finish
