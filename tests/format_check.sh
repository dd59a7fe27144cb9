#!/usr/bin/env bash
# Every C++ file is laid out as .clang-format says.
cd "$(dirname "$0")/.." || exit 1
if ! command -v clang-format >/dev/null; then
  echo "skipped: clang-format is not installed"
  echo "0 passed, 0 failed, 1 skipped"
  exit 0
fi
bad=$(git ls-files -z '*.cpp' '*.hpp' | xargs -0 clang-format --dry-run 2>&1 | grep -E '^[^ ]+:[0-9]+:[0-9]+: warning' | cut -d: -f1 | sort | uniq -c)
if [ -n "$bad" ]; then
  echo "broken: every C++ file is laid out as .clang-format says; places in:"
  echo "$bad"
  echo "0 passed, 1 failed"
  exit 1
fi
echo "ok: every C++ file is laid out as .clang-format says"
echo "1 passed, 0 failed"
