#!/usr/bin/env bash
# Solves the instances of baseline.tsv whose names match PATTERN (default: small) and prints what differs from the table.
# Ends with 1 if a proven value changed. BUILD names the build folder (default: build).
set -uo pipefail
here=$(cd "$(dirname "$0")" && pwd)
bin=${BUILD:-$here/../../build}/tests/bench
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bad=0 same=0
while IFS=$'\t' read -r instance status value bound states; do
  [ "$instance" = instance ] && continue
  [[ $instance == *${1:-small}* ]] || continue
  "$bin/staging_make" "${instance%_*}" "${instance##*_}" >"$work/problem.json" || exit 2
  line=$("$bin/staging_bench" "$work/problem.json" | tr -d '"{} ')
  declare -A now=()
  while IFS=: read -r key figure; do now[$key]=$figure; done < <(tr ',' '\n' <<<"$line")
  was="$status $value $bound $states" is="${now[status]} ${now[value]} ${now[bound]} ${now[states]}"
  if [ "$was" = "$is" ]; then same=$((same + 1)); else echo "$instance: was $was, is $is"; fi
  if [ "$status" = proven ] && [ "${now[status]}" = proven ] && [ "$value" != "${now[value]}" ]; then bad=1; fi
done <"$here/baseline.tsv"
echo "$same as in the table"
exit $bad
