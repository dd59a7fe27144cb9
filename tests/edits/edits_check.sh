#!/usr/bin/env bash
# Edits workbooks through LibreOffice and openpyxl and reads them back; see edits.py.
cd "$(dirname "$0")/../.." || exit 1
. tests/edits/setup.sh
need_program_and_office 8
/usr/bin/python3 tests/edits/edits.py "$program" "$work"
