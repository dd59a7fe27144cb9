#!/usr/bin/env bash
# Holds the arrows of the house: cli -> lib -> budgets, and third-party headers in the .cpp files of their rooms.
cd "$(dirname "$0")/.." || exit 1
passed=0 failed=0

# claim TEXT PATTERN PLACE...: no line of the files under the places may match the pattern.
claim() {
  local text=$1 pattern=$2 hits
  shift 2
  hits=$(grep -rnE --include='*.hpp' --include='*.cpp' "$pattern" "$@")
  if [ -z "$hits" ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'broken: %s\n%s\n' "$text" "$hits"
  fi
}

# elsewhere PATTERN ROOM...: hits of the pattern in lib, cli, budgets outside those rooms, or in any header.
confine() {
  local text=$1 pattern=$2 hits
  shift 2
  local allowed
  allowed=$(printf '|^%s/[a-z0-9_/]*\\.cpp:' "$@")
  hits=$(grep -rnE --include='*.hpp' --include='*.cpp' "$pattern" budgets lib cli | grep -vE "${allowed:1}")
  if [ -z "$hits" ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'broken: %s\n%s\n' "$text" "$hits"
  fi
}

claim "budgets includes only itself and the standard library" '#include ("(lib|cli|tests)/|<[a-z_]+(/|\.h))' budgets
claim "the verifier shares no code with costing or the search" \
  '#include "budgets/(costing|risk|search|solve|what_if)|order_stage|opened_by|cost\(' budgets/verify
claim "nobody but solve and what_if looks into the search" \
  '#include "budgets/search/' budgets/solve.hpp budgets/values budgets/problem budgets/costing budgets/verify budgets/risk lib cli
claim "lib never includes cli or tests" '#include "(cli|tests)/' lib
claim "cli never includes tests" '#include "tests/' cli
claim "nothing in the program sets the locale" 'setlocale' budgets lib cli
confine "JSON stays in the reader, the report and the exchange form" 'include <nlohmann' lib/build lib/report lib/exchange
confine "checksums stay in the log room" 'include <boost/crc' lib/log
confine "graph algorithms stay in the graph room" 'include <boost/graph' lib/graph
confine "workbook writing stays in the sheets room" 'include <xlsxwriter' lib/sheets
confine "workbook reading stays in the sheets room" 'include <(zip\.h|pugixml)' lib/sheets
confine "what characters are stays in the text room" 'include <utf8proc' lib/text
confine "command-line parsing stays where words become requests" 'include <CLI/' cli/command_line cli/staging

# Planted faults (tests/mutation) are found by the text that they replace.
if python3 tests/mutation/plant.py --check; then
  passed=$((passed + 1))
else
  failed=$((failed + 1))
  echo 'broken: every fault of tests/mutation/faults.tsv applies exactly once (README.md there)'
fi
echo "$passed passed, $failed failed"
