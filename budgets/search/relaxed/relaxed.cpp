#include "budgets/search/relaxed/relaxed.hpp"

#include <algorithm>
#include <map>
#include <numeric>

namespace fettlefund::budgets::search {
namespace {

/// A charge with the units that have it, before folding.
struct Draft {
  Charge charge;
  std::vector<int> units;
};

std::vector<Draft> draft_removals(const Model& model, const RelaxedGoods& goods) {
  std::vector<Draft> drafts;
  const ProblemData& data = model.data();
  for (int r = 0; r < static_cast<int>(data.removals.size()); ++r) {
    const Removal& removal = data.removals[r];
    drafts.push_back(
        {{removal.cost.minor() + goods.removal_cost(r), removal.minutes, removal.minutes * data.bother}, {}});
  }
  for (int u = 0; u < model.unit_count(); ++u) {
    for (int r : model.units()[u].removals) drafts[r].units.push_back(u);
  }
  return drafts;
}

std::vector<Draft> draft_fees(const RelaxedGoods& goods) {
  std::vector<Draft> drafts;
  for (const RelaxedGoods::Fee& fee : goods.fees()) drafts.push_back({{fee.cost, 0, 0}, fee.units});
  return drafts;
}

/// Charges of the same units are one charge.
std::vector<Draft> merge_equal(const std::vector<Draft>& drafts) {
  std::map<std::vector<int>, Charge> merged;
  for (const Draft& draft : drafts) {
    Charge& sum = merged[draft.units];
    sum.cost += draft.charge.cost;
    sum.minutes += draft.charge.minutes;
    sum.worth += draft.charge.worth;
  }
  std::vector<Draft> result;
  for (const auto& [units, charge] : merged) {
    if (!units.empty() && (charge.cost | charge.minutes | charge.worth) != 0)
      result.push_back({charge, units});
  }
  return result;
}

void place(const std::vector<Draft>& drafts, Relaxed& relaxed) {
  relaxed.charges_of.resize(relaxed.units);
  for (const Draft& draft : drafts) {
    if (draft.units.size() > 1) {
      for (int u : draft.units) relaxed.charges_of[u].push_back(static_cast<int>(relaxed.charges.size()));
      relaxed.charges.push_back(draft.charge);
      continue;
    }
    const int u = draft.units[0];
    relaxed.minutes[u] += draft.charge.minutes;
    for (int t = 0; t < relaxed.stages; ++t) {
      relaxed.cost[u * relaxed.stages + t] += draft.charge.cost;
      relaxed.worth[u * relaxed.stages + t] -= draft.charge.worth;
    }
  }
}

void add_onces(const RelaxedGoods& goods, Relaxed& relaxed) {
  relaxed.tools_of.resize(relaxed.units);
  for (const RelaxedGoods::Once& once : goods.onces()) {
    for (int u : once.units) relaxed.tools_of[u].push_back(relaxed.tools());
    relaxed.tool_cost.push_back(once.cost);
  }
}

void add_deliveries(const RelaxedGoods& goods, Relaxed& relaxed) {
  relaxed.fees_of.resize(relaxed.units);
  for (const RelaxedGoods::Delivery& delivery : goods.deliveries()) {
    for (int u : delivery.units) relaxed.fees_of[u].push_back(static_cast<int>(relaxed.fees.size()));
    relaxed.fees.push_back({delivery.fee.supplier, delivery.fee.cost});
  }
  relaxed.ordering = goods.ordering();
}

/// Calls `visit` with every amount of money that the relaxed problem has.
template <class Visit>
void for_each_cost(Relaxed& relaxed, Visit visit) {
  for (std::int64_t& c : relaxed.cost) visit(c);
  for (Charge& c : relaxed.charges) visit(c.cost);
  for (std::int64_t& c : relaxed.tool_cost) visit(c);
  for (SureFee& fee : relaxed.fees) visit(fee.cost);
  for (std::int64_t& fee : relaxed.ordering.fee) visit(fee);
  for (SureLine& line : relaxed.ordering.lines) {
    for (auto& ways : line.ways) {
      for (SureLine::Way& way : ways) visit(way.price), visit(way.extra);
    }
  }
}

/// Divides all costs by their greatest common divisor.
void shrink(Relaxed& relaxed) {
  std::int64_t unit = 0;
  for_each_cost(relaxed, [&](std::int64_t& c) { unit = std::gcd(unit, c); });
  relaxed.unit_cost = std::max<std::int64_t>(unit, 1);
  for_each_cost(relaxed, [&](std::int64_t& c) { c /= relaxed.unit_cost; });
}

/// What a line may cost more than its unit's cost has for it: a dearer way, and an order of its own.
std::int64_t most_of_line(const Ordering& ordering, const SureLine& line) {
  std::int64_t most = 0;
  for (const auto& ways : line.ways) {
    for (const SureLine::Way& way : ways) {
      const std::int64_t fee = way.join < 0 ? 0 : ordering.fee[ordering.joins[way.join].supplier];
      most = std::max(most, way.extra + fee);
    }
  }
  return most;
}

/// What all units cost if each pays every charge for itself: no plan costs more in the relaxed problem.
std::int64_t whole_cost(const Relaxed& relaxed) {
  std::int64_t sum = 0;
  for (int u = 0; u < relaxed.units; ++u) {
    const auto row = relaxed.cost.begin() + u * relaxed.stages;
    sum += *std::max_element(row, row + relaxed.stages);
    for (int e : relaxed.charges_of[u]) sum += relaxed.charges[e].cost;
    for (int f : relaxed.fees_of[u]) sum += relaxed.fees[f].cost;
  }
  for (std::int64_t c : relaxed.tool_cost) sum += c;
  for (const SureLine& line : relaxed.ordering.lines) sum += most_of_line(relaxed.ordering, line);
  return sum;
}

}  // namespace

Relaxed::Relaxed(const Model& m) : model(&m), units(m.unit_count()), stages(m.stage_count()) {
  goods = std::make_shared<const RelaxedGoods>(m);
  exact = goods->exact() && model->free_count() == 0 && model->any_tools().empty() &&
          model->data().renewals.empty();
  for (int u = 0; u < units; ++u) {
    const Unit& unit = m.units()[u];
    minutes.push_back(unit.minutes);
    worth.insert(worth.end(), unit.worth.begin(), unit.worth.end());
    for (int t = 0; t < stages; ++t) cost.push_back(unit.cost + goods->unit_cost(u, t));
  }
  std::vector<Draft> drafts = draft_removals(m, *goods);
  for (Draft& draft : draft_fees(*goods)) drafts.push_back(std::move(draft));
  place(merge_equal(drafts), *this);
  add_onces(*goods, *this);
  add_deliveries(*goods, *this);
  shrink(*this);
  for (int u = 0; u < units; ++u) {
    std::int64_t least = -1;
    for (int t = 0; t < stages; ++t) {
      if (m.allowed(u, t) && (least < 0 || cost_at(u, t) < least)) least = cost_at(u, t);
    }
    least_cost.push_back(std::max<std::int64_t>(least, 0));
  }
  const std::int64_t money = m.caps().empty() ? 0 : m.caps().back();
  caps = caps_within(money);
  const std::int64_t last = before_allowance(money, m.data().allowance_bp) / unit_cost;
  if (!caps.empty()) excess = std::max<std::int64_t>(0, last - caps.back());
}

std::vector<std::int64_t> Relaxed::caps_within(std::int64_t money) const {
  const std::int64_t most = whole_cost(*this);
  std::vector<std::int64_t> result;
  for (std::int64_t cap : model->caps()) {
    const std::int64_t bare = before_allowance(std::min(cap, money), model->data().allowance_bp);
    result.push_back(bare < 0 ? -1 : std::min(bare / unit_cost, most));
  }
  return result;
}

}  // namespace fettlefund::budgets::search
