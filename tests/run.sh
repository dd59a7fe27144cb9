#!/usr/bin/env bash
# Installs what is missing, builds the tests twice (g++, release; clang, ASan and UBSan), runs them and the check scripts, and closes
# with one line: N passed, N failed[, N skipped]. FETTLEFUND_QUICK=1 leaves out the sanitized build.
set -uo pipefail
cd "$(dirname "$0")/.."
. example-build/setup.sh
# Test libraries; then the programs that the checks compare with: a spreadsheet program to recalculate workbooks, an
# independent workbook library, and a general integer-programming solver.
need_packages "${build_packages[@]}" clang libclang-rt-14-dev lld llvm doctest-dev librapidcheck-dev \
  libreoffice-calc-nogui poppler-utils fonts-dejavu-core fonts-crosextra-carlito fonts-liberation python3-openpyxl python3-uno python3-icalendar python3-jsonschema coinor-cbc clang-format universal-ctags dpkg-dev file chromium tidy

passed=0 failed=0 skipped=0
log=$(mktemp)
logs=$(mktemp -d)  # of the check scripts, which run side by side
trap 'rm -rf "$log" "$logs"' EXIT

# tally FILE: adds up the last "N passed, N failed[, N skipped]" line of a check's output; no such line is a failure.
tally() {
  local line
  line=$(grep -E '^[0-9]+ passed, [0-9]+ failed(, [0-9]+ skipped)?$' "$1" | tail -n 1)
  if [ -z "$line" ]; then
    failed=$((failed + 1))
    return
  fi
  read -r -a words <<<"$line"
  passed=$((passed + words[0])) failed=$((failed + words[2])) skipped=$((skipped + ${words[4]:-0}))
}

# attribute NAME FILE: that number from the head of a JUnit file.
attribute() { grep -oE "$1=\"[0-9]+\"" "$2" | head -n 1 | tr -dc 0-9; }

# build_and_test FOLDER OPTION...: configures, builds and runs every test case; a build that fails is one failure.
build_and_test() {
  local folder=$1
  shift
  if ! { cmake -S . -B "$folder" -G Ninja -DFETTLEFUND_WERROR=ON "$@" && cmake --build "$folder" --parallel; } >"$log" 2>&1; then
    tail -n 60 "$log"
    failed=$((failed + 1))
    return
  fi
  echo "built after $SECONDS s"
  local report=$PWD/$folder/report.xml total bad left
  rm -f "$report"
  ctest --test-dir "$folder" --parallel "$(nproc)" --no-tests=error --output-on-failure --output-junit "$report" >"$log" 2>&1
  grep -vE '^ *[0-9]+/[0-9]+ Test|^ +Start' "$log" | tail -n 80
  if [ ! -s "$report" ]; then
    failed=$((failed + 1))
    return
  fi
  total=$(attribute tests "$report") bad=$(attribute failures "$report") left=$(attribute skipped "$report")
  passed=$((passed + total - bad - left)) failed=$((failed + bad)) skipped=$((skipped + left))
}

echo "== release build"
build_and_test build/tests -DCMAKE_BUILD_TYPE=Release -DFETTLEFUND_BY_ROOM=ALL
if [ "${FETTLEFUND_QUICK:-0}" != 1 ]; then
  echo "== sanitized build"
  FETTLEFUND_CASES=${FETTLEFUND_SANITIZED_CASES:-15} build_and_test build/sanitized -C .ci/sanitize.cmake -DFETTLEFUND_BY_ROOM=ALL
fi

export FETTLEFUND=$PWD/build/tests/cli/fettlefund
checks=$(git ls-files 'tests/*_check.sh' 2>/dev/null)
[ -n "$checks" ] || checks=$(find tests -name '*_check.sh')
# The longest first: no core then waits for them at the end. One more than there are cores, as some mostly wait for the disk.
long=$(printf 'tests/%s_check.sh\n' log_kill page/page recalc/recalc edits/corrupt form/form edits/edits golden/examples limits year/year)
{ echo "$long" && grep -vxF "$long" <<<"$checks"; } |
  xargs -P "$(($(nproc) + 1))" -I{} bash -c 'SECONDS=0; bash "$1" >"$2/${1//\//.}" 2>&1; echo "$SECONDS s" >"$2/${1//\//.}.took"' check {} "$logs"
for check in $checks; do
  echo "== $check ($(cat "$logs/${check//\//.}.took"))"
  tail -n 40 "$logs/${check//\//.}"
  tally "$logs/${check//\//.}"
done

echo "all after $SECONDS s"
if [ "$skipped" -gt 0 ]; then
  echo "$passed passed, $failed failed, $skipped skipped"
else
  echo "$passed passed, $failed failed"
fi
[ "$failed" -eq 0 ]
