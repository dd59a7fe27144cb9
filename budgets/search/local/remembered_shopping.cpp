#include "budgets/search/local/remembered_shopping.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {
namespace {

constexpr std::size_t most_known = 400'000;  ///< errands; then all are forgotten
constexpr std::int64_t look_steps = 200;     ///< of finding an errand again
constexpr std::int64_t shop_steps = 2000;    ///< of shopping anew, and so much more for each line
constexpr std::int64_t line_steps = 1000;

bool meet(const Bits& a, const Bits& b) {
  for (std::size_t w = 0; w < a.size(); ++w) {
    if ((a[w] & b[w]) != 0) return true;
  }
  return false;
}

}  // namespace

std::size_t RememberedShopping::Hash::operator()(const std::vector<std::uint64_t>& key) const {
  std::uint64_t h = key.size();
  for (const std::uint64_t word : key) {
    h = (h ^ word) * 0x9e3779b97f4a7c15U;
    h ^= h >> 32;
  }
  return static_cast<std::size_t>(h);
}

RememberedShopping::RememberedShopping(const Model& model)
    : model_(model),
      groups_(model.data().stages.size() * model.data().suppliers.size()),
      joiners_(groups_ * model.data().stages.size()),
      amounts_(model.data().articles.size(), 0) {
  const ProblemData& data = model.data();
  for (Joiners& one : joiners_) {
    one.articles.assign(words_for(data.articles.size()), 0);
    one.tools.assign(words_for(data.tools.size()), 0);
  }
  early_joiners_ = joiners_;
  const auto note = [&](int stage, const Way& way, Bits Joiners::*kind, int what) {
    const std::size_t row = stage * groups_ + way.supplier;
    const std::size_t suppliers = data.suppliers.size();
    set_bit((joiners_[row + way.stage * suppliers].*kind).data(), what);
    for (int p = way.first; p <= way.stage; ++p)
      set_bit((early_joiners_[row + p * suppliers].*kind).data(), what);
  };
  for (int t = 0; t < model.stage_count(); ++t) {
    for (int a = 0; a < static_cast<int>(data.articles.size()); ++a) {
      for (const Way& way : model.buyer().article_ways(a, t)) note(t, way, &Joiners::articles, a);
    }
    for (int k = 0; k < static_cast<int>(data.tools.size()); ++k) {
      for (const Way& way : model.buyer().tool_ways(k, t)) note(t, way, &Joiners::tools, k);
    }
  }
}

bool RememberedShopping::counts(int stage, const Errand& errand, const OpenOrder& order) const {
  const auto& all = errand.style.joined ? early_joiners_ : joiners_;
  const Joiners& joiners =
      all[stage * groups_ + order.stage * model_.data().suppliers.size() + order.supplier];
  return meet(joiners.articles, errand.articles) || meet(joiners.tools, errand.bought);
}

/// Parts the stores into what can make a difference to the errand and what cannot.
void RememberedShopping::split(int stage, const Errand& errand, const Stores& stores) {
  for (Stores* part : {&counting_, &idle_}) {
    part->orders.clear();
    part->lots.clear();
  }
  for (const OpenOrder& order : stores.orders)
    (counts(stage, errand, order) ? counting_ : idle_).orders.push_back(order);
  for (const HeldLot& lot : stores.lots)
    (has_bit(errand.articles.data(), lot.article) ? counting_ : idle_).lots.push_back(lot);
}

void RememberedShopping::make_key(int stage, const Errand& errand) {
  const int style = (errand.style.late ? 1 : 0) + (errand.style.joined ? 2 : 0);
  key_.assign(1, static_cast<std::uint64_t>(4 * stage + style));
  key_.insert(key_.end(), errand.units.begin(), errand.units.end());
  key_.insert(key_.end(), errand.bought.begin(), errand.bought.end());
  key_.push_back(counting_.orders.size());
  for (const OpenOrder& order : counting_.orders) {
    key_.push_back(static_cast<std::uint64_t>(order.stage) << 32 |
                   static_cast<std::uint64_t>(order.supplier));
    key_.push_back(static_cast<std::uint64_t>(order.goods.minor()));
  }
  for (const HeldLot& lot : counting_.lots) {
    key_.push_back(static_cast<std::uint64_t>(lot.article) << 32 |
                   static_cast<std::uint64_t>(lot.last_stage) << 16 |
                   static_cast<std::uint64_t>(lot.first_stage));
    key_.push_back(static_cast<std::uint64_t>(lot.amount));
  }
}

void RememberedShopping::add_needs(const std::vector<Need>& needs) {
  for (const Need& need : needs) amounts_[need.article] += need.amount;
}

void RememberedShopping::fill_demand(const Errand& errand) {
  demand_.needs.clear();
  for (const int u : members(errand.units)) add_needs(model_.units()[u].needs);
  for (const int r : members(errand.opened)) add_needs(model_.data().removals[r].one_use);
  for (const int a : members(errand.articles)) {
    demand_.needs.push_back({a, amounts_[a]});
    amounts_[a] = 0;
  }
  demand_.tools = members(errand.bought);
}

RememberedShopping::Bought RememberedShopping::shop(int stage, const Errand& errand) {
  fill_demand(errand);
  work_ += shop_steps + line_steps * static_cast<std::int64_t>(demand_.needs.size());
  Bought bought;
  bought.stores = counting_;
  model_.buyer().buy(stage, demand_, bought.stores, receipt_, errand.style);
  bought.missing = !receipt_.missing.empty();
  for (const PaydayCharge& charge : receipt_.charges)
    bought.paid.emplace_back(charge.stage, (charge.goods + charge.delivery).minor());
  model_.buyer().forget(stage + 1, bought.stores);
  return bought;
}

/// What is left of both parts, in order.
void RememberedShopping::merge(int stage, const Stores& changed, Stores& into) const {
  if (!idle_.orders.empty() || !idle_.lots.empty()) {
    into = idle_;
    model_.buyer().forget(stage + 1, into);
    into.orders.insert(into.orders.end(), changed.orders.begin(), changed.orders.end());
    into.lots.insert(into.lots.end(), changed.lots.begin(), changed.lots.end());
    std::sort(into.orders.begin(), into.orders.end());
    std::sort(into.lots.begin(), into.lots.end());
  } else {
    into = changed;
  }
}

const RememberedShopping::Bought& RememberedShopping::buy(int stage, const Errand& errand, Stores& stores) {
  work_ += look_steps;
  split(stage, errand, stores);
  make_key(stage, errand);
  auto found = known_.find(key_);
  if (found == known_.end()) {
    if (known_.size() >= most_known) known_.clear();
    found = known_.emplace(key_, shop(stage, errand)).first;
  }
  merge(stage, found->second.stores, stores);
  return found->second;
}

}  // namespace fettlefund::budgets::search
