#!/usr/bin/env bash
# Runs the solver and general engines side by side on exchange files and prints a table, in processor seconds: cbc, and any engine
# given by a command (see README.md). BUILD names the build folder (default: build). Ends with 1 if two of them contradict each other.
set -uo pipefail
here=$(cd "$(dirname "$0")" && pwd)
bin=${BUILD:-$here/../../build}/tests/bench
effort=normal limit=60
names=() commands=()

usage() {
  echo "usage: compare_engines.sh [--effort quick|normal|thorough] [--seconds N] [--engine NAME=COMMAND]... FILE..." >&2
  exit 2
}

while [[ ${1:-} == --* ]]; do
  [ $# -ge 2 ] || usage
  case $1 in
    --effort) effort=$2 ;;
    --seconds) [[ $2 =~ ^[1-9][0-9]*$ ]] || usage; limit=$2 ;;
    --engine) [[ $2 == ?*=?* ]] || usage; names+=("${2%%=*}") commands+=("${2#*=}") ;;
    *) usage ;;
  esac
  shift 2
done
[ $# -gt 0 ] || usage
if command -v cbc >/dev/null; then
  names=(cbc ${names[@]+"${names[@]}"}) commands=(run_cbc ${commands[@]+"${commands[@]}"})
elif [ ${#names[@]} -eq 0 ]; then
  echo "skipped: cbc is not installed (Debian package coinor-cbc), and no other engine was given"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# field NAME: that field of the bench line on standard input.
field() { sed -E "s/.*\"$1\": \"?([^\",}]*).*/\1/"; }

# turned NAME: that figure of cbc's summary with its sign turned round, for we maximise.
turned() { sed -nE "s/^$1 *:? *(-?[0-9.e+]+).*/\1/p" "$work/cbc" | tail -n 1 | awk '{ printf "%.6g", -$1 + 0 }'; }

# run_cbc FILE.lp SECONDS: as any engine, prints "status value bound seconds".
run_cbc() {
  cbc "$1" -seconds "$2" -solve -quit >"$work/cbc" 2>&1
  local seconds value status bound
  seconds=$(sed -nE 's/^Total time \(CPU seconds\): *([0-9.]+).*/\1/p' "$work/cbc")
  value=$(turned 'Objective value')
  if grep -q '^Result - Optimal solution found' "$work/cbc" && ! grep -qi 'gap *: *[0-9]' "$work/cbc"; then
    status=proven bound=$value
  elif grep -qi '^Result - .*infeasible' "$work/cbc"; then
    status=impossible value=- bound=-
  else
    status=stopped bound=$(turned 'Lower bound')
  fi
  echo "$status ${value:--} ${bound:--} ${seconds:--}"
}
export -f run_cbc turned
export work

# run_ours FILE: the same for this solver.
run_ours() {
  local line
  line=$("$bin/staging_bench" "$1" --effort "$effort") || return 1
  echo "$(field status <<<"$line") $(field value <<<"$line") $(field bound <<<"$line") $(field cpu_seconds <<<"$line")" | sed 's/null/-/g'
}

# answer COMMAND...: the line that a command prints, or "failed" where it is none.
answer() {
  local number='(-|-?[0-9]+(\.[0-9]+)?(e[+-]?[0-9]+)?)' line
  line=$("$@" 2>"$work/complaint" | tail -n 1)
  if [[ $line =~ ^(proven|stopped|impossible)\ $number\ $number\ $number$ ]]; then
    echo "$line"
  else
    echo "failed - - -"
    head -n 3 "$work/complaint" | cut -c 1-200 >&2
  fi
}

# contradictions: reads "name status value bound"; every plan is within every bound, and either all or none find it impossible.
contradictions() {
  awk '{ name[NR] = $1; status[NR] = $2; value[NR] = $3; bound[NR] = $4 }
    END { for (a = 1; a <= NR; ++a) for (b = 1; b <= NR; ++b) {
      if (value[a] != "-" && bound[b] != "-" && value[a] > bound[b] + 0.001)
        print "contradiction: " name[a] " has a plan of " value[a] ", " name[b] " a bound of " bound[b]
      if (value[a] != "-" && status[b] == "impossible") print "contradiction: " name[a] " has a plan, " name[b] " says impossible" } }'
}

# Columns as wide as the others, a block for each engine.
head_block() { printf ' | %-10s %9s %9s %8s' "$1" value bound seconds; }
{ printf '%-20s' file; for name in ours "${names[@]}"; do head_block "$name"; done; echo; }
good=0
for file in "$@"; do
  "$bin/staging_lp" "$file" >"$work/problem.lp" || { good=1; continue; }
  printf '%-20s' "$(basename "$file" .json)"
  : >"$work/answers"
  for i in ours "${!names[@]}"; do
    if [ "$i" = ours ]; then
      read -r status value bound seconds < <(answer run_ours "$file") && name=ours
    else
      name=${names[i]}
      read -r status value bound seconds < <(answer bash -c "${commands[i]} \"\$@\"" engine "$work/problem.lp" "$limit")
    fi
    printf ' | %-10s %9s %9s %8s' "$status" "$value" "$bound" "$seconds"
    echo "$name $status $value $bound" >>"$work/answers"
    [ "$status" != failed ] || good=1
  done
  echo
  contradictions <"$work/answers" >"$work/contradictions"
  [ ! -s "$work/contradictions" ] || { cat "$work/contradictions"; good=1; }
done
exit "$good"
