#include "budgets/search/relaxed/sure_orders.hpp"

#include <algorithm>
#include <limits>

#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t any_amount = std::int64_t{1} << 40;
constexpr std::size_t most_suppliers = 10;  ///< every choice among so many is looked at

}  // namespace

SureOrders::SureOrders(const Relaxed& relaxed) : relaxed_(relaxed), lines_of_once_(relaxed.tool_cost.size()) {
  if (!relaxed.exact && relaxed.stages > 1) lines_ = relaxed.goods->lines();
  for (std::size_t l = 0; l < lines_.size(); ++l) {
    const GoodsLine& line = lines_[l];
    if (line.once >= 0) lines_of_once_[line.once].push_back(static_cast<int>(l));
  }
  const ProblemData& data = relaxed.model->data();
  for (const std::int64_t cap : relaxed.model->caps())
    caps_.push_back(before_allowance(cap, data.allowance_bp));
  terms_.resize(data.suppliers.size());
  placed_.resize(data.suppliers.size());
  may_sell_.resize(data.suppliers.size());
  taken_off_.resize(data.suppliers.size());
  find_ahead();
}

void SureOrders::find_ahead() {
  const std::size_t suppliers = terms_.size();
  ahead_.resize(lines_.size() * relaxed_.stages * suppliers);
  for (std::size_t l = 0; l < lines_.size(); ++l) {
    for (int t = relaxed_.stages - 1; t >= 0; --t) {
      Ahead* here = ahead_.data() + (l * relaxed_.stages + t) * suppliers;
      if (t + 1 < relaxed_.stages) std::copy(here + suppliers, here + 2 * suppliers, here);
      for (const GoodsLine::Buy& buy : lines_[l].stages[t].buys) {
        if (!buy.early) continue;
        Ahead& one = here[buy.supplier];
        one.least = std::min(one.least, buy.least);
        one.most = std::max(one.most, buy.least);
      }
    }
  }
}

/// Returns what articles cost at least.
std::int64_t SureOrders::collect(const Doing& doing) {
  std::int64_t sum = 0;
  here_.clear();
  if (bought_.size() < doing.lines.size()) bought_.resize(doing.lines.size());
  for (std::size_t l = 0; l < doing.lines.size(); ++l) {
    const Line& line = doing.lines[l];
    GoodsLine::Stage& goods = bought_[l];
    goods.buys.clear();
    goods.base = std::numeric_limits<std::int64_t>::max();
    for (const Way& way : *line.ways) {
      goods.buys.push_back(relaxed_.goods->buy(way, doing.stage, line.what.packs));
      goods.base = std::min(goods.base, goods.buys.back().least);
    }
    sum += goods.base;
    here_.push_back(&goods);
  }
  for (const int k : doing.onces) {
    for (const int l : lines_of_once_[k]) {
      const GoodsLine::Stage& line = lines_[l].stages[doing.stage];
      if (!line.buys.empty()) here_.push_back(&line);
    }
  }
  return sum;
}

bool SureOrders::is_to_come(const GoodsLine& line, const std::vector<char>& left,
                            const std::vector<int>& had) const {
  if (line.unit >= 0) return left[line.unit] != 0;
  if (line.once >= 0) return had[line.once] == 0;
  const auto& units = relaxed_.goods->needed_by(line.article);
  return std::any_of(units.begin(), units.end(), [&](int u) { return left[u] != 0; });
}

/// `money`: what the stage can spend, goods for later stages included. An order comes free only if it is so
/// large that what is left pays for the lines that have to come from elsewhere.
void SureOrders::find_terms(std::int64_t money) {
  suppliers_.clear();
  std::fill(may_sell_.begin(), may_sell_.end(), 0);
  std::int64_t all = 0;
  for (const GoodsLine::Stage* line : here_) {
    all += line->base;
    for (std::size_t i = 0; i < line->buys.size(); ++i) {
      const int supplier = line->buys[i].supplier;
      const auto sells = [&](const GoodsLine::Buy& buy) { return buy.supplier == supplier; };
      const auto first = std::find_if(line->buys.begin(), line->buys.end(), sells);
      if (first != line->buys.begin() + static_cast<std::ptrdiff_t>(i)) continue;  // counted
      suppliers_.push_back(supplier);
      may_sell_[supplier] += line->base;
    }
  }
  sort_unique(suppliers_);
  const RelaxedDelivery& delivery = relaxed_.goods->delivery();
  for (const int s : suppliers_) {
    const bool full = !delivery.may_come_free(s, money - (all - may_sell_[s]));
    terms_[s] = {full ? delivery.full_fee(s) : delivery.fee(s), full};
  }
  std::erase_if(suppliers_, [&](int s) { return terms_[s].delivery == 0; });
}

/// What the line costs beyond its base. Adds to `early` what has to be paid early.
std::int64_t SureOrders::cost_of(const GoodsLine::Stage& line, std::int64_t left, std::int64_t& early) {
  const GoodsLine::Buy* now = nullptr;
  const GoodsLine::Buy* ahead = nullptr;
  const auto price = [&](const GoodsLine::Buy& buy) {
    return terms_[buy.supplier].full ? buy.full : buy.least;
  };
  for (const GoodsLine::Buy& buy : line.buys) {
    if (buy.now && is_open(buy.supplier) && (now == nullptr || price(buy) < price(*now))) now = &buy;
    if (!buy.early || buy.least > left || !may_join(buy)) continue;
    if (ahead == nullptr || buy.least < ahead->least) ahead = &buy;
  }
  if (now == nullptr && ahead == nullptr) return none;
  if (now == nullptr) early += ahead->least;
  if (now == nullptr || (ahead != nullptr && ahead->least < price(*now))) return ahead->least - line.base;
  taken_off_[now->supplier] += now->full - now->least;
  return price(*now) - line.base;
}

/// Each line in the cheapest way that is open.
std::int64_t SureOrders::cost_of_lines(std::int64_t left) {
  std::int64_t sum = 0;
  std::int64_t early = 0;
  std::fill(taken_off_.begin(), taken_off_.end(), 0);
  for (const GoodsLine::Stage* line : here_) {
    const std::int64_t cost = cost_of(*line, left, early);
    work_ += static_cast<std::int64_t>(line->buys.size());
    if (cost == none || early > left) return none;
    sum += cost;
  }
  return sum;
}

/// With orders of those of `suppliers_` whose bits are set. An order costs no less than its goods, nor than
/// its goods less what may come off them and its delivery: whichever is more where each line is bought in the
/// cheapest way under the second.
std::int64_t SureOrders::cost_with(std::uint64_t placed, std::int64_t left) {
  std::int64_t fees = 0;
  for (std::size_t i = 0; i < suppliers_.size(); ++i) {
    const int s = suppliers_[i];
    placed_[s] = static_cast<char>(placed >> i & 1U);
    if (placed_[s] != 0) fees += terms_[s].delivery;
  }
  const std::int64_t cost = cost_of_lines(left);
  if (cost == none) return none;
  const std::vector<Terms> before = terms_;
  bool free = false;
  std::int64_t other = fees;
  for (const int s : suppliers_) {
    if (placed_[s] == 0 || terms_[s].full || taken_off_[s] <= terms_[s].delivery) continue;
    free = true;
    other -= terms_[s].delivery;
    terms_[s].full = true;
  }
  if (!free) return fees + cost;
  other += cost_of_lines(left);
  terms_ = before;
  return std::max(fees + cost, other);
}

/// An order of an earlier payday: placed for this stage, or before with the money to add this.
bool SureOrders::may_join(const GoodsLine::Buy& buy) const {
  return placed_[buy.supplier] != 0 || relaxed_.goods->delivery().fee(buy.supplier) == 0 ||
         buy.least <= (*reach_)[buy.supplier];
}

void SureOrders::reach_after(const Doing& doing, std::int64_t spent, const std::vector<char>& left,
                             const std::vector<int>& had, std::vector<std::int64_t>& reach) {
  reach = doing.reach;
  const std::int64_t rest = caps_[doing.stage] - spent;
  for (const GoodsLine::Stage* line : here_) {
    for (const GoodsLine::Buy& buy : line->buys) reach[buy.supplier] = rest;
  }
  for (std::int64_t& r : reach) r = std::min(r, rest);
  cut(left, had, doing.stage + 1, reach);
}

/// No more than can be needed, and nothing where that is less than the least of it.
void SureOrders::cut(const std::vector<char>& left, const std::vector<int>& had, int next,
                     std::vector<std::int64_t>& reach) {
  to_come_.assign(reach.size(), {std::numeric_limits<std::int64_t>::max(), 0});
  for (std::size_t l = 0; l < lines_.size(); ++l) {
    const GoodsLine& line = lines_[l];
    if (!is_to_come(line, left, had)) continue;
    const Ahead* ahead = ahead_.data() + (l * relaxed_.stages + next) * reach.size();
    for (std::size_t s = 0; s < reach.size(); ++s) {
      if (ahead[s].most < 0) continue;
      to_come_[s].least = std::min(to_come_[s].least, ahead[s].least);
      to_come_[s].most += line.article >= 0 ? any_amount : ahead[s].most;
    }
  }
  work_ += static_cast<std::int64_t>(lines_.size() * reach.size()) / 4;
  for (std::size_t s = 0; s < reach.size(); ++s) {
    reach[s] = std::min(reach[s], to_come_[s].most);
    const bool charges = relaxed_.goods->delivery().fee(static_cast<int>(s)) > 0;
    if (!charges || reach[s] < to_come_[s].least) reach[s] = 0;
  }
}

std::int64_t SureOrders::least(const Doing& doing) {
  reach_ = &doing.reach;
  const std::int64_t base = collect(doing);
  if (here_.empty()) return 0;
  find_terms(caps_[doing.stage] - doing.before);
  if (suppliers_.size() > most_suppliers) return base;
  const std::int64_t left = doing.stage == 0 ? 0 : caps_[doing.stage - 1] - doing.before;
  std::int64_t least = none;
  for (std::uint64_t placed = 0; placed < std::uint64_t{1} << suppliers_.size(); ++placed) {
    const std::int64_t cost = cost_with(placed, left);
    if (cost != none && (least == none || cost < least)) least = cost;
  }
  return least == none ? none : base + least;
}

}  // namespace fettlefund::budgets::search
