#include "budgets/search/conflict.hpp"

#include <algorithm>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::can_meet;
using testing::random_cases;
using testing::random_problem;

// Sanitizers make a question many times as dear, and it is asked hundreds of times.
#if defined(FETTLEFUND_SANITIZED)
constexpr int growth = 32;
#else
constexpr int growth = 2;
#endif

/// What an explanation claims is true, though it may claim little.
void check_explanation(const ProblemData& data, const Impossible& told) {
  CHECK_FALSE(can_meet(data, told.musts));
  if (told.irreducible) {
    for (const int left_out : told.musts) {
      std::vector<int> fewer;
      for (const int must : told.musts) {
        if (must != left_out) fewer.push_back(must);
      }
      CHECK(can_meet(data, fewer));
    }
  }
  if (!told.short_by) return;
  CHECK(told.cash);
  CHECK(can_meet(data, told.musts, told.short_by->minor()));
  CHECK_FALSE(can_meet(data, told.musts, told.short_by->minor() - 1));
}

struct Explained {
  int impossible = 0, open = 0, short_of_cash = 0;
};

/// Explains with a share of steps for each question that grows up to `most`.
void explain_with_all_shares(int seed, std::int64_t most, Explained& count) {
  const ProblemData data = random_problem(110'000 + seed, 6, 4);
  std::vector<int> musts;
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) {
    if (data.jobs[j].must) musts.push_back(j);
  }
  if (musts.empty() || can_meet(data, musts)) return;
  ++count.impossible;
  const Problem problem(data);
  for (std::int64_t share = 100; share < most; share *= growth) {
    CAPTURE(seed);
    CAPTURE(share);
    Meter meter(40 * share, nullptr);
    const Impossible told = explain(problem, little, share, meter);
    check_explanation(data, told);
    count.open += told.irreducible ? 0 : 1;
    count.short_of_cash += told.short_by ? 1 : 0;
  }
}

TEST_CASE("wherever the steps of an explanation end nothing it claims is untrue") {
  Explained count;
  explain_with_all_shares(158, 300'000, count);    // open with little, whatever is left out
  explain_with_all_shares(244, 300'000, count);    // was open once while the least cash was looked for
  explain_with_all_shares(811, 300'000, count);    // open with little, with more the least cash is told
  explain_with_all_shares(972, 3'000'000, count);  // two plans that differ by a minor unit
  for (int seed = 0; count.impossible < random_cases(80) / 8 && seed < 20'000; ++seed)
    explain_with_all_shares(seed, 300'000, count);
  CHECK(std::min(count.impossible, count.open) > 0);
  if (growth == 2) CHECK(count.short_of_cash > 0);
}

TEST_CASE("a must that other goods bring to free delivery can be met") {
  ProblemData data = testing::plain_stages(1);  // 100 comes in
  data.suppliers = {{Money::of_minor(10), Money::of_minor(100)}};
  for (const int price : {95, 5}) {
    data.articles.emplace_back().offers = {{0, Money::of_minor(price), 0, {}, {}}};
    data.jobs.push_back(testing::plain_job(data, 1));
    data.jobs.back().needs = {{static_cast<int>(data.articles.size()) - 1, 1000}};
  }
  Meter meter(1'000'000'000, nullptr);
  Feasible feasible(data, little, 100'000'000, meter);
  CHECK(feasible.ask({0}).answer == Answer::yes);
  data.jobs.pop_back();
  CHECK(feasible.ask({0}).answer == Answer::no);
}

Answer can_be_done(const ProblemData& data, int must) {
  Meter meter(1'000'000'000, nullptr);
  return Feasible(data, little, 100'000'000, meter).ask({must}).answer;
}

TEST_CASE("a must whose clash either of two jobs adapts can be met") {
  ProblemData data = testing::plain_stages(1);
  data.jobs.assign(3, testing::plain_job(data, 1));
  data.carriers.resize(2);
  data.carriers[0].brought_by = 0;
  data.clashes = {{0, 1, {1, 2}}};
  CHECK(can_be_done(data, 0) == Answer::yes);
  data.clashes = {{0, 1, {}}};
  CHECK(can_be_done(data, 0) == Answer::no);
}

TEST_CASE("a must that fits once either of two jobs has replaced something can be met") {
  ProblemData data = testing::plain_stages(1);
  data.jobs.assign(3, testing::plain_job(data, 1));
  data.carriers = {{0, {}, {{7, 2}}}, {-1, {1, 2}, {{7, 1}}}};
  CHECK(can_be_done(data, 0) == Answer::yes);
  data.carriers[1].replaced_by.clear();
  CHECK(can_be_done(data, 0) == Answer::no);
}

TEST_CASE("the stage of a contradiction is the first in which one of its musts has to be done") {
  for (const int first : {0, 1}) {
    CAPTURE(first);
    ProblemData data = testing::plain_stages(3);  // 100 in each
    data.jobs = {testing::plain_job(data, 1, 250), testing::plain_job(data, 1, 250)};
    for (Job& job : data.jobs) job.must = true;
    data.jobs[static_cast<std::size_t>(first)].latest = 1;
    data.opening = Money::of_minor(50);
    Meter meter(1'000'000'000, nullptr);
    const Impossible told = explain(Problem(data), little, 100'000'000, meter);
    CHECK(told.musts == std::vector{0, 1});
    CHECK(told.stage == 1);
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
