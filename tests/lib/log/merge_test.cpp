#include "lib/log/merge.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "lib/log/append.hpp"
#include "lib/log/read.hpp"
#include "lib/progress/history.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;
using log::Keep;
using log::Log;
using test::cents;
using test::day;

namespace {

/// `log` with further entries, written by somebody.
Log with(Log log, const std::vector<log::NewEntry>& more, const std::string& who) {
  std::string last = log.entries.empty() ? log.id : log.entries.back().id;
  for (const log::NewEntry& one : more) {
    log.entries.push_back({static_cast<std::int64_t>(log.entries.size()) + 1,
                           one.date,
                           one.event,
                           one.brought,
                           {},
                           {},
                           one.by});
    last = log.entries.back().id = log::line_id(last, who, log.entries.back(), log.currency);
  }
  log.file = who + ".record";
  return log;
}

log::NewEntry bought(const std::string& on, const std::string& key, std::int64_t paid) {
  return {day(on), log::Bought{key, 1, cents(paid)}};
}
log::NewEntry said(const std::string& text) { return {day("2027-01-05"), log::Remark{"", text}}; }

Log begun() { return with(test::log_of({}), {bought("2027-01-01", "chain@1", 6000), said("ours")}, "both"); }

std::string lines(const Log& log) {
  std::string all;
  for (const log::Entry& entry : log.entries) all += log::entry_line(entry, log.currency);
  return all;
}

std::string words(const Log& log) {
  std::string all;
  const std::vector<bool> counts = log::effective(log);
  for (std::size_t i = 0; i < counts.size(); ++i) {
    all += budgets::write_date(log.entries[i].date) + " " +
           log::in_words(log.entries[i].event, log.currency) + (counts[i] ? "\n" : " -\n");
  }
  return all;
}

std::string shown(const log::Told& told) {
  return told.file + ":" + std::to_string(told.line) + " " + budgets::write_date(told.date) + " " +
         log::in_words(told.event, test::euro());
}

std::string shown(const std::vector<log::Conflict>& conflicts) {
  std::string all;
  for (const log::Conflict& one : conflicts) all += shown(one.mine) + " | " + shown(one.theirs) + "\n";
  return all;
}

}  // namespace

TEST_CASE("what two people recorded apart becomes one record and their common beginning counts once") {
  const Log ann = with(begun(), {bought("2027-01-10", "seat@1", 15000)}, "ann");
  const Log bob = with(begun(), {bought("2027-01-08", "lamp@1", 6000), said("bob was here")}, "bob");
  const log::Merged merged = log::merge(ann, bob);
  CHECK(merged.conflicts.empty());
  CHECK(merged.taken == 2);
  CHECK(merged.same == 0);
  CHECK(merged.renumbered);
  CHECK(words(merged.log) ==
        "2027-01-01 bought chain@1, 1 pack, 60.00 EUR\n"
        "2027-01-05 remark: ours\n"
        "2027-01-08 bought lamp@1, 1 pack, 60.00 EUR\n"
        "2027-01-05 remark: bob was here\n"
        "2027-01-10 bought seat@1, 1 pack, 150.00 EUR\n");
  CHECK(lines(log::merge(bob, ann).log) == lines(merged.log));
}

TEST_CASE("one purchase that both told counts once and is known as either line afterwards") {
  const Log ann = with(begun(), {bought("2027-01-10", "seat@1", 15000)}, "ann");
  const Log bob = with(begun(), {said("first"), bought("2027-01-10", "seat@1", 15000)}, "bob");
  const log::Merged merged = log::merge(ann, bob);
  CHECK(merged.same == 1);
  CHECK(merged.taken == 1);
  CHECK(merged.log.entries.size() == 4);
  const Log undone = with(merged.log, {{day("2027-01-11"), log::Undo{4}}}, "ann");
  CHECK(lines(log::merge(undone, bob).log) == lines(undone));
  CHECK(lines(log::merge(undone, ann).log) == lines(undone));
}

TEST_CASE("a line that both told may be corrected by one of them without a question") {
  const Log ann = with(begun(), {bought("2027-01-10", "seat@1", 15000)}, "ann");
  const Log bob = with(
      begun(),
      {bought("2027-01-10", "seat@1", 15000), {day("2027-01-12"), log::Paid{"seat@1", cents(14000)}}}, "bob");
  CHECK(log::merge(ann, bob).conflicts.empty());
  CHECK(planning::history_of(log::merge(ann, bob).log, planning::last_date).bought.back().paid ==
        cents(14000));
}

TEST_CASE("what differs is shown with both values and places and nothing is merged") {
  const Log ann =
      with(begun(), {bought("2027-01-10", "seat@1", 15000), {day("2027-01-11"), log::Fitted{"sit"}}}, "ann");
  const Log bob = with(
      begun(), {{day("2027-01-12"), log::Fitted{"sit", 60}}, bought("2027-01-10", "seat@2", 14000)}, "bob");
  const log::Merged merged = log::merge(ann, bob);
  CHECK(merged.log.entries.empty());
  CHECK(
      shown(merged.conflicts) ==
      "ann.record:4 2027-01-10 bought seat@1, 1 pack, 150.00 EUR | bob.record:5 2027-01-10 bought seat@2, 1 "
      "pack, 140.00 EUR\n"
      "ann.record:5 2027-01-11 fitted sit | bob.record:4 2027-01-12 fitted sit, took 1 h\n");
}

TEST_CASE("a choice undoes the lines of the other side and merging again changes nothing") {
  const Log ann = with(begun(), {bought("2027-01-10", "seat@1", 15000)}, "ann");
  const Log bob = with(
      begun(),
      {bought("2027-01-10", "seat@1", 14000), {day("2027-01-12"), log::Paid{"seat@1", cents(13000)}}}, "bob");
  const Log mine = log::merge(ann, bob, Keep::mine).log, theirs = log::merge(ann, bob, Keep::theirs).log;
  CHECK(planning::history_of(mine, planning::last_date).bought.back().paid == cents(15000));
  CHECK(planning::history_of(theirs, planning::last_date).bought.back().paid == cents(13000));
  CHECK(lines(mine) == lines(log::merge(bob, ann, Keep::theirs).log));
  for (const Log& other : {ann, bob}) {
    CHECK(lines(log::merge(mine, other).log) == lines(mine));
    CHECK(lines(log::merge(other, mine).log) == lines(mine));
  }
  CHECK(log::merge(ann, bob, Keep::both).log.entries.size() == 5);
}

TEST_CASE("money moved twice with the same words is asked about, for it may have happened twice") {
  const log::NewEntry fuel{day("2027-01-10"), log::Moved{cents(-500), "fuel"}};
  const Log ann = with(begun(), {fuel}, "ann"), bob = with(begun(), {fuel}, "bob");
  CHECK(log::merge(ann, bob).conflicts.size() == 1);
  const Log both = log::merge(ann, bob, Keep::both).log, once = log::merge(ann, bob, Keep::mine).log;
  CHECK(planning::history_of(both, planning::last_date).moved.size() == 2);
  CHECK(planning::history_of(once, planning::last_date).moved.size() == 1);
}

TEST_CASE("a count stands behind what the other recorded for its day") {
  const Log ann = with(
      begun(), {{day("2027-01-10"), log::Counted{cents(20000)}}, bought("2027-01-10", "oil@1", 900)}, "ann");
  const Log bob = with(begun(), {bought("2027-01-10", "seat@1", 15000)}, "bob");
  for (const Log& merged : {log::merge(ann, bob).log, log::merge(bob, ann).log}) {
    const planning::History history = planning::history_of(merged, planning::last_date);
    REQUIRE(history.bought.size() == 3);
    CHECK(history.count->number > history.bought[1].number);  // the seat's
    CHECK(history.bought[1].key == "seat@1");
    CHECK(history.count->number < history.bought[2].number);
  }
}

TEST_CASE("what one takes back and the other corrects is left to them whatever the choice") {
  const Log ann = with(begun(), {{day("2027-01-10"), log::Undo{1}}}, "ann");
  const Log bob = with(begun(), {{day("2027-01-11"), log::Paid{"chain@1", cents(5500)}}}, "bob");
  for (const auto keep : {Keep::mine, Keep::theirs, Keep::both}) {
    const log::Merged merged = log::merge(ann, bob, keep);
    REQUIRE(merged.conflicts.size() == 1);
    CHECK_FALSE(merged.conflicts[0].open);
    CHECK(merged.log.entries.empty());
  }
  const Log cat = with(begun(), {{day("2027-01-12"), log::Undo{1}}}, "cat");
  CHECK(log::merge(ann, cat).conflicts.empty());  // both took it back
}

TEST_CASE("records in two currencies and one id with two contents are refused") {
  Log yen = begun();
  yen.currency = budgets::find_currency("JPY").value();
  CHECK_THROWS_AS(log::merge(begun(), yen), std::invalid_argument);
  Log other = begun();
  other.entries[1].event = log::Remark{"", "forged"};
  CHECK_THROWS_AS(log::merge(begun(), other), std::invalid_argument);
}

TEST_CASE("lines of an earlier version get ids by content and place and merge as well") {
  const Log old = test::log_of({bought("2027-01-01", "chain@1", 6000), said("ours")});
  const std::string text = test::text_of(old);
  const Log ann = *log::read(text, "ann.record").log;
  CHECK(ann.entries[0].id.size() == 16);
  CHECK(ann.entries[0].id != ann.entries[1].id);
  const Log bob = with(*log::read(text, "bob.record").log, {said("more")}, "bob");
  CHECK(log::merge(ann, bob).log.entries.size() == 3);
  const Log again = *log::read(test::text_of(log::merge(ann, bob).log), "m.record").log;
  CHECK(lines(log::merge(again, ann).log) == lines(again));
}

TEST_CASE("an id that stands twice in a record is an error at its line") {
  Log log = begun();
  log.entries[1].id = log.entries[0].id;
  const log::Reading reading = log::read(test::text_of(log), "a.record");
  REQUIRE(reading.diagnostics.size() == 1);
  CHECK(build::to_text(reading.diagnostics[0])
            .find("a.record:3:1: error: found " + log.entries[0].id +
                  ", expected a line id that no line before it has") == 0);
}

namespace {

/// Something that may happen, in a small world so that people meet.
log::NewEntry happening(std::int64_t entries) {
  const budgets::Date on = day("2027-01-01") + *rc::gen::inRange(0, 6);
  const std::string key = *rc::gen::element<std::string>("seat@1", "seat@2", "lamp@1", "delivery:shop@1");
  const std::string job = *rc::gen::element<std::string>("sit", "light");
  const auto amount = cents(*rc::gen::inRange(1, 5) * 100);
  switch (*rc::gen::inRange(0, 11)) {
    case 0:
    case 1:
      return {on, log::Bought{key, *rc::gen::inRange(1, 3), amount}};
    case 2:
      return {on, log::Paid{key, amount}};
    case 3:
      return {on, log::Fitted{job}};
    case 4:
      return {on, log::Counted{amount}};
    case 5:
      return {on, log::AgreedPlan{{{job, on}}}};
    case 6:
      return {on, log::Moved{amount, "sold"}};
    case 7:
      return {on, log::Gone{"seat", 1, "lost"}};
    case 8:
      return {on, log::GivenUp{job}};
    case 9:
      return {on, log::Begun{job, 30}};
    default:
      if (entries == 0) return {on, log::Remark{"", job}};
      return {on, log::Undo{*rc::gen::inRange<std::int64_t>(1, entries + 1)}};
  }
}

/// Further random entries, of which no undo names what cannot be undone.
Log lived(Log log, const std::string& who, int most) {
  const int count = *rc::gen::inRange(0, most + 1);
  for (int i = 0; i < count; ++i) {
    log::NewEntry one = happening(std::ssize(log.entries));
    const auto* undo = std::get_if<log::Undo>(&one.event);
    const std::vector<bool> counts = log::effective(log);
    if (undo && !counts[static_cast<std::size_t>(undo->entry) - 1]) continue;
    log = with(log, {one}, who);
  }
  log.file = who + ".record";
  return log;
}

std::set<std::string> ids(const Log& log) {
  std::set<std::string> all;
  for (const log::Entry& entry : log.entries) {
    all.insert(entry.id);
    all.insert(entry.also.begin(), entry.also.end());
  }
  return all;
}

Keep turned(Keep keep) {
  return keep == Keep::mine ? Keep::theirs : keep == Keep::theirs ? Keep::mine : Keep::both;
}

}  // namespace

TEST_CASE("two people and random events merge to one state in either order and again to the same") {
  int settled = 0, plain = 0;
  const bool all = rc::check([&] {
    const Log common = lived(test::log_of({}), "both", 5);
    const Log ann = lived(common, "ann", 6), bob = lived(common, "bob", 6);
    for (const Keep keep : {Keep::mine, Keep::theirs, Keep::both}) {
      const log::Merged one = log::merge(ann, bob, keep), other = log::merge(bob, ann, turned(keep));
      RC_ASSERT(one.conflicts.size() == other.conflicts.size());
      const bool stuck = std::any_of(one.conflicts.begin(), one.conflicts.end(),
                                     [](const log::Conflict& conflict) { return !conflict.open; });
      if (stuck) continue;
      (one.conflicts.empty() ? plain : settled) += 1;
      RC_ASSERT(lines(one.log) == lines(other.log));
      for (const Log& part : {ann, bob, common, one.log}) {
        RC_ASSERT(lines(log::merge(one.log, part).log) == lines(one.log));
        RC_ASSERT(lines(log::merge(part, one.log).log) == lines(one.log));
        for (const std::string& id : ids(part)) RC_ASSERT(ids(one.log).count(id) == 1);
      }
      const log::Reading reading = log::read(test::text_of(one.log), "m.record");
      RC_ASSERT(reading.log.has_value());
      RC_ASSERT(lines(*reading.log) == lines(one.log));
    }
  });
  CHECK(all);
  CHECK(settled > 0);
  CHECK(plain > 0);
}

TEST_CASE("what only one of two recorded counts in the merged record as it did in theirs") {
  CHECK(rc::check([] {
    const Log common = lived(test::log_of({}), "both", 4);
    const Log ann = lived(common, "ann", 5);
    const log::Merged merged = log::merge(common, ann);
    RC_ASSERT(merged.conflicts.empty());
    RC_ASSERT(lines(merged.log) == lines(ann));
    RC_ASSERT(merged.taken == ann.entries.size() - common.entries.size());
  }));
}

TEST_CASE("two who tell the same under their own names tell one thing") {
  log::NewEntry hers = bought("2027-01-08", "grips@2", 1500), his = hers, nobodys = hers;
  hers.by = "Anna";
  his.by = "Ben";
  const Log anna = with(begun(), {hers}, "anna"), ben = with(begun(), {his}, "ben");
  const log::Merged merged = log::merge(anna, ben), back = log::merge(ben, anna);
  CHECK(merged.conflicts.empty());
  CHECK(merged.same == 1);
  REQUIRE(merged.log.entries.size() == 3);
  const std::string by = merged.log.entries.back().by;
  CHECK((by == "Anna" || by == "Ben"));
  CHECK(lines(merged.log) == lines(back.log));
  // A name goes before none.
  const Log unnamed = with(begun(), {nobodys}, "other");
  CHECK(log::merge(anna, unnamed).log.entries.back().by == "Anna");
  CHECK(log::merge(unnamed, anna).log.entries.back().by == "Anna");
}
