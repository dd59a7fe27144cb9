# Sourced by the run scripts: installs Debian packages that are missing, and says which.

# need_packages NAME...: returns once all of them are installed; stops the script with a message if they cannot be.
need_packages() {
  local missing=() name
  for name in "$@"; do
    dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'install ok installed' || missing+=("$name")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  echo "Installing with apt (no recommended packages): ${missing[*]}"
  local as_root=()
  [ "$(id -u)" -eq 0 ] || as_root=(sudo)
  # A source of packages that cannot be reached, of another program say, need not stop the install.
  "${as_root[@]}" apt-get update -qq ||
    echo "Warning: not every package source could be refreshed; trying the install all the same." >&2
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" \
    >/dev/null || {
    echo "Could not install: ${missing[*]}. By hand: ${as_root[*]} apt-get install --no-install-recommends ${missing[*]}" >&2
    exit 1
  }
}

# What the program is built with.
build_packages=(g++ cmake ninja-build pkg-config libxlsxwriter-dev libzip-dev zlib1g-dev libpugixml-dev nlohmann-json3-dev
  libfmt-dev libcli11-dev libboost-dev libutf8proc-dev)
