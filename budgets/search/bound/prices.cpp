#include "budgets/search/bound/prices.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t table_limit = std::int64_t{1} << 29;
constexpr std::int64_t worth_limit = std::int64_t{1} << 25;

std::int64_t to_grid(double value, const Scale& scale) {
  const double grid = scale.shift() >= 0 ? value * static_cast<double>(std::int64_t{1} << scale.shift())
                                         : value / static_cast<double>(std::int64_t{1} << -scale.shift());
  const double limit = static_cast<double>(table_limit);
  return static_cast<std::int64_t>(std::floor(std::clamp(grid, -limit, limit) + 0.5));
}

/// Works out prices; rows are stages.
class Pricing {
 public:
  Pricing(const Relaxed& relaxed, const Multipliers& layout, const Scale& scale,
          const std::vector<double>& values, int open)
      : relaxed_(relaxed), layout_(layout), scale_(scale), values_(values), open_(open) {}

  Prices make(bool price_minutes);

 private:
  std::int64_t grid(int index) const { return to_grid(values_[index], scale_); }
  void count_once();
  void count_arcs();
  void count_tools();
  void count_shares();
  void price_money();
  void price_lines();
  std::int64_t line_price(const SureLine& line, int stage, Prices::Choice& choice) const;
  void make_profits();
  void check();

  const Relaxed& relaxed_;
  const Multipliers& layout_;
  const Scale& scale_;
  const std::vector<double>& values_;
  int open_;
  std::vector<std::int64_t> joins_;   ///< [join * stages + payday] grid
  std::vector<std::int64_t> before_;  ///< [payday] sum of money prices of earlier ones
  Prices out_;
};

void Pricing::count_once() {
  const int n = relaxed_.units;
  const auto& units = relaxed_.model->units();
  std::vector<std::int64_t> base(n);
  for (int u = 0; u < n; ++u) {
    base[u] = grid(layout_.once(u));
    out_.constant += base[u];
    for (int g : units[u].groups) base[u] += grid(layout_.group(g));
  }
  for (int g = 0; g < relaxed_.model->group_count(); ++g) out_.constant += grid(layout_.group(g));
  for (int t = 0; t <= relaxed_.stages; ++t) std::copy(base.begin(), base.end(), out_.done.begin() + t * n);
}

void Pricing::count_arcs() {
  const int n = relaxed_.units;
  for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
    const auto& arc = layout_.arcs()[a];
    std::int64_t sum = 0;
    for (int t = relaxed_.stages - 1; t >= 0; --t) {
      sum += grid(layout_.arc(static_cast<int>(a), t));
      out_.done[t * n + arc.after] += sum;
      out_.done[t * n + arc.before] -= sum;
    }
  }
}

void Pricing::count_tools() {
  const int n = relaxed_.units;
  const int tools = relaxed_.tools();
  for (int k = 0; k < tools; ++k) {
    const std::int64_t once = grid(layout_.tool(k));
    out_.constant += once;
    for (int t = 0; t <= relaxed_.stages; ++t) out_.had[t * tools + k] = once;
  }
  for (std::size_t i = 0; i < layout_.needs().size(); ++i) {
    const auto& need = layout_.needs()[i];
    std::int64_t sum = 0;
    for (int t = relaxed_.stages - 1; t >= 0; --t) {
      sum += grid(layout_.need(static_cast<int>(i), t));
      out_.done[t * n + need.unit] += sum;
      out_.had[t * tools + need.tool] -= sum;
    }
  }
}

void Pricing::count_shares() {
  if (layout_.shares().empty()) return;
  const auto charges = relaxed_.charges.size();
  out_.shares.assign(static_cast<std::size_t>(relaxed_.stages) * relaxed_.units, 0);
  out_.charge_profit.assign(relaxed_.stages * charges, 0);
  std::vector<char> shared(charges, 0);
  for (std::size_t i = 0; i < layout_.shares().size(); ++i) {
    const auto& share = layout_.shares()[i];
    shared[share.charge] = 1;
    for (int t = 0; t < relaxed_.stages; ++t) {
      const std::int64_t paid = grid(layout_.share(static_cast<int>(i), t));
      out_.shares[t * relaxed_.units + share.unit] += paid;
      out_.charge_profit[t * charges + share.charge] += paid;
    }
  }
  for (std::size_t e = 0; e < charges; ++e) {
    for (int t = 0; shared[e] && t < relaxed_.stages; ++t) {
      out_.charge_profit[t * charges + e] -=
          out_.charge_worth[e] + out_.minute_price[t] * relaxed_.charges[e].minutes;
    }
  }
}

/// Prices of true spending, cut so that no sum of money at these prices leaves 64 bits.
void Pricing::price_money() {
  const double grid = scale_.shift() >= 0 ? static_cast<double>(std::int64_t{1} << scale_.shift())
                                          : 1 / static_cast<double>(std::int64_t{1} << -scale_.shift());
  const std::int64_t cap = relaxed_.caps.empty() ? 0 : std::max<std::int64_t>(0, relaxed_.caps.back());
  const std::int64_t most = (table_limit << money_bits) / (cap + 1);
  out_.money_price.assign(relaxed_.stages, 0);
  before_.assign(relaxed_.stages + 1, 0);
  for (int p = 0; p < relaxed_.stages; ++p) {
    const double price = values_[layout_.money(p)] / layout_.money_unit() * grid * (1 << money_bits);
    if (p >= open_ && !relaxed_.ordering.empty())
      out_.money_price[p] = static_cast<std::int64_t>(std::clamp(price, 0.0, static_cast<double>(most)));
    before_[p + 1] = before_[p] + out_.money_price[p];
  }
  for (int t = 0; t < relaxed_.stages; ++t) out_.later_price.push_back(before_[relaxed_.stages] - before_[t]);
}

/// The least that buying the line for a unit done in that stage takes, rounded down to the grid.
std::int64_t Pricing::line_price(const SureLine& line, int stage, Prices::Choice& choice) const {
  const auto& ways = line.ways[stage];
  const std::int64_t money = std::max<std::int64_t>(0, relaxed_.caps.back()) + 1;
  std::int64_t least = 0;
  for (int w = 0; w < static_cast<int>(ways.size()); ++w) {
    const SureLine::Way& way = ways[w];
    const std::int64_t extra = std::min(way.extra, money) * (before_[relaxed_.stages] - before_[stage]);
    for (int p = way.last; p >= way.first; --p) {
      const std::int64_t early = std::min(way.price, money) * (before_[stage] - before_[p]);
      const std::int64_t joined = way.join < 0 ? 0 : joins_[way.join * relaxed_.stages + p];
      const std::int64_t price = ((extra + early) >> money_bits) + joined;
      if (choice.way < 0 || price < least) least = price, choice = {w, p};
      if (way.join < 0 || p < open_) break;
    }
  }
  return least;
}

/// Units pay for their sure lines, and lines for the orders they may be in.
void Pricing::price_lines() {
  const Ordering& ordering = relaxed_.ordering;
  const int stages = relaxed_.stages;
  if (ordering.empty()) return;
  joins_.assign(ordering.joins.size() * stages, 0);
  out_.order_profit.assign(static_cast<std::size_t>(stages) * ordering.suppliers(), 0);
  for (std::size_t j = 0; j < ordering.joins.size(); ++j) {
    for (int p = open_; p < stages; ++p) {
      const std::int64_t paid = grid(layout_.join(static_cast<int>(j), p));
      joins_[j * stages + p] = paid;
      out_.order_profit[p * ordering.suppliers() + ordering.joins[j].supplier] += paid;
    }
  }
  out_.choices.assign(ordering.lines.size() * stages, {});
  for (std::size_t l = 0; l < ordering.lines.size(); ++l) {
    const SureLine& line = ordering.lines[l];
    for (int t = open_; t < stages; ++t) {
      const std::int64_t price = line_price(line, t, out_.choices[l * stages + t]);
      std::int64_t& profit = out_.profit[t * relaxed_.units + line.unit];
      if (profit != Prices::barred) profit -= price;
    }
  }
}

void Pricing::make_profits() {
  const int n = relaxed_.units;
  for (int t = 0; t < relaxed_.stages; ++t) {
    for (int u = 0; u < n; ++u) {
      std::int64_t& profit = out_.profit[t * n + u];
      profit = Prices::barred;
      if (!relaxed_.model->allowed(u, t)) continue;
      profit = scale_.up(relaxed_.worth_at(u, t)) - out_.done[t * n + u] -
               out_.minute_price[t] * relaxed_.minutes[u];
    }
    for (int k = 0; k < relaxed_.tools(); ++k) {
      out_.tool_profit[t * relaxed_.tools() + k] = -out_.had[t * relaxed_.tools() + k];
    }
  }
}

void Pricing::check() {
  std::int64_t sum = 0;
  for (std::int64_t p : out_.profit) sum += std::max<std::int64_t>(p, 0);
  for (std::int64_t p : out_.tool_profit) sum += std::max<std::int64_t>(p, 0);
  for (std::int64_t p : out_.charge_profit) sum += std::max<std::int64_t>(p, 0);
  for (std::int64_t p : out_.order_profit) sum += p;
  for (int t = 0; t < relaxed_.stages; ++t) {
    sum += ((out_.money_price[t] * std::max<std::int64_t>(0, relaxed_.caps[t])) >> money_bits) + 1;
  }
  for (int t = 0; t < relaxed_.stages; ++t) {
    const std::int64_t minutes = relaxed_.model->data().stages[t].minutes;
    if (out_.minute_price[t] > 0 && minutes > table_limit / out_.minute_price[t]) out_.usable = false;
    if (out_.usable) sum += out_.minute_price[t] * minutes;
  }
  out_.usable &= sum < table_limit;
}

Prices Pricing::make(bool price_minutes) {
  const auto rows = static_cast<std::size_t>(relaxed_.stages);
  out_.profit.resize(rows * relaxed_.units);
  out_.tool_profit.resize(rows * relaxed_.tools());
  out_.done.resize((rows + 1) * relaxed_.units);
  out_.had.resize((rows + 1) * relaxed_.tools());
  out_.minute_price.assign(rows, 0);
  for (int t = 0; price_minutes && t < relaxed_.stages; ++t) {
    out_.minute_price[t] = to_grid(values_[layout_.minutes(t)] / layout_.minute_unit(), scale_);
  }
  for (const Charge& charge : relaxed_.charges) out_.charge_worth.push_back(scale_.down(charge.worth));
  count_once();
  count_arcs();
  count_tools();
  count_shares();
  price_money();
  make_profits();
  price_lines();
  check();
  return std::move(out_);
}

}  // namespace

Scale::Scale(const Relaxed& relaxed) {
  std::int64_t sum = 1;
  for (int u = 0; u < relaxed.units; ++u) {
    const auto row = relaxed.worth.begin() + u * relaxed.stages;
    const auto [low, high] = std::minmax_element(row, row + relaxed.stages);
    sum += std::max(std::abs(*low), std::abs(*high));
    for (int e : relaxed.charges_of[u]) sum += relaxed.charges[e].worth;
  }
  while (shift_ < 10 && (sum << (shift_ + 1)) <= worth_limit) ++shift_;
  while ((shift_ <= 0) && (sum >> -shift_) > worth_limit) --shift_;
}

std::int64_t Scale::up(std::int64_t worth) const { return -down(-worth); }

std::int64_t Scale::down(std::int64_t worth) const {
  return shift_ >= 0 ? worth * (std::int64_t{1} << shift_) : worth >> -shift_;
}

std::int64_t Scale::floor_worth(std::int64_t grid) const {
  return shift_ >= 0 ? grid >> shift_ : grid * (std::int64_t{1} << -shift_);
}

double Scale::to_worth(std::int64_t grid) const {
  const auto value = static_cast<double>(grid);
  return shift_ >= 0 ? value / static_cast<double>(std::int64_t{1} << shift_)
                     : value * static_cast<double>(std::int64_t{1} << -shift_);
}

Multipliers::Multipliers(const Relaxed& relaxed, const std::vector<int>& shared)
    : units_(relaxed.units),
      groups_(relaxed.model->group_count()),
      tools_(relaxed.tools()),
      stages_(relaxed.stages) {
  const auto mean = [&](const std::vector<std::int64_t>& amounts) -> std::int64_t {
    return units_ > 0 ? std::accumulate(amounts.begin(), amounts.end(), std::int64_t{0}) / units_ : 0;
  };
  if (const std::int64_t minutes = mean(relaxed.minutes); minutes > 0)
    minute_unit_ = static_cast<double>(minutes);
  if (const std::int64_t cost = mean(relaxed.least_cost); cost > 0) money_unit_ = static_cast<double>(cost);
  for (int u = 0; u < units_; ++u) {
    must_.push_back(relaxed.model->units()[u].must);
    for (int before : relaxed.model->units()[u].before) arcs_.push_back({before, u});
    for (int tool : relaxed.tools_of[u]) needs_.push_back({tool, u});
    for (int charge : relaxed.charges_of[u]) {
      if (std::binary_search(shared.begin(), shared.end(), charge)) shares_.push_back({charge, u});
    }
  }
  first_arc_ = units_ + groups_ + tools_ + stages_;
  first_need_ = first_arc_ + static_cast<int>(arcs_.size()) * stages_;
  first_share_ = first_need_ + static_cast<int>(needs_.size()) * stages_;
  first_money_ = first_share_ + static_cast<int>(shares_.size()) * stages_;
  first_join_ = first_money_ + stages_;
  size_ = first_join_ + static_cast<int>(relaxed.ordering.joins.size()) * stages_;
}

std::vector<double> Multipliers::start(const Relaxed& relaxed, double share) const {
  std::vector<double> values(size_, 0.0);
  for (int u = 0; u < units_; ++u) {
    const auto row = relaxed.worth.begin() + u * stages_;
    const std::int64_t most = *std::max_element(row, row + stages_);
    values[once(u)] = share * static_cast<double>(std::max<std::int64_t>(most, 0));
  }
  return values;
}

Prices make_prices(const Relaxed& relaxed, const Multipliers& layout, const Scale& scale,
                   const std::vector<double>& values, bool price_minutes, int open) {
  return Pricing(relaxed, layout, scale, values, open).make(price_minutes);
}

}  // namespace fettlefund::budgets::search
