#!/usr/bin/env bash
# Quick plans of invented builds (make_build.py) hold nine tenths of the best value known (best_known.tsv): the six that once were
# furthest below it.
cd "$(dirname "$0")/../../.." || exit 1
. tests/need_program.sh
need_program 1
export PYTHONDONTWRITEBYTECODE=1
/usr/bin/python3 tests/bench/builds/measure.py "$program" --effort quick --seeds 5,11,14,18,41,52 | awk -F '\t' '
  $1 !~ /^[0-9]+$/ { next }
  $4 != "-" && $4 < 10 { ++passed; next }
  { ++failed; print "build " $1 ": " $4 " % below the best known" }
  END { print passed + 0 " passed, " failed + 0 " failed"; exit failed > 0 || passed != 6 }'
