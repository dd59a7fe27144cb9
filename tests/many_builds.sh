#!/usr/bin/env bash
# usage: tests/many_builds.sh BUILD_DIR LAST [DONE_FILE]
# Small random builds 1 to LAST: each is planned to the proof and compared with the best of all by the rules read plainly from
# the build file (tests/lib/staging). A thousand at a time; those done stand in DONE_FILE (BUILD_DIR/many_builds.done unless
# told), so that a run that was stopped goes on where it was. Ends with "N passed, N failed".
set -uo pipefail
tests=$1/tests/lib_tests last=$2 done_file=${3:-$1/many_builds.done}
passed=0 failed=0
touch "$done_file"
for ((first = 0; first < last; first += 1000)); do
  upto=$((first + 1000 < last ? first + 1000 : last))
  if grep -qx "$first $upto" "$done_file"; then
    passed=$((passed + upto - first))
  elif FETTLEFUND_FIRST_CASE=$first FETTLEFUND_CASES=$upto "$tests" -tc="the plan of a small build is the best*" >"$done_file.log" 2>&1; then
    echo "$first $upto" >>"$done_file"
    passed=$((passed + upto - first))
  else
    grep -B2 -A12 ERROR "$done_file.log" | head -n 40
    failed=$((failed + upto - first))
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
