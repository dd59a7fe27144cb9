#include "budgets/search/local/descents.hpp"

#include <algorithm>
#include <cstdlib>

#include "budgets/problem/check.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr int most_levels = 6;
constexpr std::int64_t least_steps = 40'000'000;  ///< of a descent that is one of several
/// Between two levels at most this part of all money. Descents at up to 1 % less find plans about as good.
constexpr std::int64_t parts = 256;

/// Changes of how to buy among a hundred: some descents look more at these.
constexpr Annealer::Shares few_purchases{5, 3};
constexpr Annealer::Shares many_purchases{20, 10};

std::int64_t rounded_down(std::int64_t amount, std::int64_t grid) {
  const std::int64_t rest = amount % grid;
  return amount - (rest < 0 ? rest + grid : rest);
}

}  // namespace

std::vector<std::int64_t> cash_levels(const ProblemData& data, int count) {
  const std::int64_t opening = data.opening.minor();
  std::int64_t all = opening, magnitudes = std::abs(opening);
  for (const Stage& stage : data.stages) {
    all += stage.cash_in.minor();
    magnitudes += std::abs(stage.cash_in.minor());
  }
  if (count <= 1 || magnitudes > Limits::money / 2) return {opening};
  std::int64_t grid = 1;
  while (2 * grid <= all / parts) grid *= 2;
  std::vector<std::int64_t> levels;
  for (int k = 1; k > 1 - count; --k) levels.push_back(rounded_down(opening, grid) + k * grid);
  return levels;
}

void Descents::run(std::int64_t steps, std::uint64_t round, const Offer& offer) {
  const ProblemData& data = problem_.data();
  const int count = static_cast<int>(std::clamp<std::int64_t>(steps / least_steps, 1, most_levels));
  for (const std::int64_t level : cash_levels(data, count)) {
    if (meter_.out()) return;
    ProblemData other = data;
    other.opening = Money::of_minor(level);
    const Problem problem(std::move(other));
    const Model model(problem);
    Annealer annealer(model, meter_, data.opening.minor() - level);
    const std::uint64_t seed = SplitMix64(static_cast<std::uint64_t>(level) * 1024 + round).next();
    const auto found = annealer.run(steps / count, seed, seed % 2 == 0 ? few_purchases : many_purchases);
    if (found) offer(*found);
  }
}

}  // namespace fettlefund::budgets::search
