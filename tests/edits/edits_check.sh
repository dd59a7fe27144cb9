#!/usr/bin/env bash
# Edits workbooks through LibreOffice and openpyxl and reads them back; see edits.py.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-$PWD/build/cli/fettlefund}
export PYTHONDONTWRITEBYTECODE=1
if [ ! -x "$program" ]; then
  echo "broken: $program is not built"
  echo "0 passed, 1 failed"
  exit 1
fi
if ! command -v soffice >/dev/null || ! /usr/bin/python3 -c "import openpyxl" 2>/dev/null; then
  echo "skipped: LibreOffice or openpyxl is not installed"
  echo "0 passed, 0 failed, 8 skipped"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
/usr/bin/python3 tests/edits/edits.py "$program" "$work"
