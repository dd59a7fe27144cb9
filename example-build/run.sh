#!/usr/bin/env bash
# Installs what is missing, builds Fettlefund into build/ and plans the two invented example builds into example-build/out/.
set -euo pipefail
cd "$(dirname "$0")/.."
. example-build/setup.sh
need_packages "${build_packages[@]}"

mkdir -p build
cmake -S . -B build/release -G Ninja -DCMAKE_BUILD_TYPE=Release -DFETTLEFUND_TESTS=OFF -DFETTLEFUND_BY_ROOM=ALL >build/configure.log 2>&1 || {
  cat build/configure.log >&2
  exit 1
}
cmake --build build/release --parallel

fettlefund=build/release/cli/fettlefund
out=example-build/out
mkdir -p "$out"
for name in outfit camper; do
  build=example-build/$name.build
  "$fettlefund" check "$build"
  "$fettlefund" plan --brief "$build"
  "$fettlefund" plan "$build" >"$out/$name.txt"
  "$fettlefund" plan --json "$build" >"$out/$name.json"
  "$fettlefund" sheet "$build" -o "$out/$name.xlsx"
done
echo "The plans, as text, JSON and workbooks for the partner, are in $out/."
echo "The program is $fettlefund. To have it as a command: cmake --install build/release --component runtime --prefix ~/.local"
