#include <algorithm>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

constexpr std::size_t kMostWays = 4096;

using Way = std::vector<int>;             ///< one offer for each thing wanted
using Goods = std::map<OrderKey, Money>;  ///< goods by payday and supplier

/// What a way of buying comes to, on top of what is ordered already.
struct Outcome {
  Money total;
  std::vector<Money> by_payday;
  Way way;
};

/// Less money, then more cash on the earliest payday that differs, then the lowest offers.
bool better(const Outcome& a, const Outcome& b) {
  if (a.total != b.total) return a.total < b.total;
  if (a.by_payday != b.by_payday) return a.by_payday < b.by_payday;
  return a.way < b.way;
}

/// One stage's shopping: what is ordered for the stages before it, and what it wants.
class Basket {
 public:
  Basket(const Subject& subject, int stage, const Goods& ordered)
      : data_(subject.data), stage_(stage), wanted_(subject.stages[stage].wanted), ordered_(ordered) {}

  /// Goods of this stage alone.
  Goods goods(const Way& way) const {
    Goods added;
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      const Offer& offer = offer_of(data_, wanted_[i].is_tool, wanted_[i].index, way[i]);
      added[{latest_payday(data_, offer, stage_), offer.supplier}] += offer.price * wanted_[i].packs;
    }
    return added;
  }

  Outcome outcome(const Way& way) const {
    Outcome result{Money(), std::vector<Money>(data_.stages.size()), way};
    for (const auto& [key, amount] : goods(way)) {
      const Supplier& supplier = data_.suppliers[key.second];
      const auto before = ordered_.find(key);
      const Money charged = before == ordered_.end() ? Money() : delivery_for(supplier, before->second);
      const Money so_far = before == ordered_.end() ? Money() : before->second;
      const Money more = amount + delivery_for(supplier, so_far + amount) - charged;
      result.by_payday[key.first] += more;
      result.total += more;
    }
    return result;
  }

  /// All ways, or those that change one thing in `chosen` where all are more than kMostWays.
  std::vector<Way> ways(const Way& chosen) const {
    std::vector<Way> all{Way{}};
    for (const Wanted& wanted : wanted_) {
      const std::vector<int> offers = offers_in_time(wanted);
      if (all.size() * offers.size() > kMostWays) return changes(chosen);
      std::vector<Way> longer;
      for (const Way& way : all)
        for (const int offer : offers) {
          longer.push_back(way);
          longer.back().push_back(offer);
        }
      all = std::move(longer);
    }
    return all;
  }

 private:
  std::vector<int> offers_in_time(const Wanted& wanted) const {
    const auto& offers =
        wanted.is_tool ? data_.tools[wanted.index].offers : data_.articles[wanted.index].offers;
    std::vector<int> in_time;
    for (int o = 0; o < static_cast<int>(offers.size()); ++o)
      if (latest_payday(data_, offers[o], stage_) >= 0) in_time.push_back(o);
    return in_time;
  }

  std::vector<Way> changes(const Way& chosen) const {
    std::vector<Way> all;
    for (std::size_t i = 0; i < wanted_.size(); ++i)
      for (const int offer : offers_in_time(wanted_[i])) {
        all.push_back(chosen);
        all.back()[i] = offer;
      }
    return all;
  }

  const ProblemData& data_;
  int stage_;
  const std::vector<Wanted>& wanted_;
  const Goods& ordered_;
};

int recorded_offer(const Plan& plan, int stage, const Wanted& wanted) {
  for (const Order& order : plan.orders)
    for (const OrderLine& line : order.lines)
      if (line.for_stage == stage && (wanted.is_tool ? line.tool : line.article) == wanted.index)
        return line.offer;
  return 0;  // not reached: every wanted thing has a line
}

}  // namespace

void check_baskets(const Subject& subject, Findings& findings) {
  Goods ordered;
  for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s) {
    const Basket basket(subject, s, ordered);
    Way chosen;
    for (const Wanted& wanted : subject.stages[s].wanted)
      chosen.push_back(recorded_offer(subject.plan, s, wanted));
    const Outcome recorded = basket.outcome(chosen);
    Outcome best = recorded;
    for (const Way& way : basket.ways(chosen))
      if (Outcome other = basket.outcome(way); better(other, best)) best = std::move(other);
    if (better(best, recorded))
      found(findings, Rule::accounts, s, -1, "the goods for stage ", s, " come to ", recorded.total,
            " in minor units, but a better way comes to ", best.total);
    for (const auto& [key, amount] : basket.goods(chosen)) ordered[key] += amount;
  }
}

}  // namespace fettlefund::budgets::verifier
