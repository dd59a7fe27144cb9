#include "lib/graph/bench_order.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using graph::Bench;
using graph::Move;

/// The same numbers on every platform.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  int below(int bound) {
    state_ = state_ * 6364136223846793005u + 1442695040888963407u;
    return static_cast<int>((state_ >> 33) % static_cast<std::uint64_t>(bound));
  }

 private:
  std::uint64_t state_;
};

std::vector<std::vector<int>> random_needs(Dice& dice, int removals) {
  std::vector<std::vector<int>> needs(static_cast<std::size_t>(removals));
  for (int r = 1; r < removals; ++r) {
    if (dice.below(2) == 0) needs[r].push_back(dice.below(r));
  }
  return needs;
}

/// Some removals and all they need, ascending.
std::vector<int> random_uses(Dice& dice, const std::vector<std::vector<int>>& needs) {
  std::vector<char> used(needs.size(), 0);
  for (int count = dice.below(3); count > 0; --count) used[dice.below(static_cast<int>(needs.size()))] = 1;
  std::vector<int> uses;
  for (int r = static_cast<int>(needs.size()) - 1; r >= 0; --r) {
    if (!used[r]) continue;
    uses.insert(uses.begin(), r);
    for (const int need : needs[r]) used[need] = 1;
  }
  return uses;
}

Bench random_bench(Dice& dice) {
  const int jobs = 2 + dice.below(5);
  Bench bench;
  bench.needs = random_needs(dice, 2 + dice.below(4));
  for (int j = 0; j < jobs; ++j) bench.uses.push_back(random_uses(dice, bench.needs));
  bench.before.resize(bench.uses.size());
  for (int j = 1; j < jobs; ++j) {
    if (dice.below(4) == 0) bench.before[j].push_back(dice.below(j));
  }
  return bench;
}

bool keeps_before(const Bench& bench, const std::vector<int>& jobs) {
  std::vector<int> place(jobs.size());
  for (std::size_t i = 0; i < jobs.size(); ++i) place[jobs[i]] = static_cast<int>(i);
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    for (const int earlier : bench.before[j]) {
      if (place[earlier] > place[j]) return false;
    }
  }
  return true;
}

std::vector<int> jobs_in(const std::vector<graph::Event>& events) {
  std::vector<int> jobs;
  for (const auto& event : events) {
    if (event.move == Move::work) jobs.push_back(event.index);
  }
  return jobs;
}

int least_idle(const Bench& bench) {
  std::vector<int> jobs(bench.uses.size());
  std::iota(jobs.begin(), jobs.end(), 0);
  int least = -1;
  do {
    if (!keeps_before(bench, jobs)) continue;
    const int idle = graph::idle_open_time(bench, jobs);
    if (least < 0 || idle < least) least = idle;
  } while (std::next_permutation(jobs.begin(), jobs.end()));
  return least;
}

}  // namespace

TEST_CASE("removals stay off hardly longer than in the best of all orders of jobs") {
  Dice dice(20260101);
  int found = 0, best = 0, missed = 0;
  for (int round = 0; round < 300; ++round) {
    const Bench bench = random_bench(dice);
    const auto jobs = jobs_in(graph::bench_order(bench));
    REQUIRE(keeps_before(bench, jobs));
    const int idle = graph::idle_open_time(bench, jobs);
    const int least = least_idle(bench);
    REQUIRE(idle >= least);
    found += idle;
    best += least;
    missed += idle > least;
  }
  MESSAGE("idle open time ", found, ", best ", best, ", orders that missed it ", missed, " of 300");
  CHECK(best > 0);
  CHECK(missed == 0);
}

TEST_CASE("idle open time counts the jobs done while something is off for nothing") {
  const Bench bench{{{0}, {}, {0, 1}}, {{}, {}, {}}, {{}, {}}};
  CHECK(graph::idle_open_time(bench, {0, 1, 2}) == 1);
  CHECK(graph::idle_open_time(bench, {1, 0, 2}) == 0);
}

TEST_CASE("jobs stand as in the file where no order leaves less off for nothing") {
  const Bench bench{{{0, 1}, {0, 1}, {2}, {2}}, {{}, {}, {}, {}}, {{}, {}, {}}};
  CHECK(jobs_in(graph::bench_order(bench)) == std::vector<int>{0, 1, 2, 3});
}
