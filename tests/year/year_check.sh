#!/usr/bin/env bash
# Lives through a few untidy years and holds the program's cash against ledgers of its own; see README.md beside this.
#   FETTLEFUND_YEARS=300 tests/year/year_check.sh     more: half of them in sheds, half of the examples and ten bench builds
cd "$(dirname "$0")/../.." || exit 1
. tests/need_program.sh
need_program 1
export PYTHONDONTWRITEBYTECODE=1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
sheds=3 rounds=1 builds=(example-build/camper.build)
if [ -n "${FETTLEFUND_YEARS:-}" ]; then
  for seed in 1 2 3 4 5 6 7 8 9 10; do
    /usr/bin/python3 tests/bench/builds/make_build.py $seed >"$work/bench-$seed.build"
  done
  builds=(example-build/*.build "$work"/*.build)
  sheds=$(((FETTLEFUND_YEARS + 1) / 2)) rounds=$(((FETTLEFUND_YEARS / 2 + ${#builds[@]} - 1) / ${#builds[@]}))
fi
{
  /usr/bin/python3 tests/year/simulate.py "$program" "$sheds"
  /usr/bin/python3 tests/year/simulate.py "$program" "$rounds" --build "${builds[@]}"
} | awk '/^[0-9]+ passed, [0-9]+ failed$/ { passed += $1; failed += $3; next } { print }
  END { print passed + 0 " passed, " failed + 0 " failed"; exit failed > 0 || passed == 0 }'
