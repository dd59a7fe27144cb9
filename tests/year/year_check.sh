#!/usr/bin/env bash
# Lives through a few untidy years and holds the program's cash against a ledger of its own; see simulate.py.
#   FETTLEFUND_YEARS=300 tests/year/year_check.sh     more of them
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-$PWD/build/tests/cli/fettlefund}
if [ ! -x "$program" ]; then
  echo "skipped: $program is not built"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
fi
PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 tests/year/simulate.py "$program" "${FETTLEFUND_YEARS:-3}"
