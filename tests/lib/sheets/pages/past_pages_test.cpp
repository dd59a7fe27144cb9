#include <algorithm>
#include <map>

#include "lib/progress/past.hpp"
#include "lib/sheets/read_back/settle.hpp"
#include "tests/lib/support/remembered.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::Money;
using test::cents;
using test::day;
using test::five_jobs;
using test::Remembered;
using test::two_stages;

TEST_CASE("Overview goes on from the stages gone by and every reserve is the plan's") {
  const build::Build build = five_jobs();
  Remembered one(build, two_stages(), "2027-02-02");
  CHECK(one.value("Overview", "plan:opening", "Money in") == sheets::Value(cents(10000)));
  CHECK(one.money("stage:1", "Planned") == cents(6100 + 6200 + 500));
  CHECK(one.money("stage:1", "Paid so far") == cents(6500 + 6200 + 500));
  CHECK(one.money("stage:1", "Left") == cents(10000 + 10000 - 13200));
  CHECK(one.value("Overview", "stage:1", "Check") == sheets::Value(std::string("past")));
  const sheets::Book book = sheets::make_book(one.outcome, one.past);
  CHECK(std::any_of(book.sheets[0].cells.begin(), book.sheets[0].cells.end(), [](const auto& cell) {
    return cell.second.value == sheets::Value(std::string("Fit 1 (done)"));
  }));
  CHECK(one.value("Overview", "stage:1", "Hours taken") == sheets::Value(sheets::Minutes{150}));
  // stage 2 is under way: what was paid in it stands beside what is still planned for it
  const planning::StageView& now = one.outcome.stages.front();
  CHECK(now.number == 2);
  CHECK(one.money("stage:2", "Paid so far") == cents(12500));
  CHECK(one.money("stage:2", "Counts") == cents(12500) + now.spent);
  Money before = cents(10000);
  for (int stage = 1; stage <= 6; ++stage) {
    CAPTURE(stage);
    const std::string key = "stage:" + std::to_string(stage);
    before = before + one.money(key, "Money in") - one.money(key, "Counts");
    CHECK(one.money(key, "Left") == before);
  }
  for (const planning::StageView& view : one.outcome.stages)
    CHECK(one.money("stage:" + std::to_string(view.number), "Left") == view.cash_after);
}

TEST_CASE("Shopping keeps what was bought as white rows with its state") {
  const build::Build build = five_jobs();
  Remembered one(build, two_stages(), "2027-02-02");
  CHECK(one.value("Shopping", "past:1:thing-1@1", "Paid") == sheets::Value(cents(6500)));
  CHECK(one.value("Shopping", "past:1:thing-1@1", "Planned") == sheets::Value(cents(6100)));
  CHECK(one.value("Shopping", "past:1:thing-1@1", "Remarks") == sheets::Value(std::string("bought")));
  CHECK(one.value("Shopping", "past:7:thing-4@2", "Remarks") ==
        sheets::Value(std::string("on its way, due 2027-02-20")));
  CHECK(one.value("Jobs", "past:4:fit-1", "Hours taken") == sheets::Value(sheets::Minutes{150}));
  for (const char* heading : {"Tick", "Packs", "Price", "Paid", "Bought on", "Arrives"})
    CHECK(one.book.cell("Shopping", "past:1:thing-1@1", heading).style.look != sheets::Look::input);
}

TEST_CASE("a remark typed beside what was bought is recorded about it and shown in the next workbook") {
  const build::Build build = five_jobs();
  std::vector<log::NewEntry> events = two_stages();
  Remembered one(build, events, "2027-02-02");
  one.book.type("Shopping", "past:1:thing-1@1", "Your remark", std::string("a good one"));
  const auto settled =
      sheets::settle(sheets::read_back(one.book.stored()), build, one.log, day("2027-02-02"));
  CHECK(test::told(settled.remarkable) == "");
  REQUIRE(settled.proposed.size() == 1);
  CHECK(log::in_words(settled.proposed[0].entry.event, build.currency) ==
        "remark about thing-1@1: a good one");
  events.push_back(settled.proposed[0].entry);
  Remembered next(build, events, "2027-02-02");
  CHECK(next.value("Shopping", "past:1:thing-1@1", "Remarks") ==
        sheets::Value(std::string("bought; a good one")));
}

TEST_CASE("a workbook that remembers and in which nobody typed tells nothing") {
  const build::Build build = five_jobs();
  for (const char* on :
       {"2027-01-01", "2027-01-04", "2027-01-25", "2027-02-02", "2027-02-28", "2027-06-04"}) {
    CAPTURE(on);
    std::vector<log::NewEntry> events = two_stages();
    std::erase_if(events, [&](const auto& event) { return event.date > day(on); });
    const Remembered one(build, events, on);
    const sheets::Readback back = sheets::read_back(one.book.stored());
    const auto settled = sheets::settle(back, build, one.log, day(on));
    CHECK(test::told(settled.remarkable) == "");
    CHECK(settled.proposed.empty());
    CHECK(back.ticks_for_the_eye == 0);
  }
}

TEST_CASE("a changed paid amount of what is recorded is told with its cell and not taken") {
  const build::Build build = five_jobs();
  Remembered one(build, two_stages(), "2027-02-02");
  one.book.type("Shopping", "past:1:thing-1@1", "Paid", cents(7000));
  const auto settled =
      sheets::settle(sheets::read_back(one.book.stored()), build, one.log, day("2027-02-02"));
  CHECK(settled.proposed.empty());
  CHECK(test::told(settled.remarkable) ==
        "Shopping I6 warning: 70 stands where 65.00 was written; it is not taken\n");
}

TEST_CASE("History holds planned against paid and what became of each job") {
  const build::Build build = five_jobs();
  const Remembered one(build, two_stages(), "2027-02-02");
  const sheets::Book book = sheets::make_book(one.outcome, one.past);
  const auto found = std::find_if(book.sheets.begin(), book.sheets.end(),
                                  [](const auto& sheet) { return sheet.name == sheets::kHistory; });
  REQUIRE(found != book.sheets.end());
  std::map<std::string, int> rows;  // the last that begins so
  for (const auto& [place, cell] : found->cells)
    if (const auto* text = std::get_if<std::string>(&cell.value); text && place.second == 0)
      rows[*text] = place.first;
  const auto money = [&](const std::string& name, int column) {
    return std::get<Money>(found->find(rows.at(name), column)->value);
  };
  CHECK(money("Corner Shop", 1) == cents(6100 + 6300));
  CHECK(money("Corner Shop", 2) == cents(6500 + 6100));
  CHECK(money("Corner Shop", 3) == cents(200));
  CHECK(money("Stage 1, payday 2027-01-01", 2) == cents(13200));
  CHECK(money("Fit 1", 2) == cents(6500));
  CHECK(money("All", 2) == cents(6500 + 6200 + 500 + 6100 + 6400));
  CHECK(money("Thing 1 from Corner Shop", 2) == cents(6500));
  CHECK(found->find(rows.at("Fit 1"), 7)->value == sheets::Value(std::string("done")));
  CHECK(found->find(rows.at("Fit 1"), 5)->value == sheets::Value(sheets::Minutes{150}));
  CHECK(found->find(rows.at("Fit 5"), 7)->value != sheets::Value(std::string("done")));
  for (const auto& [place, cell] : found->cells) CHECK(cell.style.look != sheets::Look::input);
}
