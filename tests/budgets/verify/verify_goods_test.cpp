#include "tests/budgets/verify/verify_sample.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::budgets;
using namespace fettlefund::budgets::sample;

TEST_CASE("goods ordered after their offer has ended are found") {
  CHECK(has(with_problem([](ProblemData& d) { d.articles[1].offers[0].until = on(-1); }), Rule::goods, 1, 1));
}

TEST_CASE("goods ordered before their offer has begun are found") {
  CHECK(has(with_problem([](ProblemData& d) { d.articles[1].offers[0].from = on(1); }), Rule::goods, 1, 1));
}

TEST_CASE("an offer stands on the days that bound it") {
  CHECK(with_problem([](ProblemData& d) { d.articles[1].offers[0].until = on(0); }).empty());
  CHECK(with_problem([](ProblemData& d) { d.articles[1].offers[0].from = on(0); }).empty());
}

TEST_CASE("goods that arrive a day after the bench date are found") {
  CHECK(with_problem([](ProblemData& d) { d.articles[0].offers[0].lead_days = 7; }).empty());
  CHECK(has(with_problem([](ProblemData& d) { d.articles[0].offers[0].lead_days = 8; }), Rule::goods, 0, 0));
}

TEST_CASE("goods that a later payday could still pay are found") {
  const auto findings = with_problem([](ProblemData& d) { d.articles[1].offers[0].lead_days = 7; });
  check_only(findings, Rule::accounts);
  CHECK(has(findings, Rule::accounts, 1, 1));
}

TEST_CASE("goods from a supplier that does not offer them are found") {
  CHECK(
      has(with_problem([](ProblemData& d) { d.articles[1].offers[0].supplier = 0; }), Rule::accounts, 1, 1));
}

TEST_CASE("an article that is needed but not ordered is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders.erase(p.orders.begin() + 1); }), Rule::goods, 1, 1));
}

TEST_CASE("a spoilt one-use article that is not replaced is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders[0].lines.pop_back(); }), Rule::goods, 0, 2));
}

TEST_CASE("a pack too few is found") {
  CHECK(has(with_plan([](Plan& p) { line_for(p, 1, 1).packs = 1; }), Rule::goods, 1, 1));
}

TEST_CASE("a pack too many is found") {
  CHECK(has(with_plan([](Plan& p) { line_for(p, 1, 1).packs = 3; }), Rule::accounts, 1, 1));
}

TEST_CASE("goods for a stage that needs none are found") {
  CHECK(has(with_plan([](Plan& p) {
              OrderLine extra = line_for(p, 1, 1);
              extra.for_stage = 2;
              p.orders[1].lines.push_back(extra);
            }),
            Rule::accounts, 2, 1));
}

TEST_CASE("goods that are not needed are found in a stage that buys other things") {
  CHECK(has(with_plan([](Plan& p) {
              OrderLine extra = line_for(p, 1, 1);
              extra.article = 2;
              p.orders[1].lines.push_back(extra);
            }),
            Rule::accounts, 1, 2));
}

TEST_CASE("goods split over two lines are found") {
  CHECK(has(with_plan([](Plan& p) {
              line_for(p, 1, 1).packs = 1;
              p.orders[1].lines.push_back(p.orders[1].lines.back());
            }),
            Rule::accounts, 1, 1));
}

TEST_CASE("stock that has gone off by the bench date is not counted") {
  const auto spoilt = [](ProblemData& d) { d.articles[1].on_hand[0].use_by = on(6); };
  CHECK(has(with_problem(spoilt), Rule::goods, 0, 1));
  CHECK(with_problem([](ProblemData& d) { d.articles[1].on_hand[0].use_by = on(8); }).empty());
}

TEST_CASE("stock that has not arrived by the bench date is not counted") {
  const auto late = [](ProblemData& d) { d.articles[1].on_hand[0].from = on(8); };
  CHECK(has(with_problem(late), Rule::goods, 0, 1));
  CHECK(with_problem([](ProblemData& d) { d.articles[1].on_hand[0].from = on(7); }).empty());
}

TEST_CASE("stock that keeps for ever is used after stock that does not") {
  // Stage 0 takes all 300 of the lot that spoils and 50 of the other: with 100 more of it, only one pack is
  // bought for stage 1 (1200 less 150 leaves 1050, which is still two; less 250 leaves 950, which is one).
  CHECK(with_problem([](ProblemData& d) { d.articles[1].on_hand[1].amount = 200; }).empty());
  check_only(with_problem([](ProblemData& d) { d.articles[1].on_hand[1].amount = 300; }), Rule::accounts);
}

TEST_CASE("what is left of a pack counts only while it keeps") {
  ProblemData data = sample::problem();
  data.jobs[3].needs = {{1, 800}};  // the 850 left over from stage 1 cover it in stage 2, 28 days later
  data.one_of.clear();
  const Plan plan = costed(data, {{0, 1, 0, 2, 1}, {1, -1}});
  CHECK(faults(data, plan).empty());
  data.articles[1].keeping_days = 28;
  CHECK(faults(data, plan).empty());
  data.articles[1].keeping_days = 27;
  CHECK(has(faults(data, plan), Rule::goods, 2, 1));
}
