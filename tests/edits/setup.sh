# Sourced by the checks of edited workbooks: the program, and a folder to work in that is gone at the end.
program=${FETTLEFUND:-$PWD/build/cli/fettlefund}
export PYTHONDONTWRITEBYTECODE=1

# need_program_and_office CLAIMS: ends the check where something is missing; CLAIMS are skipped without an office program.
need_program_and_office() {
  if [ ! -x "$program" ]; then
    echo "broken: $program is not built"
    echo "0 passed, 1 failed"
    exit 1
  fi
  if ! command -v soffice >/dev/null || ! /usr/bin/python3 -c "import openpyxl" 2>/dev/null; then
    echo "skipped: LibreOffice or openpyxl is not installed"
    echo "0 passed, 0 failed, $1 skipped"
    exit 0
  fi
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
