#!/usr/bin/env bash
# Runs the commands of the README's first minutes and of its month, in turn, as a newcomer would in an empty folder.
cd "$(dirname "$0")/.." || exit 1
program=$(realpath "${FETTLEFUND:-build/release/cli/fettlefund}")
passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin"
ln -s "$program" "$work/bin/fettlefund"
export PATH=$work/bin:$PATH
mapfile -t lines < <(sed -n '/^## The first five minutes/,/^## Questions/p' README.md | sed -n '/^```/,/^```/p' |
  grep '^fettlefund ' | sed 's/ *#.*//')
[ ${#lines[@]} -ge 8 ] || { echo "broken: the README has ${#lines[@]} commands to run" && failed=1; }
cd "$work" || exit 1
for line in "${lines[@]}"; do
  if bash -c "$line" >told 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "broken: $line"
    tail -n 5 told
  fi
done
echo "$passed passed, $failed failed"
