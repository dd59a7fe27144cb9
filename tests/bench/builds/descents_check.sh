#!/usr/bin/env bash
# Quick plans of invented builds (make_build.py) hold nine tenths of the best value known (best_known.tsv). Builds of which descents find
# plans that can only be bought for in one way among very many, which must not be lost on the way from a descent to the plan.
cd "$(dirname "$0")/../../.." || exit 1
program=${FETTLEFUND:-$PWD/build/tests/cli/fettlefund}
if [ ! -x "$program" ]; then
  echo "skipped: $program is not built"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
fi
export PYTHONDONTWRITEBYTECODE=1
/usr/bin/python3 tests/bench/builds/measure.py "$program" --effort quick --seeds 3,5,11,14,18,54 | awk -F '\t' '
  $1 !~ /^[0-9]+$/ { next }
  $4 != "-" && $4 < 10 { ++passed; next }
  { ++failed; print "build " $1 ": " $4 " % below the best known" }
  END { print passed + 0 " passed, " failed + 0 " failed"; exit failed > 0 || passed != 6 }'
