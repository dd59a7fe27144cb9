#!/usr/bin/env bash
# Makes the Debian packages of a finished build, unpacks them into an empty root and uses what is there: the program, the
# manual pages, the completions, and the libraries in a program of their own.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-build/release/cli/fettlefund}
build=$(cd "$(dirname "$program")/.." 2>/dev/null && pwd)
. tests/package/claims.sh
work=$(mktemp -d)
trap 'rm -rf "$work" "$told"' EXIT
for tool in cpack dpkg-shlibdeps dpkg-deb file; do
  command -v "$tool" >/dev/null && continue
  echo "skipped: $tool is not installed"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
done

root=$work/root
mkdir -p "$root"
check "packages are made" cpack -G DEB -B "$work" --config "$build/CPackConfig.cmake"
for package in "$work"/fettlefund_*.deb "$work"/fettlefund-dev_*.deb; do
  check "$(basename "$package") unpacks" dpkg-deb -x "$package" "$root"
done
check "the program tells its version" "$root/usr/bin/fettlefund" --version
(cd "$work" && check "a first build is written" "$root/usr/bin/fettlefund" start my-bike)
check "the first build plans" "$root/usr/bin/fettlefund" plan "$work/my-bike.build"
staging_answers() { echo '{"stages": [{"cash_in": 50, "hours": 4}], "tasks": [{"cost": 30, "hours": 2, "value": 5}]}' |
  "$root/usr/bin/fettlefund-staging" | grep -qF '"status":"proven","value":5,"bound":5,"tasks":[0]'; }
check "the solver answers other programs" staging_answers
check "the solver has a manual page" test -s "$root/usr/share/man/man1/fettlefund-staging.1.gz"
check "bash reads its completion" bash -n "$root/usr/share/bash-completion/completions/fettlefund"
complete_as_typed() {  # complete_as_typed EXPECTED WORD...: what bash offers behind these words
  local expected=$1
  shift
  PATH=$root/usr/bin:$PATH bash -c '. "$0"; expected=$1; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); compopt() { :; }
    _fettlefund; printf "%s\n" "${COMPREPLY[@]}" | grep -qxF -e "$expected"' \
    "$root/usr/share/bash-completion/completions/fettlefund" "$expected" "$@"
}
check "bash completes commands" complete_as_typed compare fettlefund com
check "bash completes options" complete_as_typed --effort fettlefund plan --eff
check "bash completes actions" complete_as_typed fitted fettlefund record x.build fit
job=$("$root/usr/bin/fettlefund" ids "$work/my-bike.build" jobs | head -n 1 | cut -f1)
check "bash completes the jobs of the build named" complete_as_typed "$job" fettlefund why "$work/my-bike.build" ""
check "every manual page is compressed" test "$(ls "$root"/usr/share/man/man1/*.gz | wc -l)" -ge 10
check "no manual page is empty" bash -c 'for page in "$0"/usr/share/man/man1/*.gz; do [ "$(zcat "$page" | wc -l)" -gt 10 ] || exit 1; done' "$root"
check "headers of the search stay inside" bash -c '! ls "$0"/usr/include/fettlefund/budgets/search' "$root"
check "a program of its own finds the libraries" cmake -S example-build/library -B "$work/library" -G Ninja \
  -DCMAKE_PREFIX_PATH="$root/usr" -DFettlefund_DIR="$(dirname "$(find "$root" -name FettlefundConfig.cmake)")"
check "and is built with them" cmake --build "$work/library"
check "and plans" bash -c '[ "$("$0" example-build/camper.build | tail -n 1)" = "Harrow van to camper: 10 stages planned" ] || { "$0" example-build/camper.build; exit 1; }' "$work/library/plan_in_code"
echo "$passed passed, $failed failed"
