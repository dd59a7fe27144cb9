#include "budgets/search/bound/linear_dual.hpp"

namespace fettlefund::budgets::search {
namespace {}  // namespace

/// What buying a line costs besides the unit's own cost: a dearer way, money paid sooner, and its part of an
/// order.
double LinearDual::line_price(const SureLine& line, int stage, const std::vector<double>& values,
                              Prices::Choice& choice) const {
  choice = {};
  double least = 0;
  const auto& ways = line.ways[stage];
  for (int w = 0; w < static_cast<int>(ways.size()); ++w) {
    const SureLine::Way& way = ways[w];
    const double due = money_price_[stage] * real(way.price - way.extra);
    for (int p = way.last; p >= way.first; --p) {
      const double joined = way.join < 0 ? 0 : values[layout_.join(way.join, p)];
      const double price = money_price_[p] * real(way.price) - due + joined;
      if (choice.way < 0 || price < least) least = price, choice = {w, p};
      if (way.join < 0) break;
    }
  }
  return least;
}

void LinearDual::price_lines(const std::vector<double>& values) {
  const Ordering& ordering = relaxed_.ordering;
  if (ordering.empty()) return;
  const int stages = relaxed_.stages;
  for (int s = 0; s < ordering.suppliers(); ++s) {
    for (int p = 0; p < stages; ++p) order_profit_[s * stages + p] = -money_price_[p] * real(ordering.fee[s]);
  }
  for (std::size_t j = 0; j < ordering.joins.size(); ++j) {
    for (int p = 0; p < stages; ++p)
      order_profit_[ordering.joins[j].supplier * stages + p] += values[layout_.join(static_cast<int>(j), p)];
  }
  for (std::size_t l = 0; l < ordering.lines.size(); ++l) {
    const SureLine& line = ordering.lines[l];
    for (int t = 0; t < stages; ++t)
      profit_[line.unit * stages + t] -= line_price(line, t, values, choices_[l * stages + t]);
  }
}

/// What sure lines and their orders pay, less what the units' costs have for them.
void LinearDual::add_lines(std::vector<double>& money) const {
  const Ordering& ordering = relaxed_.ordering;
  if (ordering.empty()) return;
  const int stages = relaxed_.stages;
  for (std::size_t l = 0; l < ordering.lines.size(); ++l) {
    const SureLine& line = ordering.lines[l];
    const int t = unit_stage_[line.unit];
    const Prices::Choice choice = t < 0 ? Prices::Choice() : choices_[l * stages + t];
    if (choice.way < 0) continue;
    const SureLine::Way& way = line.ways[t][choice.way];
    money[choice.payday] += real(way.price);
    money[t] -= real(way.price - way.extra);
  }
  for (int s = 0; s < ordering.suppliers(); ++s) {
    for (int p = 0; p < stages; ++p)
      if (order_profit_[s * stages + p] > 0) money[p] += real(ordering.fee[s]);
  }
}

void LinearDual::measure_joins() {
  const Ordering& ordering = relaxed_.ordering;
  const int stages = relaxed_.stages;
  for (std::size_t j = 0; j < ordering.joins.size(); ++j) {
    const auto [l, s] = ordering.joins[j];
    const int t = unit_stage_[ordering.lines[l].unit];
    const Prices::Choice choice = t < 0 ? Prices::Choice() : choices_[l * stages + t];
    const int used = choice.way < 0 ? -1 : ordering.lines[l].ways[t][choice.way].join;
    for (int p = 0; p < stages; ++p) {
      const int placed = order_profit_[s * stages + p] > 0 ? 1 : 0;
      excess_[layout_.join(static_cast<int>(j), p)] =
          (used == static_cast<int>(j) && choice.payday == p ? 1 : 0) - placed;
    }
  }
}

}  // namespace fettlefund::budgets::search
