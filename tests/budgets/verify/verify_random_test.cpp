#include <functional>
#include <set>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "budgets/problem/plan.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::budgets;
using fettlefund::testing::Random;
using fettlefund::testing::random_cases;
using fettlefund::testing::random_problem;
using fettlefund::testing::random_schedule;

namespace {

Schedule drawn(std::uint64_t seed, const ProblemData& data) {
  const auto draw = random_schedule(seed, data);
  return {draw.stage_of, draw.tool_bought};
}

std::string in_words(const std::vector<Violation>& findings) {
  std::string text;
  for (const Violation& v : findings) {
    text += v.what;
    text += "; ";
  }
  return text;
}

/// Problems in which nearly every schedule can be done, so that goods, tools and figures are what is tested.
ProblemData generous(std::uint64_t seed) {
  ProblemData data = random_problem(seed, 8, 5);
  data.opening += Money::of_minor(1000000);
  for (Stage& stage : data.stages) stage.minutes += 100000;
  for (Job& job : data.jobs) {
    job.after.clear();
    job.earliest = 0;
    job.latest = -1;
    job.must = false;
  }
  data.carriers.clear();
  data.clashes.clear();
  data.one_of.clear();
  data.together.clear();
  return data;
}

/// A random place of a plan, changed so that it is another plan.
void change_one_thing(Plan& plan, Random& random) {
  std::vector<std::function<void()>> changes;
  const auto number = [&](auto& figure) {
    changes.push_back([&figure, &random] { figure += random.chance(50) ? 1 : -1; });
  };
  const auto money = [&](Money& figure) {
    changes.push_back([&figure, &random] { figure += Money::of_minor(random.chance(50) ? 1 : -1); });
  };
  const auto list = [&](std::vector<int>& items) {
    changes.push_back([&items] { items.empty() ? items.push_back(0) : items.pop_back(); });
  };
  for (int& stage : plan.schedule.stage_of) number(stage);
  for (int& stage : plan.schedule.tool_bought) number(stage);
  for (StageCost& s : plan.stages) {
    for (auto* items : {&s.jobs, &s.opened, &s.hired}) list(*items);
    for (auto* m : {&s.goods, &s.delivery, &s.hire, &s.fees, &s.allowance, &s.spent, &s.cash_after})
      money(*m);
    number(s.job_minutes);
    number(s.removal_minutes);
  }
  for (Order& order : plan.orders) {
    number(order.stage);
    number(order.supplier);
    money(order.goods);
    money(order.delivery);
    for (OrderLine& line : order.lines) {
      // Of article and tool only the one that counts: any negative number is the same for the other.
      for (auto* index : {line.article >= 0 ? &line.article : &line.tool, &line.offer, &line.for_stage})
        number(*index);
      number(line.packs);
      money(line.amount);
    }
    changes.push_back([&order] { order.lines.pop_back(); });
    changes.push_back([&order] { order.lines.push_back(order.lines.front()); });
  }
  number(plan.value);
  money(plan.spent);
  number(plan.minutes);
  changes[static_cast<std::size_t>(random.below(static_cast<int>(changes.size())))]();
}

/// Rules that depend on the decisions alone.
const std::set<Rule> kOfDecisions{Rule::window,   Rule::must,  Rule::order, Rule::one_of,
                                  Rule::together, Rule::hours, Rule::mate,  Rule::clash};

std::set<Rule> broken_decisions(const std::vector<Violation>& findings) {
  std::set<Rule> rules;
  for (const Violation& v : findings)
    if (kOfDecisions.contains(v.rule)) rules.insert(v.rule);
  return rules;
}

}  // namespace

TEST_CASE("every plan that costing makes is accepted by the verifier") {
  int accepted = 0;
  for (int seed = 0; seed < random_cases(3000); ++seed) {
    const ProblemData data = seed % 2 == 0 ? random_problem(seed, 8, 5) : generous(seed);
    const Problem problem(data);
    const auto result = cost(problem, drawn(seed, data));
    const Plan* plan = std::get_if<Plan>(&result);
    if (plan == nullptr) continue;
    ++accepted;
    const auto findings = verify(problem, *plan);
    CHECK_MESSAGE(findings.empty(), "seed " << seed << ": " << in_words(findings));
  }
  CHECK(accepted > random_cases(3000) / 10);
}

TEST_CASE("any one thing changed in a right plan is found") {
  int tried = 0;
  for (int seed = 0; seed < random_cases(1500); ++seed) {
    const ProblemData data = generous(seed);
    const Problem problem(data);
    const auto result = cost(problem, drawn(seed, data));
    const Plan* plan = std::get_if<Plan>(&result);
    if (plan == nullptr) continue;
    Random random(seed);
    for (int i = 0; i < 10; ++i, ++tried) {
      Plan changed = *plan;
      change_one_thing(changed, random);
      CHECK_MESSAGE(!verify(problem, changed).empty(), "seed " << seed << " change " << i);
    }
  }
  CHECK(tried > random_cases(1500) / 15);
}

TEST_CASE("costing and the verifier agree on which rules the decisions break") {
  int broken = 0;
  for (int seed = 0; seed < random_cases(3000); ++seed) {
    const ProblemData data = random_problem(seed, 8, 5);
    const Problem problem(data);
    Plan bare;
    bare.schedule = drawn(seed, data);
    bare.stages.resize(data.stages.size());
    const std::set<Rule> here = broken_decisions(verify(problem, bare));
    const auto result = cost(problem, bare.schedule);
    const auto* refused = std::get_if<std::vector<Violation>>(&result);
    const std::set<Rule> there = refused ? broken_decisions(*refused) : std::set<Rule>{};
    CHECK_MESSAGE(here == there, "seed " << seed);
    broken += here.empty() ? 0 : 1;
  }
  CHECK(broken > random_cases(3000) / 20);
}

TEST_CASE("the cash that a schedule is said to lack is just what it lacks") {
  const auto most_lacking = [](const ProblemData& data, const Schedule& schedule) {
    const auto refused = cost(Problem(data), schedule);
    Money most;
    if (refused.index() == 0) return most;
    for (const Violation& v : std::get<1>(refused)) most = std::max(most, v.amount);
    return most;
  };
  int compared = 0;
  for (int seed = 0; seed < random_cases(3000); ++seed) {
    CAPTURE(seed);
    ProblemData data = generous(seed);
    const Schedule schedule = drawn(seed, data);
    if (cost(Problem(data), schedule).index() != 0) continue;
    data.opening -= Money::of_minor(1000000);
    const Money lack = most_lacking(data, schedule);
    if (lack == Money()) continue;  // nothing has to be paid
    data.opening += lack;
    const auto paid = cost(Problem(data), schedule);
    REQUIRE(paid.index() == 0);
    CHECK(verify(Problem(data), std::get<Plan>(paid)).empty());
    data.opening -= Money::of_minor(1);
    CHECK(most_lacking(data, schedule) == Money::of_minor(1));
    Plan poorer = std::get<Plan>(paid);  // the same goods with less cash
    for (StageCost& stage : poorer.stages) stage.cash_after -= Money::of_minor(1);
    const auto findings = verify(Problem(data), poorer);
    CHECK_FALSE(findings.empty());
    for (const Violation& v : findings) CHECK((v.rule == Rule::cash && v.amount == Money::of_minor(1)));
    ++compared;
  }
  CHECK(compared > random_cases(3000) / 20);
}
