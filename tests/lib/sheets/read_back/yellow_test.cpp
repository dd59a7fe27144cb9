#include <algorithm>
#include <map>

#include "lib/sheets/read_back/settle.hpp"
#include "tests/lib/support/remembered.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::Look;
using sheets::Shown;
using sheets::StoredBook;
using sheets::StoredCell;
using test::cents;
using test::day;
using test::five_jobs;
using test::Remembered;
using test::two_stages;

namespace {

/// A build with a line of every kind on every sheet.
build::Build all_kinds() {
  test::BuildText text;
  text.opening = "300.00";
  text.money_more = R"(, "allowance_percent": 5)";
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 5, "free_from": 500})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "post", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 80}]},
    "press": {"name": "Press", "kind": "tool", "hire": 12}, "key": {"name": "Key", "kind": "tool"})";
  text.removals = R"("tank": {"name": "Tank", "hours_off": 0.5, "hours_on": 0.5, "tags": ["filament bulb"]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "cost": 20, "removals": ["tank"],
      "uses": [{"article": "lamp"}], "tools": ["press", "key"]},
    "sit": {"name": "Fit the seat", "want": 4, "hours": 2, "uses": [{"article": "seat"}]})";
  text.more = R"(, "on_hand": [{"article": "key", "amount": 1}])";
  return text.read();
}

StoredCell typed(Shown shown, Look look) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::number;
  if (look == Look::tick || shown == Shown::text) {
    cell.kind = StoredCell::Kind::text;
    cell.text = look == Look::tick ? "x" : "some words";
  } else if (shown == Shown::date) {
    cell.number = static_cast<double>(budgets::spreadsheet_serial(day("2027-01-02")));
    cell.as_day = true;
  } else {
    cell.number = shown == Shown::money ? 61.5 : 2;
  }
  return cell;
}

struct Answer {
  std::vector<std::string> places;  ///< "Shopping 5": sheets and rows that something is recorded of or told
  std::size_t recorded = 0;
  std::string words;
};

Answer answer_to(const StoredBook& book, const build::Build& build, const log::Log& log) {
  const sheets::Readback back = sheets::read_back(book);
  const sheets::Settled settled = sheets::settle(back, build, log, day("2027-02-03"));
  Answer answer;
  const auto add = [&](const std::string& sheet, const std::string& cell) {
    const std::size_t digits = cell.find_first_of("0123456789");
    answer.places.push_back(sheet + " " + (digits == std::string::npos ? "" : cell.substr(digits)));
  };
  for (const auto& one : settled.proposed) {
    add(one.sheet, one.cell);
    answer.words += log::in_words(one.entry.event, build.currency) + "\n";
  }
  for (const auto& one : settled.remarkable) add(one.sheet, one.cell);
  answer.recorded = settled.proposed.size();
  answer.words += test::told(settled.remarkable);
  return answer;
}

sheets::StoredSheet& stored_sheet(StoredBook& book, const std::string& name) {
  return *std::find_if(book.sheets.begin(), book.sheets.end(),
                       [&](const auto& one) { return one.name == name; });
}

/// Types into every yellow cell of the workbook by itself, and empties every one that is not empty: each has
/// to be recorded or told with its row.
void walk(const sheets::Book& book, const StoredBook& stored, const build::Build& build,
          const log::Log& log) {
  std::map<std::string, int> walked;
  REQUIRE(answer_to(stored, build, log).words == "");
  for (const sheets::Sheet& sheet : book.sheets) {
    for (const auto& [place, cell] : sheet.cells) {
      if (cell.style.look != Look::input && cell.style.look != Look::tick) continue;
      const std::string row = sheet.name + " " + std::to_string(place.first + 1);
      CAPTURE(row);
      const std::string at = sheets::reference(place.first, place.second);
      CAPTURE(at);
      ++walked[sheet.name];
      StoredBook copy = stored;
      auto& cells = stored_sheet(copy, sheet.name).cells;
      const bool empty = cells.count(place) == 0;
      cells[place] = typed(cell.style.shown, cell.style.look);
      const Answer answer = answer_to(copy, build, log);
      CHECK(std::count(answer.places.begin(), answer.places.end(), row) > 0);
      if (empty) continue;
      stored_sheet(copy, sheet.name).cells.erase(place);
      const Answer emptied = answer_to(copy, build, log);
      CHECK(std::count(emptied.places.begin(), emptied.places.end(), row) > 0);
      CHECK(emptied.recorded == 0);
    }
  }
  for (const char* name : {"Overview", "Shopping", "Easily forgotten", "Jobs", "Work order", "Tools"}) {
    CAPTURE(name);
    CHECK(walked[name] > 0);
  }
  CHECK(walked["Suppliers"] == 0);  // what is not recorded is not yellow
}

}  // namespace

TEST_CASE("whatever is typed into a yellow cell is recorded or told with its row") {
  const build::Build build = all_kinds();
  const planning::Outcome outcome = test::planned(build);
  log::Log log;
  log.currency = build.currency;
  walk(sheets::make_book(outcome), test::TypedWorkbook(outcome).stored(), build, log);
}

TEST_CASE("so it is in a workbook that remembers") {
  const build::Build build = all_kinds();
  const Remembered one(build,
                       {{day("2027-01-01"), log::Bought{"seat@1", 1, cents(8000), day("2027-02-20"), "post"}},
                        {day("2027-01-02"), log::Bought{"delivery:post@1", 1, cents(500), {}}},
                        {day("2027-01-04"), log::Begun{"light", 30}}},
                       "2027-01-05");
  walk(sheets::make_book(one.outcome, one.past), one.book.stored(), build, one.log);
}

TEST_CASE("money in, hours, opening cash, allowance and delivery charges are not for typing") {
  const build::Build build = all_kinds();
  test::TypedWorkbook book(test::planned(build));
  for (const char* key : {"stage:1", "plan:opening", "plan:allowance"})
    CHECK(book.cell("Overview", key, "Money in").style.look == Look::body);
  CHECK(book.cell("Overview", "stage:1", "Hours at hand").style.look == Look::body);
  CHECK(book.cell("Suppliers", "supplier:post", "Delivery charge").style.look == Look::body);
  CHECK(book.cell("Suppliers", "supplier:post", "Free from").style.look == Look::body);
}

TEST_CASE("cash counted in the workbook is recorded last and once") {
  const build::Build build = five_jobs();
  std::vector<log::NewEntry> events = two_stages();
  Remembered one(build, events, "2027-02-02");
  std::string first_open;
  for (const auto& stage : one.outcome.stages)
    for (const auto& order : stage.orders)
      if (first_open.empty()) first_open = order.lines.front().key;
  one.book.type("Overview", "plan:opening", "Check", cents(4200));
  one.book.type("Overview", "plan:allowance", "Check", day("2027-02-02"));
  one.book.type("Shopping", first_open, "Tick", std::string("x"));
  const StoredBook stored = one.book.stored();
  auto settled = sheets::settle(sheets::read_back(stored), build, one.log, day("2027-02-03"));
  CHECK(test::told(settled.remarkable).find("error") == std::string::npos);
  REQUIRE(settled.proposed.size() == 2);
  CHECK(settled.proposed[1].sheet == "Overview");
  CHECK(settled.proposed[1].cell == "M4");
  CHECK(settled.proposed[1].entry.date == day("2027-02-02"));
  CHECK(log::in_words(settled.proposed[1].entry.event, build.currency) == "counted 42.00 EUR of cash");
  for (const auto& entry : settled.proposed) events.push_back(entry.entry);
  settled = sheets::settle(sheets::read_back(stored), build, test::log_of(events), day("2027-02-04"));
  CHECK(settled.proposed.empty());
  CHECK(settled.known == 2);
  // somebody else counted something else on the same day
  one.book.type("Overview", "plan:opening", "Check", cents(4100));
  settled =
      sheets::settle(sheets::read_back(one.book.stored()), build, test::log_of(events), day("2027-02-04"));
  CHECK(
      test::told(settled.remarkable)
          .find(
              "Overview M4 error: 41.00 counted here, 42.00 in entry 9 of the log on the same day; which is "
              "right? Undo that entry, or put this right") != std::string::npos);
}

TEST_CASE("copies of which one counts cash leave the same cash whichever is handed back first") {
  const build::Build build = five_jobs();
  const std::vector<log::NewEntry> events = two_stages();
  Remembered with_count(build, events, "2027-02-02"), with_tick(build, events, "2027-02-02");
  with_count.book.type("Overview", "plan:opening", "Check", cents(4200));
  std::string open;
  for (const auto& stage : with_tick.outcome.stages)
    for (const auto& order : stage.orders) open = order.lines.front().key;
  with_tick.book.type("Shopping", open, "Tick", std::string("x"));
  const std::string told_anew =
      "cash was counted on 2027-02-03 by entry 8 of the log, since this workbook was written: what is told "
      "here of that day is taken as paid by then, and the count is recorded again behind it\n";
  for (const bool count_first : {true, false}) {
    std::vector<log::NewEntry> all = events;
    for (const bool counting : {count_first, !count_first, count_first}) {  // one of them twice
      const auto stored = (counting ? with_count : with_tick).book.stored();
      const auto settled =
          sheets::settle(sheets::read_back(stored), build, test::log_of(all), day("2027-02-03"));
      const std::string words = test::told(settled.remarkable);
      CHECK(words.find("error") == std::string::npos);
      CHECK((words.find(told_anew) != std::string::npos) == (count_first && !counting));
      for (const auto& one : settled.proposed) all.push_back(one.entry);
    }
    CHECK(all.size() == events.size() + (count_first ? 4 : 2));
    const auto history = planning::history_of(test::log_of(all), day("2027-02-03"));
    CHECK(planning::cash_on(build, history, day("2027-02-03")).minor() == 4200);
  }
}

TEST_CASE("what is typed besides the plan after cash was counted comes out of that cash") {
  const build::Build build = five_jobs();
  for (const char* counted_on : {"2027-01-31", "2027-02-01", "2027-02-02"}) {
    CAPTURE(counted_on);
    std::vector<log::NewEntry> events = two_stages();
    events.push_back({day(counted_on), log::Counted{cents(30'000)}});
    Remembered one(build, events, "2027-02-02");
    one.book.type("Shopping", "besides:1", "Paid", cents(890));
    one.book.type("Shopping", "besides:1", "Stage", std::int64_t{2});  // its payday is 2027-02-01
    one.book.type("Shopping", "besides:1", "Article", std::string("rags"));
    const auto settled =
        sheets::settle(sheets::read_back(one.book.stored()), build, one.log, day("2027-02-03"));
    const bool since = counted_on != std::string("2027-01-31");
    CHECK((test::told(settled.remarkable)
               .find("cash was counted on " + std::string(counted_on) +
                     ", before this workbook was written; it is taken as paid on 2027-02-03, not on the "
                     "payday of "
                     "stage 2") != std::string::npos) == since);
    REQUIRE(!settled.proposed.empty());
    CHECK(settled.proposed[0].entry.date == day(since ? "2027-02-03" : "2027-02-01"));
    const auto before = planning::history_of(one.log, day("2027-02-03"));
    for (const auto& entry : settled.proposed) events.push_back(entry.entry);
    const auto after = planning::history_of(test::log_of(events), day("2027-02-03"));
    CHECK((planning::cash_on(build, before, day("2027-02-03")) -
           planning::cash_on(build, after, day("2027-02-03")))
              .minor() == 890);
  }
}

TEST_CASE("a day without counted cash and an emptied arrival are told") {
  const build::Build build = all_kinds();
  test::TypedWorkbook book(test::planned(build));
  log::Log log;
  log.currency = build.currency;
  book.type("Overview", "plan:allowance", "Check", day("2027-01-02"));
  book.type("Shopping", "lamp@1", "Tick", std::string("x"));
  book.type("Shopping", "lamp@1", "Arrives", std::monostate{});
  const Answer answer = answer_to(book.stored(), build, log);
  CHECK(answer.words.find("Overview M5 warning: no cash is counted above; the day alone is not recorded\n") !=
        std::string::npos);
  CHECK(answer.words.find("warning: emptied; the day by the offer's lead time is recorded\n") !=
        std::string::npos);
}

TEST_CASE("ticks of steps and tools and reminders are recorded and stand in the next workbook") {
  const build::Build build = all_kinds();
  Remembered one(build, {}, "2027-01-01");
  const planning::StageView& stage = one.outcome.stages.front();
  const auto& step = stage.work.front();
  const std::string step_key = "step:" + step.of + "@1." + std::to_string(step.number);
  REQUIRE(!stage.reminders.empty());
  one.book.type("Work order", step_key, "Tick", std::string("x"));
  one.book.type("Tools", "tool:key", "Tick", std::string("X"));
  one.book.type("Easily forgotten", stage.reminders.front().key, "Tick", std::string("x"));
  const auto settled =
      sheets::settle(sheets::read_back(one.book.stored()), build, one.log, day("2027-01-01"));
  CHECK(test::told(settled.remarkable) == "");
  REQUIRE(settled.proposed.size() == 3);
  std::vector<log::NewEntry> events;
  for (const auto& entry : settled.proposed) events.push_back(entry.entry);
  CHECK(log::in_words(events.back().event, build.currency) == "remark about tool:key: ticked: Key");
  Remembered next(build, events, "2027-01-01");
  CHECK(next.value("Work order", step_key, "Tick") == sheets::Value(std::string("x")));
  CHECK(next.value("Tools", "tool:key", "Tick") == sheets::Value(std::string("x")));
  CHECK(next.value("Tools", "tool:press", "Tick") == sheets::Value());
  CHECK(next.value("Easily forgotten", stage.reminders.front().key, "Tick") ==
        sheets::Value(std::string("x")));
  CHECK(next.value("Overview", "plan:allowance", "Keep-back") == sheets::Value(std::int64_t{1}));
  const auto again =
      sheets::settle(sheets::read_back(next.book.stored()), build, next.log, day("2027-01-01"));
  CHECK(again.proposed.empty());
  CHECK(test::told(again.remarkable) == "");
  next.book.type("Tools", "tool:key", "Tick", std::monostate{});
  const auto unticked =
      sheets::settle(sheets::read_back(next.book.stored()), build, next.log, day("2027-01-01"));
  CHECK(test::told(unticked.remarkable).find("the tick is gone; that it was ticked is recorded, and stays") !=
        std::string::npos);
}
