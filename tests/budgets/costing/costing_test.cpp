#include "budgets/costing/costing.hpp"

#include "tests/budgets/support/costed.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

bool only(const std::vector<Violation>& broken, Rule rule, int stage, int index) {
  return broken.size() == 1 && broken[0].rule == rule && broken[0].stage == stage && broken[0].index == index;
}

/// One supplier's article needed by job j, `amount` each; offers to be added.
ProblemData one_article(int stages, std::vector<Quantity> amounts) {
  ProblemData data = plain_stages(stages);
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, {}}}}};
  for (Quantity amount : amounts) {
    data.jobs.push_back(plain_job(data, 1));
    data.jobs.back().needs = {{0, amount}};
  }
  return data;
}

}  // namespace

TEST_CASE("a plan worked by hand comes out to the minor unit") {
  ProblemData data = plain_stages(2);
  data.opening = cents(11);
  data.allowance_bp = 1000;
  data.bother = 2;
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, {}}}}};
  data.removals = {{cents(3), 20, {}, {{0, 400}}, {}}};
  data.jobs = {plain_job(data, 50, 10, 60), plain_job(data, 30, 20, 30)};
  data.jobs[0].removals = {0};
  data.jobs[0].needs = {{0, 1500}};
  data.jobs[1].removals = {0};
  const Plan plan = plan_of(data, {{0, 1}, {}});
  // Stage 0 needs 1900: 2 packs, 14, delivery 5, own cost 10 + 3; 100 is left over. The pack for stage 1
  // comes with them: 7. All that is 39, allowance 3.9 -> 4.
  const StageCost& first = plan.stages[0];
  CHECK(first.goods == cents(21));
  CHECK(first.delivery == cents(5));
  CHECK(first.fees == cents(13));
  CHECK(first.allowance == cents(4));
  CHECK(first.spent == cents(43));
  CHECK(first.cash_after == cents(68));
  CHECK(first.job_minutes == 60);
  CHECK(first.removal_minutes == 20);
  // Stage 1 needs 400, has 100: 1 pack, paid already; 23, allowance 2.3 -> 3.
  CHECK(plan.stages[1].spent == cents(26));
  CHECK(plan.stages[1].cash_after == cents(142));
  CHECK(plan.value == 50 * 2 + 30 - 2 * 40);
  CHECK(plan.spent == cents(69));
  CHECK(plan.minutes == 60 + 30 + 40);
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.orders[0].lines[0].packs == 2);
  CHECK(plan.orders[0].lines[1].for_stage == 1);
}

TEST_CASE("a removal is charged once in a stage however many jobs open it") {
  ProblemData data = plain_stages(2);
  data.removals = {{cents(3), 20, {}, {}, {}}};
  data.jobs = {plain_job(data, 1), plain_job(data, 1), plain_job(data, 1)};
  for (Job& job : data.jobs) job.removals = {0};
  const Plan plan = plan_of(data, {{0, 0, 1}, {}});
  CHECK(plan.spent == cents(6));
  CHECK(plan.stages[0].opened == std::vector{0});
  CHECK(plan.minutes == 40);
}

TEST_CASE("leftovers serve later stages until their keeping time ends") {
  ProblemData data = one_article(3, {600, 400, 1});
  CHECK(plan_of(data, {{0, 1, 2}, {}}).spent == cents(7 + 7 + 5));
  data.articles[0].keeping_days = 30;  // opened at bench 20010, so usable at bench 20040
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(12));
  data.articles[0].keeping_days = 29;
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(7 + 7 + 5));
}

TEST_CASE("stock on hand is used first and the lot that ends first before others") {
  ProblemData data = one_article(2, {500, 500});
  data.articles[0].on_hand = {{500, {}}, {500, Date{20010}}};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(0));
  data.articles[0].on_hand[1].use_by = Date{20009};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(12));
}

TEST_CASE("stock on its way is used from its arrival on and not before") {
  ProblemData data = one_article(3, {1000, 1000, 0});
  data.jobs[2].needs.clear();
  data.articles[0].on_hand = {{1000, {}, data.stages[1].bench}};
  CHECK(plan_of(data, {{-1, 1, -1}, {}}).spent == cents(0));
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(12));
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(12));
  data.articles[0].on_hand[0].from = data.stages[1].bench + 1;
  CHECK(plan_of(data, {{-1, 1, -1}, {}}).spent == cents(12));
  CHECK(plan_of(data, {{-1, 2, -1}, {}}).spent == cents(0));
}

TEST_CASE("closed stock on hand goes off once a pack of it is opened and whole packs stay closed") {
  ProblemData data = one_article(3, {400, 1, 400});
  data.articles[0].keeping_days = 29;  // a day less than from one bench date to the next
  data.articles[0].on_hand = {{1000, {}}};
  CHECK(plan_of(data, {{0, -1, 0}, {}}).spent == cents(0));
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(12));  // the rest of it has gone off
  data.articles[0].keeping_days = 30;
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));
  data.articles[0].keeping_days = 29;
  data.articles[0].on_hand = {{1000, {}}, {1000, {}}};
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));  // the second is opened then
  data.articles[0].on_hand = {{1400, {}}};
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));  // the smaller pack is opened first
}

TEST_CASE("stock that goes off before it arrives is never used") {
  ProblemData data = one_article(2, {1000, 1000});
  data.articles[0].on_hand = {{2000, data.stages[0].bench, data.stages[1].bench}};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(7 + 7 + 5));
}

TEST_CASE("an order for a later stage joins the same payday and shares its delivery") {
  ProblemData data = one_article(2, {1000, 1000});
  data.articles.push_back({1000, {}, {}, {{0, cents(9), 40, {}, {}}}});
  data.jobs[1].needs[0].article = 1;
  Plan plan = plan_of(data, {{0, 1}, {}});
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.spent == cents(7 + 9 + 5));
  CHECK(plan.stages[0].cash_after == cents(79));
  CHECK(plan.orders[0].lines[1].for_stage == 1);
  data.suppliers[0].free_from = cents(16);
  plan = plan_of(data, {{0, 1}, {}});
  CHECK(plan.spent == cents(16));
  CHECK(plan.orders[0].delivery == cents(0));
}

TEST_CASE("a dearer offer is taken where it saves a delivery charge") {
  ProblemData data = one_article(1, {1000, 1000});
  data.suppliers.push_back({cents(6), cents(20)});
  data.articles.push_back({1000, {}, {}, {{1, cents(15), 0, {}, {}}}});
  data.articles[0].offers = {{0, cents(1), 0, {}, {}}, {1, cents(5), 0, {}, {}}};
  data.jobs[1].needs[0].article = 1;
  const Plan plan = plan_of(data, {{0, 0}, {}});  // 1 + 5 + 15 + 6 = 27 against 5 + 15 = 20
  CHECK(plan.spent == cents(20));
  CHECK(plan.orders.size() == 1);
}

TEST_CASE("among equal baskets cash stays longest and then the lowest offer wins") {
  ProblemData data = one_article(2, {1000});
  data.articles[0].offers = {{0, cents(7), 11, {}, {}}, {0, cents(7), 0, {}, {}}, {0, cents(7), 0, {}, {}}};
  const Plan plan = plan_of(data, {{1}, {}});
  CHECK(plan.orders[0].stage == 1);
  CHECK(plan.orders[0].lines[0].offer == 1);
}

TEST_CASE("a tool is free, hired, or bought once for all later stages") {
  ProblemData data = plain_stages(4);
  data.suppliers = {{cents(5), {}}};
  data.tools = {{{1, 0, 0, 0}, {{0, cents(30), 0, {}, {}}}, cents(12)}};
  for (int j = 0; j < 4; ++j) data.jobs.push_back(plain_job(data, 1));
  for (Job& job : data.jobs) job.tools = {0};
  CHECK(plan_of(data, {{0, 1, 2, 3}, {-1}}).spent == cents(36));
  CHECK(plan_of(data, {{0, 1, 2, 3}, {1}}).spent == cents(35));
  const Plan plan = plan_of(data, {{0, 1, 2, 3}, {2}});
  CHECK(plan.spent == cents(47));
  CHECK(plan.stages[1].hired == std::vector{0});
  CHECK(only(broken_by(data, {{0, -1, 2, 3}, {1}}), Rule::tool, 1, 0));
  data.tools[0].hire.reset();
  CHECK(only(broken_by(data, {{0, 1, 2, 3}, {2}}), Rule::tool, 1, 0));
}

TEST_CASE("styles for fewer or more stages than there are break no rule and make nothing dearer") {
  const ProblemData data = one_article(2, {1000, 1000});
  const Plan plain = plan_of(data, {{0, 1}, {}});
  for (const std::size_t count : {1, 2, 3}) {
    CHECK(plan_of(data, {{0, 1}, {}, std::vector<Style>(count, {true, true})}).spent <= plain.spent);
  }
}

TEST_CASE("each broken rule is reported with its place") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1, 10, 300), plain_job(data, 1, 10, 301), plain_job(data, 1)};
  const auto check = [&](const Schedule& schedule, Rule rule, int stage, int index) {
    const auto broken = broken_by(data, schedule);
    REQUIRE(broken.size() == 1);
    CHECK(only(broken, rule, stage, index));
    CHECK_FALSE(broken[0].what.empty());
  };
  check({{0, 0, 0}, {}}, Rule::hours, 0, -1);
  check({{0, 1}, {}}, Rule::window, -1, -1);
  check({{0, 2, 0}, {}}, Rule::window, -1, 1);
  check({{0, -2, 0}, {}}, Rule::window, -1, 1);
  data.jobs[0].latest = 0;
  check({{1, 0, 0}, {}}, Rule::window, 1, 0);
  data.jobs[0].must = true;
  check({{-1, 0, 0}, {}}, Rule::must, -1, 0);
  data.jobs[2].after = {1};
  check({{0, 1, 0}, {}}, Rule::order, 0, 2);
  check({{0, -1, 0}, {}}, Rule::order, 0, 2);
  CHECK(broken_by(data, {{0, 1, 1}, {}}).empty());
  data.one_of = {{0, 1}};
  check({{0, 1, 1}, {}}, Rule::one_of, 1, 1);
  data.one_of.clear();
  data.together = {{1, 2}};
  check({{0, 1, -1}, {}}, Rule::together, -1, 2);
  CHECK(broken_by(data, {{0, 1, 1}, {}}).empty());
}

TEST_CASE("cash below the floor is reported with what is short") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1, 95)};
  data.stages[0].floor = cents(6);
  const auto broken = broken_by(data, {{0}, {}});
  REQUIRE(only(broken, Rule::cash, 0, -1));
  CHECK(broken[0].amount == cents(1));
  CHECK(broken_by(data, {{1}, {}}).empty());
}

TEST_CASE("goods that cannot arrive are reported") {
  ProblemData data = one_article(2, {1000});
  data.articles[0].offers[0].lead_days = 11;
  CHECK(only(broken_by(data, {{0}, {}}), Rule::goods, 0, 0));
  CHECK(broken_by(data, {{1}, {}}).empty());
  data.articles[0].offers.clear();
  CHECK(only(broken_by(data, {{1}, {}}), Rule::goods, 1, 0));
}

TEST_CASE("mates must agree and clashes be adapted at the end of every stage") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1), plain_job(data, 1), plain_job(data, 1)};
  data.carriers = {{-1, {0}, {{7, 1}}}, {0, {}, {{7, 2}}}, {-1, {1}, {{7, 1}}}, {1, {}, {{7, 2}}}};
  CHECK(only(broken_by(data, {{0, 1, -1}, {}}), Rule::mate, 0, 7));
  CHECK(broken_by(data, {{1, 1, -1}, {}}).empty());
  CHECK(broken_by(data, {{-1, -1, -1}, {}}).empty());
  data.clashes = {{1, 3, {2}}};
  CHECK(only(broken_by(data, {{0, 0, 1}, {}}), Rule::clash, 0, 0));
  CHECK(broken_by(data, {{1, 1, 1}, {}}).empty());
  data.clashes[0].adapted_by.clear();
  CHECK(broken_by(data, {{1, 1, 1}, {}}).size() == 1);
}

TEST_CASE("what takes a thing off before it comes leaves it there") {
  ProblemData data = plain_stages(3);
  for (int j = 0; j < 3; ++j) data.jobs.push_back(plain_job(data, 1));
  // Job 0 fits wide bars, job 1 the old narrow ones again; job 2 fits what goes with wide bars only.
  data.carriers = {{-1, {0}, {{0, 22}}}, {0, {1}, {{0, 28}}}, {1, {0}, {{0, 22}}}, {2, {}, {{0, 28}}}};
  CHECK(plan_of(data, {{1, 0, 1}, {}}).value == 2 + 3 + 2);
  CHECK(only(broken_by(data, {{0, 1, 2}, {}}), Rule::mate, 2, 0));
  CHECK(broken_by(data, {{0, 1, 0}, {}}).size() == 2);  // at the end of stages 1 and 2
}

TEST_CASE("a renewal is earned once, by the first job of it that is done or the best in its stage") {
  ProblemData data = plain_stages(3);
  for (int j = 0; j < 3; ++j) data.jobs.push_back(plain_job(data, 1));
  data.renewals = {{{0, 2}, {{50, 40, 30}, {90, 80, 70}}}};
  CHECK(plan_of(data, {{0, -1, -1}, {}}).value == 3 + 50);
  CHECK(plan_of(data, {{0, -1, 1}, {}}).value == 3 + 2 + 50);
  CHECK(plan_of(data, {{1, -1, 0}, {}}).value == 3 + 2 + 90);
  CHECK(plan_of(data, {{1, -1, 1}, {}}).value == 2 + 2 + 80);
  CHECK(plan_of(data, {{-1, 0, -1}, {}}).value == 3);
}

TEST_CASE("plans compare by value and then money and then minutes") {
  Plan a;
  Plan b;
  CHECK(compare(a, b) == 0);
  b.minutes = 1;
  CHECK(compare(a, b) > 0);
  a.spent = cents(1);
  CHECK(compare(a, b) < 0);
  a.value = 1;
  CHECK(compare(a, b) > 0);
}
