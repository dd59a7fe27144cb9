#include "budgets/costing/basket_cover.hpp"

#include <tuple>

#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

using Key = std::tuple<std::int64_t, std::vector<std::int64_t>, std::vector<int>>;

/// What a choice comes to; nothing if it misses a goal or costs too much.
std::optional<Key> key_of(const CoverTask& task, const std::vector<int>& choice) {
  Key key{0, std::vector<std::int64_t>(static_cast<std::size_t>(task.paydays)), {}};
  std::vector<std::int64_t> reached(task.goals.size());
  for (std::size_t i = 0; i < choice.size(); ++i) {
    const CoverWay& way = task.things[i][choice[i]];
    std::get<0>(key) += way.price;
    std::get<1>(key)[way.payday] += way.price;
    std::get<2>(key).push_back(way.offer);
    if (way.goal >= 0) reached[way.goal] += way.price;
  }
  for (std::size_t g = 0; g < reached.size(); ++g) {
    if (reached[g] < task.goals[g]) return {};
  }
  return std::get<0>(key) > task.most ? std::nullopt : std::optional(key);
}

std::optional<Key> best_by_trying(const CoverTask& task) {
  std::optional<Key> best;
  std::vector<int> choice(task.things.size(), 0);
  for (bool more = true; more;) {
    const auto key = key_of(task, choice);
    if (key && (!best || *key < *best)) best = key;
    std::size_t i = 0;
    while (i < choice.size() && ++choice[i] == static_cast<int>(task.things[i].size())) choice[i++] = 0;
    more = i < choice.size();
  }
  return best;
}

CoverTask random_task(int seed) {
  Random random(static_cast<std::uint64_t>(seed));
  CoverTask task;
  const int goals = random.between(1, 3);
  const int spread = random.chance(40) ? 3 : 400;
  std::int64_t all = 0;
  task.paydays = random.between(1, 3);
  for (int i = random.between(1, 8); i > 0; --i) {
    auto& ways = task.things.emplace_back();
    const int base = random.between(3, 3 + spread);
    for (int w = 0; w < random.between(1, 3) || w == 0; ++w) {
      ways.push_back({base + random.below(spread / 2 + 1), random.below(task.paydays),
                      random.between(-1, goals - 1), w});
    }
    all += base;
  }
  for (int g = 0; g < goals; ++g) task.goals.push_back(random.below(static_cast<int>(all) / goals + 1));
  if (random.chance(30)) task.most = all + random.below(static_cast<int>(all));
  task.first_width = random.chance(50) ? 1 : 64;
  return task;
}

}  // namespace

TEST_CASE("the best way to reach the goals is the one that trying all finds") {
  int reachable = 0;
  const int cases = random_cases(300);
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const CoverTask task = random_task(seed);
    const auto best = best_by_trying(task);
    const auto found = cover(task);
    REQUIRE(found.has_value() == best.has_value());
    if (!found) continue;
    ++reachable;
    REQUIRE(key_of(task, *found) == best);
  }
  CHECK(reachable > cases / 4);
  CHECK(reachable < cases);
}

TEST_CASE("twenty things with two goals are covered without trying all") {
  Random random(5);
  CoverTask task;
  for (int i = 0; i < 20; ++i) {
    const int base = random.between(500, 5000);
    task.things.push_back(
        {{base, 0, -1, 0}, {base + random.below(900), 0, 0, 1}, {base + random.below(900), 0, 1, 2}});
  }
  task.goals = {22000, 22000};
  const auto narrow = cover(task);
  task.first_width = 1;
  REQUIRE(narrow.has_value());
  CHECK(cover(task) == narrow);
}
