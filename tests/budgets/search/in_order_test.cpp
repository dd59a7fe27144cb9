#include "budgets/search/in_order.hpp"

#include "tests/budgets/support/plan_text.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/renamed.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

/// [place after] the name it had before.
std::vector<std::string> names_before(const std::vector<int>& to) {
  std::vector<std::string> names(to.size());
  for (std::size_t i = 0; i < to.size(); ++i) names[to[i]] = std::to_string(i);
  return names;
}

/// Where the effort is cut short at random, so that not only what is proven is compared.
SolveOptions random_effort(testing::Random& random) {
  SolveOptions options;
  if (random.chance(50)) options.steps = random.between(1, 30) * 1000;
  return options;
}

TEST_CASE("the order in which jobs removals and suppliers are listed changes no plan") {
  const int cases = testing::random_cases(150);
  int proven = 0, stopped = 0, impossible = 0;
  for (int seed = testing::first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    testing::Random random(static_cast<std::uint64_t>(seed));
    const ProblemData data = testing::random_problem(700'000 + static_cast<std::uint64_t>(seed), 9, 4);
    const auto other = testing::relisted(data, random);
    const SolveOptions options = random_effort(random);
    const Result a = solve(Problem(data), options), b = solve(Problem(other.data), options);
    const testing::Names names{
        names_before(other.job_to), names_before(other.removal_to), names_before(other.supplier_to), {}, {}};
    REQUIRE(testing::result_text(data, a, {}) == testing::result_text(other.data, b, names));
    if (const Plan* plan = plan_of(b)) REQUIRE(verify(Problem(other.data), *plan).empty());
    proven += std::holds_alternative<Proven>(a) ? 1 : 0;
    stopped += std::holds_alternative<Stopped>(a) ? 1 : 0;
    impossible += std::holds_alternative<Impossible>(a) ? 1 : 0;
  }
  MESSAGE(proven << " proven, " << stopped << " stopped, " << impossible << " impossible");
  for (const int some : {proven, stopped, impossible}) CHECK(some > 0);
}

TEST_CASE("wishes and known plans are told in the places of the problem given") {
  ProblemData data;
  data.opening = Money::of_minor(10'000);
  data.stages = {{make_date(2030, 1, 4), make_date(2030, 1, 5), {}, {}, 600},
                 {make_date(2030, 2, 1), make_date(2030, 2, 2), {}, {}, 600}};
  for (const int rank : {2, 0, 1}) {
    Job& job = data.jobs.emplace_back();
    job.worth = {20 + rank, 10 + rank};
    job.rank = rank;
  }
  SolveOptions options;
  options.placements = {{0, 1, 1, true}, {2, 0, -1, false}};
  const Result result = solve(Problem(data), options);
  REQUIRE(plan_of(result) != nullptr);
  CHECK(plan_of(result)->schedule.stage_of == std::vector<int>{1, 0, 0});
  options = {};
  options.steps = 0;
  options.known = {{{1, -1, -1}, {}}};
  const Result known = solve(Problem(data), options);
  REQUIRE(plan_of(known) != nullptr);
  CHECK(plan_of(known)->value >= 12);
}

}  // namespace
}  // namespace fettlefund::budgets
