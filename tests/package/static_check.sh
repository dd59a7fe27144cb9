#!/usr/bin/env bash
# Uses the program of cli/package/static.sh where there is nothing else: in an empty root with that one file.
#   static_check.sh      the program is $FETTLEFUND_STATIC, or build/static/fettlefund
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND_STATIC:-build/static/fettlefund}
if [ ! -x "$program" ]; then
  echo "skipped: $program is not built (cli/package/static.sh builds it)"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
fi
root=$(mktemp -d)
trap 'rm -rf "$root" "$told"' EXIT
cp "$program" "$root/fettlefund"
cp "$(dirname "$program")/fettlefund-staging" "$root/"
mkdir "$root/tmp"  # the library that writes workbooks keeps its parts there
if ! chroot "$root" /fettlefund --version >/dev/null 2>&1; then
  if [ "$(id -u)" -ne 0 ]; then
    echo "skipped: this user cannot enter another root"
    echo "0 passed, 0 failed, 1 skipped"
    exit 0
  fi
fi
. tests/package/claims.sh
inside() { chroot "$root" "$@"; }
check "it needs no other file" bash -c '! ldd "$0"' "$root/fettlefund"
check "it tells its version" inside /fettlefund --version
check "a first build is written" inside /fettlefund start my-bike
check "it plans" inside /fettlefund plan my-bike.build
for command in sheet page calendar shopping picture; do
  check "$command is written" inside /fettlefund "$command" my-bike.build
done
check "something is recorded" inside /fettlefund record my-bike.build in 10 "sold" --on "$(date +%F)"
check "the workbook is read back" inside /fettlefund record my-bike.build --from my-bike.xlsx --dry-run
staging() { echo '{"stages": [{"cash_in": 50, "hours": 4}], "tasks": [{"cost": 30, "hours": 2, "value": 5}]}' |
  chroot "$root" /fettlefund-staging | grep -q '"status":"proven"'; }
check "the solver answers" staging
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
