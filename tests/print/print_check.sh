#!/bin/sh
# Prints the workbooks of the examples and of the kept build of evenings to PDF with LibreOffice and measures them with poppler: a table of
# the size of the type and how full the pages are, sheet by sheet. Claims: Overview, Shopping and Easily forgotten are upright, have no type under
# 9 points, no page that has room for the next and no last page with little on it; rows of Shopping are hardly taller than their texts; all is A4
# and names its sheet; the chart stands whole on one page, by date. From the workbook: cells to type into have lines around them, headings of
# Shopping repeat, the article stays in sight beside Paid. The workbook's font is Calibri: Carlito has the same widths.
#   print_check.sh      the program is $FETTLEFUND, or build/tests/cli/fettlefund
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${FETTLEFUND:-$root/build/tests/cli/fettlefund}
for need in soffice pdftohtml python3; do
  command -v $need >/dev/null && continue
  echo "skipped: $need is not installed"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
done
fc-list 2>/dev/null | grep -qiE "carlito|calibri" || { echo "skipped: no font as wide as the workbook's is installed"; echo "0 passed, 0 failed, 1 skipped"; exit 0; }
[ -x "$program" ] || { echo "skipped: $program is not built"; echo "0 passed, 0 failed, 1 skipped"; exit 0; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for build in example-build/outfit example-build/camper tests/golden/good/evenings; do
  "$program" sheet "$root/$build.build" --effort quick -o "$work/${build##*/}.xlsx" >/dev/null 2>&1
done
soffice "-env:UserInstallation=file://$work/home" --headless --convert-to pdf --outdir "$work" "$work"/*.xlsx >/dev/null 2>&1
PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 "$root/tests/print/print.py" "$work"/outfit.pdf "$work"/camper.pdf "$work"/evenings.pdf
