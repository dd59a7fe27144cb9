#include "lib/log/entry.hpp"

#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

TEST_CASE("a purchase is of one pack at least") {
  log::Bought one;
  one.key = "seat@1";
  one.packs = 1;
  CHECK(log::fault_of(one).empty());
  one.packs = 0;
  CHECK(log::fault_of(one).starts_with("1 to "));
}

TEST_CASE("a plan that is agreed names each job once") {
  log::AgreedPlan plan;
  plan.jobs = {{"fork", budgets::make_date(2027, 1, 4)}, {"seat", budgets::make_date(2027, 1, 4)}};
  CHECK(log::fault_of(plan).empty());
  plan.jobs.push_back(plan.jobs.front());
  CHECK(log::fault_of(plan) == "each job once");
}

TEST_CASE("what is undone stays undone and an undo never counts") {
  const budgets::Date on = test::day("2027-01-04");
  const log::Log log = test::log_of({{on, log::Remark{"", "one"}},
                                     {on, log::Remark{"", "two"}},
                                     {on, log::Undo{1}},
                                     {on, log::Undo{1}},
                                     {on, log::Undo{3}}});
  CHECK(log::effective(log) == std::vector<bool>{false, true, false, false, false});
}
