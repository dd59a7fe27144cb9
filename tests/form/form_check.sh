#!/usr/bin/env bash
# Forms typed into and saved by LibreOffice and openpyxl; see form_edits.py. FETTLEFUND_EDITS sets how many edits.
cd "$(dirname "$0")/../.." || exit 1
. tests/edits/setup.sh
need_program_and_office 6
/usr/bin/python3 tests/form/form_edits.py "$program" "$work"
