#!/usr/bin/env bash
# Measures the house numbers over budgets, lib and cli: function lengths (name line to closing brace, by Universal Ctags)
# and file lengths. The hard limits are claims; the medians are printed for people.
cd "$(dirname "$0")/.." || exit 1
if ! ctags --version 2>/dev/null | grep -q Universal; then
  echo "skipped: Universal Ctags is not installed"
  echo "0 passed, 0 failed, 3 skipped"
  exit 0
fi
passed=0 failed=0
claim() {  # claim TEXT OFFENDERS
  if [ -z "$2" ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'broken: %s\n%s\n' "$1" "$2"
  fi
}

functions=$(ctags -R -x --languages=C++ --kinds-C++=f --_xformat='%{line} %{end} %F %N' budgets lib cli |
  awk '$2 ~ /^[0-9]+$/ { print $2 - $1 + 1, $3 ":" $1, $4 }' | sort -n)
echo "$functions" | awk '{ n[NR] = $1 } END {
  printf "functions: %d, median %d, p90 %d, longest %d lines\n", NR, n[int((NR + 1) / 2)], n[int(NR * 0.9)], n[NR] }'
files=$(find budgets lib cli -name '*.cpp' -exec wc -l {} + | awk '$2 != "total"' | sort -n)
headers=$(find budgets lib cli -name '*.hpp' -exec wc -l {} + | awk '$2 != "total"' | sort -n)
echo "$files" | awk '{ n[NR] = $1; over += $1 > 300 } END {
  printf "sources: %d, median %d, longest %d lines, %d over 300\n", NR, n[int((NR + 1) / 2)], n[NR], over }'
echo "$headers" | awk '{ n[NR] = $1; over += $1 > 150 } END {
  printf "headers: %d, median %d, longest %d lines, %d over 150\n", NR, n[int((NR + 1) / 2)], n[NR], over }'

claim "no function is longer than 60 lines" "$(echo "$functions" | awk '$1 > 60')"
claim "no source file is longer than 500 lines" "$(echo "$files" | awk '$1 > 500')"
claim "no header is longer than 350 lines" "$(echo "$headers" | awk '$1 > 350')"
echo "$passed passed, $failed failed"
