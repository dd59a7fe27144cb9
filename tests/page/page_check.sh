#!/usr/bin/env bash
# Opens the pages of both examples and of a build with hostile texts in Chromium without a screen: at 360, 768 and 1366
# pixels, light and dark, and printed on A4 and A5. Debian's HTML Tidy reads them for errors. Then faults are planted into
# one of them, and each has to break its claim.
cd "$(dirname "$0")/../.." || exit 1
program=${FETTLEFUND:-build/cli/fettlefund}
for tool in chromium tidy pdftotext pdftohtml; do
  if ! command -v "$tool" >/dev/null; then
    echo "skipped: $tool is not installed"
    echo "0 passed, 0 failed, 1 skipped"
    exit 0
  fi
done
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cp example-build/*.build tests/page/hostile.build "$folder"
pages=()
for build in "$folder"/*.build; do
  "$program" page "$build" >/dev/null 2>"$folder/told" || cat "$folder/told"
  pages+=("${build%.build}.html")
done
/usr/bin/python3 tests/page/page.py "$folder" "${pages[@]}"
