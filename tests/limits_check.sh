#!/usr/bin/env bash
# What the program does where the machine or its user stops it: a full disk, a folder that cannot be written, a closed
# standard output, a folder that is gone, SIGTERM and SIGINT. For each command: the exit code, a message, and whether the file of
# before is whole and nothing is left behind. Prints the table; closes with "N passed, N failed, N skipped".
cd "$(dirname "$0")/.." || exit 1
source_tree=$PWD
. tests/need_program.sh
need_program 1
fettlefund=$(realpath "$program")
work=$(mktemp -d)
small=$work/small  # a tmpfs, where this user may mount one
passed=0 failed=0 skipped=0
cleanup() {
  mountpoint -q "$small" 2>/dev/null && umount "$small"
  chmod -R u+w "$work" 2>/dev/null
  rm -rf "$work"
}
trap cleanup EXIT
cd "$work" || exit 1

# row COMMAND FAULT EXIT WANTED_EXITS MESSAGE WANTED_MESSAGE STATE: one line of the table, held to what is wanted.
# STATE is "whole" or tells what is wrong with the earlier file.
row() {
  local verdict=ok
  [[ " $4 " == *" $3 "* ]] || verdict="BROKEN: exit $3, wanted $4"
  grep -qE -- "$6" <<<"$5" || verdict="BROKEN: message, wanted $6"
  [ "$7" = whole ] || [ "$7" = "-" ] || verdict="BROKEN: $7"
  if [ "$verdict" = ok ]; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
  printf '%-9s %-22s exit %-3s %-6s %s%s\n' "$1" "$2" "$3" "$7" "$(grep fettlefund <<<"$5" | head -n 1 | cut -c1-110)" "$([ "$verdict" = ok ] || echo "  <- $verdict")"
}

# state FILE: whether FILE is as the copy FILE.before in $work, and no other file begins with its name.
state() {
  local name folder
  name=$(basename "$1") folder=$(dirname "$1")
  if ! cmp -s "$1" "$work/$name.before"; then
    echo "changed"
  elif [ "$(find "$folder" -maxdepth 1 -name "*$name*" ! -name "*.before" | wc -l)" -ne 1 ]; then
    echo "left-behind"
  else
    echo whole
  fi
}

# The commands that write a file beside the build, with their extension.
writers="sheet:xlsx page:html calendar:ics shopping:csv picture:svg"

"$fettlefund" start bike >/dev/null || exit 1
for one in $writers; do
  "$fettlefund" "${one%:*}" bike.build >/dev/null 2>&1 || { echo "cannot prepare ${one%:*}"; failed=$((failed + 1)); }
done
"$fettlefund" record bike.build remark "the first" --on 2027-01-01 >/dev/null 2>&1
for file in bike.*; do cp "$file" "$file.before"; done

# A folder that cannot be written. Root writes everywhere: it asks for another user's eyes.
mkdir locked
cp bike.build bike.xlsx bike.html bike.ics bike.csv bike.svg bike.record locked/
chmod 444 locked/bike.record
chmod 555 locked
as_other=()
if [ "$(id -u)" -eq 0 ] && command -v setpriv >/dev/null; then
  as_other=(setpriv --reuid=65534 --regid=65534 --clear-groups)
  chmod 755 "$work"
fi
readonly_works=1
"${as_other[@]}" sh -c ': >locked/probe' 2>/dev/null && readonly_works=0
"${as_other[@]}" "$fettlefund" --version >/dev/null 2>&1 || readonly_works=0
if [ $readonly_works -eq 1 ]; then
  for one in $writers; do
    message=$("${as_other[@]}" "$fettlefund" "${one%:*}" locked/bike.build 2>&1 >/dev/null)
    row "${one%:*}" "read-only folder" $? 2 "$(grep -v '^fettlefund: planned' <<<"$message")" "^fettlefund: cannot write locked/bike" "$(state "locked/bike.${one#*:}")"
  done
  message=$("${as_other[@]}" "$fettlefund" record locked/bike.build remark two --on 2027-01-02 2>&1 >/dev/null)
  row record "read-only file" $? 2 "$message" "^fettlefund: cannot write locked/bike.record" "$(state locked/bike.record)"
else
  echo "skipped: no user here for whom a folder is read-only"
  skipped=$((skipped + 1))
fi

# A full disk.
mkdir small
if mount -t tmpfs -o size=256k tmpfs small 2>/dev/null; then
  for one in $writers; do
    cp bike.build bike.record "bike.${one#*:}" small/
    head -c 1000000 /dev/zero >small/filler 2>/dev/null
    message=$("$fettlefund" "${one%:*}" small/bike.build 2>&1 >/dev/null)
    row "${one%:*}" "full disk" $? 2 "$(grep -v '^fettlefund: planned' <<<"$message")" "^fettlefund: cannot write small/bike.*: No space left" "$(state "small/bike.${one#*:}")"
    rm -f small/*
  done
  cp bike.build bike.record small/
  head -c 1000000 /dev/zero >small/filler 2>/dev/null
  # lines that fit into what is left of the last block are written all the same
  for _ in 1 2 3; do
    cp small/bike.record bike.record.before
    message=$("$fettlefund" record small/bike.build remark "$(head -c 3900 /dev/zero | tr '\0' x)" --on 2027-01-02 2>&1 >/dev/null)
    code=$?
    [ $code -eq 0 ] || break
  done
  row record "full disk" $code 2 "$message" "^fettlefund: cannot write small/bike.record: No space left" "$(state small/bike.record)"
  umount small
else
  echo "skipped: no small file system can be mounted here"
  skipped=$((skipped + 1))
fi

# Standard output that takes nothing: a full device, and a closed one.
for command in "plan bike.build" "why bike.build new-tyre" "compare bike.build --with amount=300" "risk bike.build" "plan bike.build --json" "work"; do
  name=${command%% *}
  message=$("$fettlefund" $command --no-log 2>&1 >/dev/full)
  code=$?
  [ "$name" = work ] && { message=$("$fettlefund" $command 2>&1 >/dev/full); code=$?; }
  row "$name" "output full" $code 2 "$message" "cannot write.*standard output" -
done
message=$("$fettlefund" plan bike.build --no-log 2>&1 >&-)
row plan "output closed" $? 2 "$message" "cannot write.*standard output" -
( "$fettlefund" plan bike.build --no-log 2>reader.err; echo $? >reader.code ) | head -n 1 >/dev/null
row plan "reader went away" "$(cat reader.code)" "0 2 141" "$(cat reader.err)" "" -

# A folder that is gone while the program works in it.
mkdir gone && cp bike.build gone/
message=$(cd gone && rm -r ../gone && "$fettlefund" sheet bike.build 2>&1 >/dev/null)
row sheet "vanished folder" $? 2 "$message" "bike.build" -
message=$("$fettlefund" sheet bike.build -o nowhere/bike.xlsx 2>&1 >/dev/null)
row sheet "no such folder" $? 2 "$(grep -v '^fettlefund: planned' <<<"$message")" "^fettlefund: cannot write nowhere/bike.xlsx" -

# SIGTERM and SIGINT while it plans: the best verified plan so far, in every command that plans.
cp "$source_tree/example-build/outfit.build" bench.build
"$fettlefund" sheet bench.build --effort quick >/dev/null 2>&1
cp bench.xlsx bench.xlsx.before
for signal in TERM INT; do
  for command in "plan bench.build" "sheet bench.build --replace" "why bench.build subframe" "compare bench.build --with amount=300" "risk bench.build"; do
    name=${command%% *}
    # a background command of a script ignores SIGINT unless it is told otherwise
    timeout -s KILL 120 env --default-signal=INT,TERM "$fettlefund" $command --effort thorough >signal.out 2>signal.err &
    pid=$!
    sleep 1
    pkill -"$signal" -P "$pid" 2>/dev/null
    wait "$pid"
    code=$?
    row "$name" "SIG$signal" $code "0 4" "$(tail -n 1 signal.err; tail -n 1 signal.out)" "." -
  done
done
python3 - <<'P' || failed=$((failed + 1))
import zipfile
assert zipfile.ZipFile("bench.xlsx").testzip() is None
P
passed=$((passed + 1))

echo "$passed passed, $failed failed, $skipped skipped"
[ $failed -eq 0 ]
