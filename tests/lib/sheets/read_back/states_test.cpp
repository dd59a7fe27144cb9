#include "lib/sheets/read_back/settle.hpp"
#include "tests/lib/support/remembered.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::cents;
using test::day;
using test::five_jobs;
using test::Remembered;
using test::two_stages;

namespace {

constexpr const char* lamp_row = "past:1:thing-1@1";
constexpr const char* way_row = "past:7:thing-4@2";  // on its way

struct StateTyped {
  std::vector<log::NewEntry> events = two_stages();
  build::Build build = five_jobs();
  Remembered one{build, events, "2027-02-02"};

  void type(const std::string& sheet, const std::string& key, const std::string& heading,
            sheets::Value value) {
    one.book.type(sheet, key, heading, std::move(value));
  }

  /// What is to be recorded and told, a line each, of the workbook handed back on 2027-02-03.
  std::string answer(bool record = false) {
    const auto settled =
        sheets::settle(sheets::read_back(one.book.stored()), build, test::log_of(events), day("2027-02-03"));
    std::string all;
    for (const auto& proposed : settled.proposed) {
      all += proposed.sheet + " " + proposed.cell + ": " +
             log::in_words(proposed.entry.event, build.currency) + "\n";
      if (proposed.entry.date != day("2027-02-03"))
        all += "  on " + budgets::write_date(proposed.entry.date) + "\n";
      if (record) events.push_back(proposed.entry);
    }
    return all + test::told(settled.remarkable);
  }

  std::string first_job() const {
    for (const auto& stage : one.outcome.stages)
      for (const auto& job : stage.jobs) return "job:" + job.id + "@" + std::to_string(stage.number);
    return "";
  }
};

sheets::Value text(const char* words) { return std::string(words); }

}  // namespace

TEST_CASE("what became of a thing is chosen in the workbook and recorded as the command does") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "State", text("sent back"));
  typed.type("Shopping", lamp_row, "Came back", cents(6500));
  typed.type("Shopping", way_row, "State", text("arrived"));
  CHECK(typed.answer(true) ==
        "Shopping V6: sent back 1 pack of thing-1@1, 65.00 EUR came back\n"
        "Shopping V11: thing-4@2 arrives on 2027-02-03\n");
  CHECK(typed.answer() ==
        "  warning: the workbook is of an older plan: 2 log lines were written since; what they hold is not "
        "recorded again\n");
  Remembered next(typed.build, typed.events, "2027-02-03");
  CHECK(next.value("Shopping", lamp_row, "Remarks") == text("sent back"));
  CHECK(next.value("Shopping", way_row, "Remarks") == text("arrived 2027-02-03"));
  CHECK(next.money("stage:2", "Left") == next.outcome.stages.front().cash_after);
}

TEST_CASE("never came and broken and lost are told as they are chosen") {
  for (const char* way : {"never came", "broken", "lost"}) {
    StateTyped typed;
    typed.type("Shopping", lamp_row, "State", text(way));
    CHECK(typed.answer() == std::string("Shopping V6: ") + way + " 1 pack of thing-1@1\n");
  }
}

TEST_CASE("money that came back alone is a refund and counts once") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "Came back", cents(500));
  CHECK(typed.answer(true) == "Shopping W6: came in 5.00 EUR: refund for thing-1@1\n");
  CHECK(typed.answer().find("refund") == std::string::npos);
}

TEST_CASE("a state that nobody knows or that cannot be is an error with its cell") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "State", text("sent bakc"));
  CHECK(typed.answer() ==
        "Shopping V6 error: found 'sent bakc', expected one of arrived, sent back, lost, broken, never came; "
        "did you mean 'sent back'?\n");
  typed.type("Shopping", lamp_row, "State", text("2 sent back"));
  CHECK(typed.answer() == "Shopping V6 error: 2 packs of 1 that are left\n");
  typed.type("Shopping", lamp_row, "State", text("1 sent back"));
  CHECK(typed.answer() == "Shopping V6: sent back 1 pack of thing-1@1\n");
  typed.type("Shopping", lamp_row, "State", text("arrived"));
  typed.type("Shopping", lamp_row, "Came back", cents(500));
  CHECK(typed.answer().find("Shopping W6 error: money came back for what has arrived; which is it?") == 0);
}

TEST_CASE("a number of packs before arrived is an error") {
  StateTyped typed;
  typed.type("Shopping", way_row, "State", text("1 arrived"));
  CHECK(typed.answer() == "Shopping V11 error: arrived is told of the whole line, without a number\n");
}

TEST_CASE("another amount than was recorded since is asked about") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "State", text("sent back"));
  typed.answer(true);
  typed.type("Shopping", lamp_row, "Came back", cents(6500));
  CHECK(
      typed.answer().find("Shopping V6 error: recorded otherwise since: sent back 1 pack of thing-1@1; undo "
                          "that entry first, or put this right\n") != std::string::npos);
}

TEST_CASE("a job is begun with its hours or given up in the workbook") {
  StateTyped typed;
  const std::string job = typed.first_job(), id = job.substr(4, 5);
  REQUIRE(!job.empty());
  typed.type("Jobs", job, "State", text("begun"));
  CHECK(typed.answer().find("error: the hours are missing that went into what is begun\n") !=
        std::string::npos);
  typed.type("Jobs", job, "Hours taken", sheets::Minutes{30});
  CHECK(typed.answer(true).find(": begun " + id + ", 0 h 30 min so far this time\n") != std::string::npos);
  CHECK(typed.answer().find("begun") == std::string::npos);  // handed back again
  Remembered next(typed.build, typed.events, "2027-02-03");
  CHECK(next.value("Jobs", "past:8:" + id, "State") == text("begun"));
  StateTyped other;
  other.type("Jobs", job, "State", text("given up"));
  CHECK(other.answer(true).find(": given up " + id + "\n") != std::string::npos);
  Remembered without(other.build, other.events, "2027-02-03");
  CHECK(without.value("Jobs", "past:8:" + id, "State") == text("given up"));
  CHECK(test::stage_of(without.outcome, id) == 0);
  StateTyped both;
  both.type("Jobs", job, "Tick", text("x"));
  both.type("Jobs", job, "State", text("given up"));
  CHECK(both.answer().find("error: the job is ticked as done, and State says 'given up'\n") !=
        std::string::npos);
}

TEST_CASE("a state has the day that is typed beside it, and once recorded keeps it") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "State", text("sent back"));
  typed.type("Shopping", lamp_row, "Came back", cents(6500));
  typed.type("Shopping", lamp_row, "State on", day("2027-02-01"));
  typed.type("Shopping", way_row, "State", text("arrived"));
  typed.type("Shopping", way_row, "State on", day("2027-02-02"));
  CHECK(typed.answer(true) ==
        "Shopping V6: sent back 1 pack of thing-1@1, 65.00 EUR came back\n  on 2027-02-01\n"
        "Shopping V11: thing-4@2 arrives on 2027-02-02\n  on 2027-02-02\n");
  const std::string again =
      "  warning: the workbook is of an older plan: 2 log lines were written since; what they hold is not "
      "recorded again\n";
  CHECK(typed.answer() == again);
  typed.type("Shopping", lamp_row, "State on", day("2027-02-03"));
  CHECK(typed.answer().find("Shopping X6 warning: on 2027-02-03 here, on 2027-02-01 in entry") !=
        std::string::npos);
}

TEST_CASE("a day of a state that cannot be is an error, and a day alone is told") {
  StateTyped typed;
  typed.type("Shopping", lamp_row, "State on", day("2027-02-01"));
  CHECK(typed.answer() == "Shopping X6 warning: no state stands beside it; the day alone is not recorded\n");
  typed.type("Shopping", lamp_row, "State", text("lost"));
  typed.type("Shopping", lamp_row, "State on", day("2027-02-04"));
  CHECK(typed.answer().find("Shopping X6 error: 2027-02-04 is after 2027-02-03") == 0);
  typed.type("Shopping", lamp_row, "State on", day("2026-12-30"));
  CHECK(typed.answer().find("Shopping X6 error: 2026-12-30 is before 20") == 0);
}
