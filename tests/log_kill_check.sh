#!/usr/bin/env bash
# Kills `record`, `record --merge` and `sheet` at random moments until 100 of each were hit (FETTLEFUND_KILLS: more): the log and the workbook
# of before are whole every time. And lets two processes record at once as often: nothing is lost.
# A log is whole when everything that was there before is still there, and every entry that was reported is readable.
cd "$(dirname "$0")/.." || exit 1
. tests/need_program.sh
need_program 7
fettlefund=$program
rounds=${FETTLEFUND_KILLS:-100}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0 failed=0
RANDOM=20270101  # the moments are the same choices every time; what they hit is up to the machine

# claim TEXT FAULTS: passes if there are none.
claim() {
  if [ "$2" -eq 0 ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "broken: $1 ($2 times)"
  fi
}

# stop_at_random LONGEST_US COMMAND...: starts the command and kills it within that many microseconds.
stop_at_random() {
  local most=$1 pid
  shift
  "$@" >"$work/out" 2>"$work/err" &
  pid=$!
  sleep "$(printf '0.%06d' $(((RANDOM * 32768 + RANDOM) % most)))"
  kill -9 "$pid" 2>/dev/null && killed=$((killed + 1))
  wait "$pid" 2>/dev/null
}

# longest COMMAND...: how long it takes, in microseconds, at most a second.
longest() {
  local begin end
  begin=$(date +%s%N)
  "$@" >/dev/null 2>&1
  end=$(date +%s%N)
  local us=$(((end - begin) / 1000 + 1000))
  echo $((us > 999000 ? 999000 : us))
}

cd "$work" || exit 1
"$fettlefund" start bike >/dev/null
"$fettlefund" record bike.build remark "the first" --on 2027-01-01 >/dev/null || failed=$((failed + 1))

faults=0 reported=1 killed=0
most=$(longest "$fettlefund" record bike.build remark "how long" --on 2027-01-01)
cp bike.record before
for ((i = 1; killed < rounds && i <= 10 * rounds; ++i)); do
  stop_at_random "$most" "$fettlefund" record bike.build remark "round $i of the kill check" --on 2027-01-02
  grep -q '^Recorded in' "$work/out" && reported=$((reported + 1))
  # What a torn end may hide is only what was being written.
  size=$(stat -c %s before)
  cmp -s -n "$size" before bike.record || faults=$((faults + 1))
  "$fettlefund" record bike.build list >"$work/list" 2>"$work/err" || faults=$((faults + 1))
  [ "$(wc -l <"$work/list")" -ge "$reported" ] || faults=$((faults + 1))
  # The whole lines stay from now on; a torn end is cut off by the next entry.
  head -n "$(($(wc -l <"$work/list") + 1))" bike.record >before
done
"$fettlefund" record bike.build remark "the last" --on 2027-01-03 >/dev/null || faults=$((faults + 1))
"$fettlefund" record bike.build list 2>"$work/err" | tail -n 1 | grep -q 'the last' || faults=$((faults + 1))
[ -s "$work/err" ] && faults=$((faults + 1))
echo "record: killed $killed of $((i - 1)) times, $reported entries reported, $(wc -l <"$work/list") in the log"
claim "a killed record leaves the log whole" "$faults"
claim "enough of record was killed" $((killed < rounds))

faults=0 lost=0
for ((i = 1; i <= rounds; ++i)); do
  "$fettlefund" record bike.build remark "one side, round $i" --on 2027-01-04 >/dev/null 2>one.err &
  one=$!
  "$fettlefund" record bike.build remark "other side, round $i" --on 2027-01-04 >/dev/null 2>other.err &
  other=$!
  wait "$one" || faults=$((faults + 1))
  wait "$other" || faults=$((faults + 1))
done
"$fettlefund" record bike.build list >"$work/list" 2>"$work/err" || faults=$((faults + 1))
for ((i = 1; i <= rounds; ++i)); do
  [ "$(grep -cE "(one|other) side, round $i\$" "$work/list")" -eq 2 ] || lost=$((lost + 1))
done
echo "two at once: $rounds times"
claim "two processes that record at once lose nothing" $((faults + lost))

# A record of somebody else that began as this one did: killed, the merge has happened wholly or not at all.
faults=0 killed=0
cp bike.build theirs.build
head -n 3 bike.record >theirs.record
"$fettlefund" record theirs.build remark "theirs" --on 2027-01-05 >/dev/null || failed=$((failed + 1))
cp bike.record before
cp bike.record merged.record && cp bike.build merged.build
"$fettlefund" record merged.build --merge theirs.record >/dev/null || failed=$((failed + 1))
most=$(longest "$fettlefund" record bike.build --merge theirs.record)
for ((i = 1; killed < rounds && i <= 10 * rounds; ++i)); do
  cp before bike.record
  stop_at_random "$most" "$fettlefund" record bike.build --merge theirs.record
  cmp -s before bike.record || cmp -s merged.record bike.record || faults=$((faults + 1))
  rm -f bike.old-*.record
done
"$fettlefund" record bike.build --merge theirs.record >/dev/null || faults=$((faults + 1))
cmp -s merged.record bike.record || faults=$((faults + 1))
echo "merge: killed $killed of $((i - 1)) times"
claim "a killed merge leaves the record of before or the merged one" "$faults"
claim "enough of merge was killed" $((killed < rounds))

faults=0 killed=0
"$fettlefund" sheet bike.build >/dev/null 2>&1 || failed=$((failed + 1))
cp bike.xlsx before.xlsx
most=$(longest "$fettlefund" sheet bike.build)
for ((i = 1; killed < rounds && i <= 10 * rounds; ++i)); do
  stop_at_random "$most" "$fettlefund" sheet bike.build
  cmp -s before.xlsx bike.xlsx || faults=$((faults + 1))
done
"$fettlefund" sheet bike.build >/dev/null 2>&1 || faults=$((faults + 1))
cmp -s before.xlsx bike.xlsx || faults=$((faults + 1))
echo "sheet: killed $killed of $((i - 1)) times"
claim "a killed sheet leaves the workbook of before whole" "$faults"
claim "enough of sheet was killed" $((killed < rounds))
echo "$passed passed, $failed failed"
