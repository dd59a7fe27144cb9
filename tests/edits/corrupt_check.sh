#!/usr/bin/env bash
# Hands the program 1,000 damaged workbooks; see corrupt.py.
cd "$(dirname "$0")/../.." || exit 1
. tests/edits/setup.sh
need_program_and_office 7
/usr/bin/python3 tests/edits/corrupt.py "$program" "$work"
