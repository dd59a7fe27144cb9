#include "tests/bench/rules_out.hpp"

#include <set>
#include <string>

#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::bench {
namespace {

TEST_CASE("a rule taken out of random problems is gone, and what remains is a valid problem") {
  for (const RuleOut& rule : rules_out()) {
    CAPTURE(rule.name);
    int changed = 0;
    for (int seed = 0; seed < 200; ++seed) {
      CAPTURE(seed);
      budgets::ProblemData data = testing::random_problem(seed, 10, 5);
      if (!rule.take_out(data)) continue;
      ++changed;
      CHECK_NOTHROW(budgets::Problem{data});
      CHECK_FALSE(rule.take_out(data));
    }
    CHECK(changed >= 20);
  }
}

TEST_CASE("rules taken out have names of their own") {
  std::set<std::string> names;
  for (const RuleOut& rule : rules_out()) CHECK(names.insert(rule.name).second);
}

TEST_CASE("what a rule costs is measured with that rule alone taken out") {
  budgets::ProblemData data;
  data.allowance_bp = 100;
  data.bother = 2;
  for (const RuleOut& rule : rules_out()) {
    if (std::string(rule.name) != "bother") continue;
    CHECK(rule.take_out(data));
    CHECK(data.bother == 0);
    CHECK(data.allowance_bp == 100);
  }
}

}  // namespace
}  // namespace fettlefund::bench
