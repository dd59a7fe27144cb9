# Sourced by the checks of the packages: claims held by commands, counted in `passed` and `failed`.
passed=0 failed=0
told=$(mktemp)
# check TEXT COMMAND...: the claim holds where the command succeeds; else what it said is shown.
check() {
  local text=$1
  shift
  if "$@" >"$told" 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'broken: %s\n' "$text"
    tail -n 20 "$told"
  fi
}
