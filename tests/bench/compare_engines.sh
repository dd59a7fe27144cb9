#!/usr/bin/env bash
# Runs the solver and cbc side by side on exchange files and prints a table, in processor seconds. BUILD names the build folder (default: build).
set -uo pipefail
here=$(cd "$(dirname "$0")" && pwd)
bin=${BUILD:-$here/../../build}/tests/bench
effort=normal
if [ "${1:-}" = --effort ]; then
  effort=${2:-}
  shift 2
fi
if [ $# -eq 0 ]; then
  echo "usage: compare_engines.sh [--effort quick|normal|thorough] FILE..." >&2
  exit 2
fi
if ! command -v cbc >/dev/null; then
  echo "skipped: cbc is not installed (Debian package coinor-cbc)"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# field NAME: that field of the bench line on standard input.
field() { sed -E "s/.*\"$1\": \"?([^\",}]*).*/\1/"; }

# turned NAME: that figure of cbc's summary with its sign turned round, for we maximise.
turned() { sed -nE "s/^$1 *:? *(-?[0-9.e+]+).*/\1/p" "$work/cbc" | tail -n 1 | awk '{ printf "%.6g", -$1 + 0 }'; }

printf '%-24s | %-10s %9s %9s %8s | %-10s %9s %9s %8s\n' file ours value bound seconds cbc value bound seconds
for file in "$@"; do
  line=$("$bin/staging_bench" "$file" --effort "$effort") || { echo "$file: the bench failed" >&2; continue; }
  "$bin/staging_lp" "$file" >"$work/problem.lp" || continue
  cbc "$work/problem.lp" -seconds 60 -solve -quit >"$work/cbc" 2>&1
  seconds=$(sed -nE 's/^Total time \(CPU seconds\): *([0-9.]+).*/\1/p' "$work/cbc")
  value=$(turned 'Objective value')
  if grep -q '^Result - Optimal solution found' "$work/cbc" && ! grep -qi 'gap *: *[0-9]' "$work/cbc"; then
    status=proven bound=$value
  elif grep -qi '^Result - .*infeasible' "$work/cbc"; then
    status=impossible value=- bound=-
  else
    status=stopped bound=$(turned 'Lower bound')
  fi
  printf '%-24s | %-10s %9s %9s %8s | %-10s %9s %9s %8s\n' "$(basename "$file" .json)" \
    "$(field status <<<"$line")" "$(field value <<<"$line")" "$(field bound <<<"$line")" "$(field cpu_seconds <<<"$line")" \
    "$status" "${value:--}" "${bound:--}" "$seconds"
done
