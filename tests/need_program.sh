# Sourced by checks, from the root of the tree: the program they look at, $FETTLEFUND or the one of the release tests.
program=${FETTLEFUND:-$PWD/build/tests/cli/fettlefund}

# need_program CLAIMS: ends the check where the program is not built; CLAIMS are skipped.
need_program() {
  [ -x "$program" ] && return
  echo "skipped: $program is not built"
  echo "0 passed, 0 failed, $1 skipped"
  exit 0
}
