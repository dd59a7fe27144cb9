#!/usr/bin/env bash
# Builds the program as one file without dependencies, for Linux systems of the same processor that have none of its
# libraries: cli/package/static.sh [FOLDER], by default build/static. The result is FOLDER/fettlefund.
# Debian 12 has static libraries of zlib, pugixml, utf8proc, the C and the C++ library, and none of libxlsxwriter, libzip and fmt: these
# three are built from Debian's own source packages, which apt fetches (the system's sources are asked, nothing of it is changed).
set -euo pipefail
cd "$(dirname "$0")/../.."
folder=${1:-build/static}
type=${CMAKE_BUILD_TYPE:-Release}
mkdir -p "$folder/sources/lists/partial"
folder=$(cd "$folder" && pwd)
prefix=$folder/libraries
for tool in apt-get dpkg-source cmake ninja; do
  command -v "$tool" >/dev/null || { echo "$tool is not installed" >&2; exit 1; }
done

# The system's package sources once more, asked for source packages, with lists of their own.
mkdir -p "$folder/sources/parts"
for list in /etc/apt/sources.list.d/*.sources; do
  [ -e "$list" ] && sed 's/^Types:.*/Types: deb-src/' "$list" >"$folder/sources/parts/$(basename "$list")"
done
for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
  [ -e "$list" ] && sed -n 's/^deb /deb-src /p' "$list" >"$folder/sources/parts/$(basename "$list" .list).list"
done
apt=(apt-get -q -o Dir::Etc::sourcelist=- -o "Dir::Etc::sourceparts=$folder/sources/parts" -o "Dir::State::lists=$folder/sources/lists")

# library NAME CMAKE_OPTION...: builds the static library of a source package into the prefix, once.
library() {
  local name=$1
  shift
  [ -e "$prefix/$name.done" ] && return
  (cd "$folder/sources" && "${apt[@]}" source --download-only "$name" && rm -rf "$name" && dpkg-source -x "$name"_*.dsc "$name")
  cmake -S "$folder/sources/$name" -B "$folder/sources/$name-build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DBUILD_SHARED_LIBS=OFF \
    "-DCMAKE_INSTALL_PREFIX=$prefix" -DCMAKE_INSTALL_LIBDIR=lib "$@"
  ninja -C "$folder/sources/$name-build" install
  touch "$prefix/$name.done"
}
[ -e "$prefix/libzip.done" ] || "${apt[@]}" update
library fmtlib -DFMT_TEST=OFF -DFMT_DOC=OFF
library libxlsxwriter
# zlib's compression is all that workbooks use
library libzip -DENABLE_BZIP2=OFF -DENABLE_LZMA=OFF -DENABLE_ZSTD=OFF -DENABLE_OPENSSL=OFF -DENABLE_GNUTLS=OFF -DENABLE_MBEDTLS=OFF \
  -DENABLE_COMMONCRYPTO=OFF -DBUILD_TOOLS=OFF -DBUILD_REGRESS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_DOC=OFF

PKG_CONFIG_PATH=$prefix/lib/pkgconfig cmake -S . -B "$folder/program" -G Ninja "-DCMAKE_BUILD_TYPE=$type" -DFETTLEFUND_STATIC=ON \
  -DFETTLEFUND_TESTS=OFF "-DCMAKE_PREFIX_PATH=$prefix" ${FETTLEFUND_CMAKE_OPTIONS:-}
ninja -C "$folder/program" ${FETTLEFUND_NINJA_OPTIONS:-} fettlefund fettlefund-staging
for program in fettlefund fettlefund-staging; do
  strip -o "$folder/$program" "$folder/program/cli/$program"
done
if ldd "$folder/fettlefund" >/dev/null 2>&1; then
  echo "the program is not static" >&2
  exit 1
fi
echo "$folder/fettlefund"
