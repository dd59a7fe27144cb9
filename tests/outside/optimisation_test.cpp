#include <cstdio>
#include <sstream>

#include "budgets/search/bound/linear_dual.hpp"
#include "budgets/solve.hpp"
#include "tests/bench/exchange_lp.hpp"
#include "tests/bench/families.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/small.hpp"
#include "tests/outside/support/benchmarks.hpp"
#include "tests/outside/support/optimiser.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using namespace fettlefund::budgets;
using namespace fettlefund::outside;
using fettlefund::testing::cents;
using fettlefund::testing::Random;

/// The certified range of the best value.
struct Range {
  std::int64_t value = 0;  ///< of the best plan found; every problem here has one
  std::int64_t bound = 0;
  std::vector<int> done;  ///< jobs of that plan, counted from 1 as the sources do
};

Range range_of(const ProblemData& data, Effort effort = Effort::quick) {
  const Problem problem(data);
  SolveOptions options;
  options.effort = effort;
  const Result result = solve(problem, options);
  const auto* proven = std::get_if<Proven>(&result);
  const auto* stopped = std::get_if<Stopped>(&result);
  REQUIRE((proven || (stopped && stopped->plan)));
  const Plan& plan = proven ? proven->plan : *stopped->plan;
  CHECK(verify(problem, plan).empty());
  Range range{plan.value, proven ? plan.value : stopped->bound, {}};
  for (int j = 0; j < problem.job_count(); ++j) {
    if (plan.schedule.stage_of[j] >= 0) range.done.push_back(j + 1);
  }
  return range;
}

/// Stages a day apart with this income and no hours.
ProblemData stages_with(const std::vector<int>& incomes) {
  ProblemData data;
  for (std::size_t t = 0; t < incomes.size(); ++t) {
    const Date day = Date{20000} + static_cast<int>(t);
    data.stages.push_back({day, day, cents(incomes[t]), {}, 0});
  }
  return data;
}

Job project(std::vector<std::int64_t> worth, int cost, int minutes) {
  Job job;
  job.worth = std::move(worth);
  job.cost = cents(cost);
  job.minutes = minutes;
  return job;
}

// J. H. Lorie, L. J. Savage, "Three Problems in Rationing Capital", Journal of Business 28(4), 1955; solved
// as an integer program in H. M. Weingartner, "Mathematical Programming and the Analysis of Capital Budgeting
// Problems", 1963: nine projects, outlays in two periods, 50 and 20 to spend, best present value 70.
constexpr int kProjects = 9;
constexpr int kPresentValue[kProjects] = {14, 17, 17, 15, 40, 12, 14, 10, 12};
constexpr int kFirstOutlay[kProjects] = {12, 54, 6, 6, 30, 6, 48, 36, 18};
constexpr int kSecondOutlay[kProjects] = {3, 7, 6, 2, 35, 6, 4, 3, 3};

bool skip_without(const std::optional<std::string>& data, const char* name) {
  if (!data) std::printf("skipped: ../shared/data/%s is absent\n", name);
  return !data;
}

void check_release(const std::string& text, int tenths, std::int64_t optimum, ReleaseForm form) {
  const Release release = read_release(text);
  CAPTURE(tenths);
  CAPTURE(static_cast<int>(form));
  const Range range = range_of(release_problem(release, release.budget(tenths), form));
  CHECK(range.value <= optimum);
  CHECK(range.bound >= optimum);
}

/// A small exchange problem with every key in use; some have no plan at all.
bench::Exchange small_exchange(int seed) {
  bench::Exchange exchange =
      bench::make_instance({"", 8, 3 + seed % 2, seed % 2 == 0}, static_cast<std::uint64_t>(seed));
  Random random(static_cast<std::uint64_t>(seed));
  exchange.opening = random.between(0, 30);
  exchange.keep_back = random.between(-10, 40);
  if (random.chance(30)) exchange.stages[1].cash_in = -random.between(0, 30);
  if (random.chance(40)) exchange.tasks[random.below(8)].must = true;
  if (random.chance(40)) exchange.tasks[random.below(8)].earliest = random.below(3);
  if (random.chance(40)) exchange.tasks[random.below(8)].latest = random.below(3);
  return exchange;
}

void check_against(const std::string& program, const bench::Exchange& exchange, int& possible) {
  CAPTURE(program);
  const auto outside = minimise(program, bench::write_lp(exchange));
  REQUIRE(outside.has_value());
  const Result result = solve(bench::staging_problem(exchange));
  if (!outside->possible) {
    CHECK(std::holds_alternative<Impossible>(result));
    return;
  }
  ++possible;
  REQUIRE(std::holds_alternative<Proven>(result));
  CHECK(std::get<Proven>(result).plan.value == -outside->objective);
}

/// The same program with all that is chosen, or not, between the two.
std::string relaxed_lp(const bench::Exchange& exchange) {
  const std::string text = bench::write_lp(exchange);
  const std::string mark = "Binaries\n";
  const std::size_t whole = text.find(mark);
  REQUIRE(whole != std::string::npos);
  std::istringstream names(text.substr(whole + mark.size()));
  std::string result = text.substr(0, whole) + "Bounds\n";
  for (std::string name; names >> name && name != "End";) result += "0 <= " + name + " <= 1\n";
  return result + "End\n";
}

/// What the first multipliers of the search come to.
double linear_start(const bench::Exchange& exchange) {
  const Problem problem = bench::staging_problem(exchange);
  const search::Model model(problem);
  const search::Relaxed relaxed(model);
  search::Meter meter(std::int64_t{1} << 40, nullptr);
  return search::LinearDual(relaxed).run(0.0, 400'000'000, meter);
}

}  // namespace

TEST_CASE("nine projects under two separate budgets come to the published optimum") {
  ProblemData data = stages_with({50});
  data.stages[0].minutes = 20;  // the second period's money as hours: it cannot be saved for
  for (int j = 0; j < kProjects; ++j) {
    data.jobs.push_back(project({kPresentValue[j]}, kFirstOutlay[j], kSecondOutlay[j]));
  }
  const Range range = range_of(data);
  CHECK(range.value == 70);
  CHECK(range.bound == 70);
  CHECK(range.done == std::vector{1, 3, 4, 6, 9});
}

TEST_CASE("nine projects under two budgets with money carried over come to the published optimum") {
  // A project is done in the second stage; its first outlay is an article that has to be ordered a stage
  // ahead.
  ProblemData data = stages_with({50, 20});
  data.suppliers = {{}};
  for (int j = 0; j < kProjects; ++j) {
    Job job = project({0, kPresentValue[j]}, kSecondOutlay[j], 0);
    job.earliest = 1;
    job.needs = {{j, 1000}};
    data.articles.push_back({1000, {}, {}, {{0, cents(kFirstOutlay[j]), 1, {}, {}}}});
    data.jobs.push_back(job);
  }
  const Range range = range_of(data);
  CHECK(range.value == 70);
  CHECK(range.bound == 70);
}

TEST_CASE("four investments come to the optima of the tutorial with and without logical conditions") {
  // M. Trick, "A Tutorial on Integer Programming", 1998: capital budgeting.
  ProblemData data = stages_with({14});
  data.jobs = {project({8}, 5, 1), project({11}, 7, 1), project({6}, 4, 1), project({4}, 3, 1)};
  data.stages[0].minutes = 4;
  Range range = range_of(data);
  CHECK(range.value == 21);
  CHECK(range.bound == 21);
  CHECK(range.done == std::vector{2, 3, 4});
  data.stages[0].minutes = 2;  // at most two investments, each of one minute
  data.jobs[1].after = {3};    // the second only with the fourth
  data.one_of = {{0, 2}};      // the first or the third
  range = range_of(data);
  CHECK(range.value == 15);
  CHECK(range.bound == 15);
  CHECK(range.done == std::vector{2, 4});
}

TEST_CASE("the smallest research project selection is proven and no bound undercuts a published optimum") {
  // C. C. Petersen, "Computational Experience with Variants of the Balas Algorithm Applied to the Selection
  // of R&D Projects", Management Science 13(9), 1967; file mknap1 of J. E. Beasley's OR-Library. No problem
  // of the file has just two rows (cash and hours of one stage); all have ten or five, so each row is a
  // stage's hours.
  const auto text = shared_data("orlib_mknap1/mknap1.txt");
  if (skip_without(text, "orlib_mknap1/mknap1.txt")) return;
  const std::vector<Rows> problems = read_rows(*text);
  REQUIRE(problems.size() == 7);
  const Range first = range_of(rows_problem(problems[0]));
  CHECK(first.value == 38000);
  CHECK(first.bound == 38000);
  for (std::size_t p : {std::size_t{1}, std::size_t{2}}) {
    CAPTURE(p);
    const Range range = range_of(rows_problem(problems[p]));
    CHECK(range.value <= problems[p].optimum);
    CHECK(range.bound >= problems[p].optimum);
  }
}

// J. Xuan, H. Jiang, Z. Ren, Z. Luo, "Solving the Large Scale Next Release Problem with a Backbone Based
// Multilevel Algorithm", IEEE Transactions on Software Engineering 38(5), 2012. Optima: N. Veerapen, G.
// Ochoa, M. Harman, E. Burke, "An Integer Linear Programming approach to the single and bi-objective Next
// Release Problem", Information and Software Technology 65, 2015 (figures from memory, reproduced with
// CBC 2.10.8).

TEST_CASE(
    "the first next release problem stays within its published optima however requirements are expressed") {
  const auto text = shared_data("nrp/nrp1.txt");
  if (skip_without(text, "nrp/nrp1.txt")) return;
  for (ReleaseForm form : {ReleaseForm::tools, ReleaseForm::removals, ReleaseForm::jobs}) {
    check_release(*text, 5, 1840, form);
  }
  check_release(*text, 3, 1204, ReleaseForm::tools);
  check_release(*text, 7, 2507, ReleaseForm::tools);
}

TEST_CASE("the third next release problem stays within its published optima") {
  const auto text = shared_data("nrp/nrp3.txt");
  if (skip_without(text, "nrp/nrp3.txt")) return;
  check_release(*text, 3, 7488, ReleaseForm::tools);
  check_release(*text, 5, 11159, ReleaseForm::tools);
  check_release(*text, 7, 14196, ReleaseForm::tools);
}

TEST_CASE("plans of the third next release problem come within a per cent of its published optima") {
  const auto text = shared_data("nrp/nrp3.txt");
  if (skip_without(text, "nrp/nrp3.txt")) return;
  const Release release = read_release(*text);
  const auto value_at = [&](int tenths, ReleaseForm form) {
    return range_of(release_problem(release, release.budget(tenths), form)).value;
  };
  CHECK(value_at(3, ReleaseForm::tools) * 100 >= 7488 * 99);
  CHECK(value_at(5, ReleaseForm::tools) * 100 >= 11159 * 99);
  CHECK(value_at(7, ReleaseForm::tools) * 100 >= 14196 * 99);
  CHECK(value_at(5, ReleaseForm::jobs) * 100 >= 11159 * 99);
}

TEST_CASE("a general integer-programming program proves the same optimum of random small problems") {
  const std::vector<std::string> programs = optimisers();
  if (programs.empty()) {
    std::printf("skipped: neither cbc (coinor-cbc) nor glpsol (glpk-utils) is installed\n");
    return;
  }
  int possible = 0;
  constexpr int cases = 40;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    check_against(programs[static_cast<std::size_t>(seed) % programs.size()], small_exchange(seed), possible);
  }
  CHECK(possible >= 20);
  CHECK(possible < cases);
}

TEST_CASE(
    "the first multipliers come within a hundredth of the linear relaxation as a general solver has it") {
  const std::vector<std::string> programs = optimisers();
  if (programs.empty() || programs[0] != "cbc") {
    std::printf("skipped: cbc (coinor-cbc) is not installed\n");
    return;
  }
  // Not the families with tight bench time: there tasks that fit no stage are left out beforehand.
  for (const char* family : {"small_h", "medium_h", "large_h"}) {
    CAPTURE(family);
    const bench::Exchange exchange = bench::make_instance(*bench::find_family(family), 1);
    const auto outside = minimise("cbc", relaxed_lp(exchange));
    REQUIRE(outside.has_value());
    const double linear = static_cast<double>(-outside->objective);  // rounded to a whole number
    const double ours = linear_start(exchange);
    CHECK(ours >= linear - 0.5);
    CHECK(ours <= linear * 1.01 + 0.5);
  }
}
