#include "budgets/search/local/annealer.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {
namespace {

constexpr int adapt_every = 64;      ///< placings taken
constexpr int blocks = 256;          ///< of a descent, in each of which the temperature is one
constexpr double hottest = 0.12;     ///< of the mean worth of a unit
constexpr double cooling = 0.99034;  ///< a block: 0.01 at the end
constexpr int table_size = 2048;
constexpr double any_score = -1e300;

/// The natural logarithm of 0 < x <= 1 by basic arithmetic only, so that it is the same on every machine.
double log_of(double x) {
  constexpr double log_of_two = 0.69314718055994530942;
  double result = 0;
  while (x < 0.5) {
    x *= 2;
    result -= log_of_two;
  }
  const double ratio = (x - 1) / (x + 1);
  double power = ratio;
  for (int i = 1; i < 40; i += 2) {
    result += 2 * power / i;
    power *= ratio * ratio;
  }
  return result;
}

/// Losses, in temperatures, of which the equally likely entries are taken as Metropolis's rule does.
const std::vector<double>& loss_table() {
  static const std::vector<double> table = [] {
    std::vector<double> losses;
    for (int i = 0; i < table_size; ++i) losses.push_back(-log_of((i + 0.5) / table_size));
    return losses;
  }();
  return table;
}

}  // namespace

void Annealer::Price::adapt(int taken) {
  if (kept * 10 < taken * 3) of_one *= 1.05;
  if (kept * 10 > taken * 6) of_one *= 0.965;
  kept = 0;
}

Annealer::Annealer(const Model& model, Meter& meter, std::int64_t more)
    : model_(model),
      meter_(meter),
      more_(more),
      trial_(model),
      dependents_(model.unit_count()),
      members_(model.group_count()) {
  std::int64_t most = 0;
  for (int u = 0; u < model.unit_count(); ++u) {
    const Unit& unit = model.units()[u];
    for (const int b : unit.before) dependents_[b].push_back(u);
    for (const int g : unit.groups) members_[g].push_back(u);
    bool any = false;
    for (int t = unit.first; t <= unit.last; ++t) any = any || model.allowed(u, t);
    if (!any) continue;
    possible_.push_back(u);
    mean_worth_ += static_cast<double>(unit.worth[unit.first]);
    most = std::max(most, *std::max_element(unit.worth.begin(), unit.worth.end()));
  }
  must_worth_ = mean_worth_ + 8 * static_cast<double>(most) + 1;
  mean_worth_ = std::max(1.0, mean_worth_ / static_cast<double>(std::max<std::size_t>(possible_.size(), 1)));
  for (std::size_t t = 0; t < model.data().tools.size(); ++t) {
    const Tool& tool = model.data().tools[t];
    if (tool.hire && !tool.offers.empty()) hirable_.push_back(static_cast<int>(t));
  }
  now_ = nothing();
}

Arrangement Annealer::nothing() const { return plain(model_, Placing(model_.unit_count(), -1)); }

/// What a limit is worth on the whole.
void Annealer::start_prices() {
  const double all = mean_worth_ * static_cast<double>(possible_.size());
  std::int64_t minutes = 1;
  for (const Stage& stage : model_.data().stages) minutes += stage.minutes;
  prices_[money].of_one = all / static_cast<double>(std::max<std::int64_t>(1000, model_.caps().back()));
  prices_[time].of_one = all / static_cast<double>(minutes);
  prices_[fit].of_one = mean_worth_;
  for (Price& price : prices_) price.kept = 0;
  taken_ = 0;
}

int Annealer::musts_left(const Placing& placing) const {
  int left = 0;
  for (int u = 0; u < model_.unit_count(); ++u) left += model_.units()[u].must && placing[u] < 0 ? 1 : 0;
  return left;
}

double Annealer::score(const Reckoning& reckoning, const Arrangement& arrangement) const {
  return static_cast<double>(reckoning.rank.value) -
         prices_[money].of_one * static_cast<double>(reckoning.money_lacking) -
         prices_[time].of_one * static_cast<double>(reckoning.minutes_lacking) -
         prices_[fit].of_one * reckoning.misfits - must_worth_ * musts_left(arrangement.placing);
}

/// Left out with all that depends on it.
void Annealer::leave_out(Placing& placing, int unit) const {
  if (placing[unit] < 0) return;
  placing[unit] = -1;
  for (const int d : dependents_[unit]) leave_out(placing, d);
}

/// Into `stage`, with what has to come before it no later and what depends on it no earlier.
void Annealer::put(Placing& placing, int unit, int stage) const {
  for (const int g : model_.units()[unit].groups) {
    for (const int other : members_[g]) {
      if (other != unit) leave_out(placing, other);
    }
  }
  placing[unit] = stage;
  for (const int b : model_.units()[unit].before) {
    if (placing[b] < 0 || placing[b] > stage) put(placing, b, stage);
  }
  for (const int d : dependents_[unit]) {
    if (placing[d] >= 0 && placing[d] < stage) put(placing, d, stage);
  }
}

/// Whether windows and order are kept by `next_`.
bool Annealer::allowed() const {
  const Placing &placing = next_.placing, &before = now_.placing;
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (placing[u] < 0) continue;
    if (placing[u] != before[u] && !model_.allowed(u, placing[u])) return false;
    for (const int b : model_.units()[u].before) {
      if (placing[b] < 0 || placing[b] > placing[u]) return false;
    }
  }
  return true;
}

int Annealer::some_unit() { return possible_[random_.below(static_cast<int>(possible_.size()))]; }

int Annealer::some_stage(int unit) {
  const Unit& u = model_.units()[unit];
  return u.first + random_.below(u.last - u.first + 1);
}

/// The stages of two units change.
void Annealer::swap_units(int unit) {
  const int other = some_unit();
  const int to = now_.placing[other], from = now_.placing[unit];
  if (to == from) return;
  Placing& placing = next_.placing;
  leave_out(placing, unit);
  leave_out(placing, other);
  if (to >= 0) put(placing, unit, to);
  if (from >= 0) put(placing, other, from);
}

/// One that is left out takes the place of one that is done, or the other way round.
void Annealer::replace(int unit) {
  const Placing& now = now_.placing;
  int other = unit;
  for (int tries = 0; tries < 8 && (now[other] < 0) == (now[unit] < 0); ++tries) other = some_unit();
  const int in = now[unit] < 0 ? unit : other;
  const int out = now[unit] < 0 ? other : unit;
  const int stage = now[out];
  if (in == out || stage < 0) return;
  leave_out(next_.placing, out);
  put(next_.placing, in, std::clamp(stage, model_.units()[in].first, model_.units()[in].last));
}

/// All of a stage goes to the next or last, or two stages change places.
void Annealer::move_stage(bool exchange) {
  const int stages = model_.stage_count();
  const int from = random_.below(stages);
  const int to = exchange ? random_.below(stages) : from + (random_.below(2) == 0 ? -1 : 1);
  if (to < 0 || to >= stages) return;
  for (const int u : possible_) {
    if (now_.placing[u] == from) next_.placing[u] = to;
    if (exchange && now_.placing[u] == to) next_.placing[u] = from;
  }
}

/// One stage buys in another style: half of the times in the cheapest way.
void Annealer::change_style() {
  const int stage = random_.below(model_.stage_count());
  next_.styles[stage] = all_styles[std::max(0, random_.below(8) - 4)];
}

/// One tool that may be hired is come by differently: half of the times by price.
void Annealer::change_tool() {
  const int tool = hirable_[random_.below(static_cast<int>(hirable_.size()))];
  const bool free = random_.below(2) == 0;
  next_.bought_from[tool] = free ? random_.below(model_.stage_count() + 1) : by_price;
}

void Annealer::change_unit() {
  const int unit = some_unit();
  const int stage = now_.placing[unit];
  const int kind = random_.below(100);
  if (kind < 20 && stage >= 0) {
    const int to = stage + (random_.below(2) == 0 ? -1 : 1);
    put(next_.placing, unit, std::clamp(to, model_.units()[unit].first, model_.units()[unit].last));
  } else if (kind < 40) {
    put(next_.placing, unit, some_stage(unit));
  } else if (kind < 46) {
    leave_out(next_.placing, unit);
  } else if (kind < 68) {
    swap_units(unit);
  } else if (kind < 86) {
    replace(unit);
  } else {
    move_stage(kind < 93);
  }
}

/// Makes `next_` differ from `now_`.
void Annealer::change() {
  next_ = now_;
  const int kind = random_.below(100);
  if (kind < shares_.styles) return change_style();
  if (kind < shares_.styles + shares_.tools && !hirable_.empty()) return change_tool();
  change_unit();
}

/// Reckons `next_`; false if its score is less than that or something cannot be had. What is worth too little
/// even for nothing is not shopped for.
bool Annealer::reckon(double least) {
  const std::int64_t before = trial_.work();
  const bool good = score(trial_.reckon_units(next_), next_) >= least &&
                    score(trial_.reckon_work(), next_) >= least && trial_.reckon_money() &&
                    score(trial_.result(), next_) >= least;
  meter_.add(trial_.work() - before);
  return good;
}

void Annealer::take() {
  trial_.keep();
  now_ = next_;
  now_result_ = trial_.result();
  now_score_ = score(now_result_, now_);
  note_best();
}

Found Annealer::found() const {
  Schedule schedule;
  schedule.stage_of.assign(model_.data().jobs.size(), -1);
  for (int u = 0; u < model_.unit_count(); ++u) {
    for (const int j : model_.units()[u].jobs) schedule.stage_of[j] = now_.placing[u];
  }
  schedule.tool_bought = trial_.bought();
  schedule.styles = now_.styles;
  return {std::move(schedule), now_result_.rank};
}

void Annealer::note_best() {
  if (!now_result_.keeps_limits(more_now_) || (best_ && !better(now_result_.rank, best_->rank)) ||
      musts_left(now_.placing) > 0)
    return;
  best_ = found();
  best_arrangement_ = now_;
}

/// Takes `next_` unless it loses more than that.
bool Annealer::try_next(double allowed_loss) {
  if (next_ == now_ || !allowed()) {
    meter_.add(70);
    return false;
  }
  if (!reckon(now_score_ - allowed_loss)) return false;
  take();
  ++taken_;
  prices_[money].kept += now_result_.money_lacking == 0 ? 1 : 0;
  prices_[time].kept += now_result_.minutes_lacking == 0 ? 1 : 0;
  prices_[fit].kept += now_result_.misfits == 0 ? 1 : 0;
  if (taken_ < adapt_every) return true;
  for (Price& price : prices_) price.adapt(taken_);
  taken_ = 0;
  now_score_ = score(now_result_, now_);
  return true;
}

void Annealer::anneal(std::int64_t steps) {
  const std::int64_t begin = meter_.steps();
  double temperature = hottest * mean_worth_;
  for (int block = 1; block <= blocks; ++block, temperature *= cooling) {
    const std::int64_t end = begin + steps / blocks * block;
    while (meter_.steps() < end && !meter_.out()) {
      change();
      try_next(temperature * loss_table()[static_cast<std::size_t>(random_.below(table_size))]);
    }
  }
}

/// Whether `next_` keeps all limits and is better than `now_`; then it is taken.
bool Annealer::improves() {
  if (next_ == now_ || !allowed() || !reckon(static_cast<double>(now_result_.rank.value))) return false;
  if (!trial_.result().keeps_limits() || !better(trial_.result().rank, now_result_.rank)) return false;
  if (musts_left(next_.placing) > 0) return false;
  take();
  return true;
}

/// The same of changes of how to buy.
bool Annealer::climb_purchases() {
  bool any = false;
  for (int s = 0; s < model_.stage_count() && !meter_.out(); ++s) {
    for (const Style style : all_styles) {
      next_ = now_;
      next_.styles[s] = style;
      any = improves() || any;
    }
  }
  for (const int tool : hirable_) {
    for (int from = by_price; from <= model_.stage_count() && !meter_.out(); ++from) {
      next_ = now_;
      next_.bought_from[tool] = from;
      any = improves() || any;
    }
  }
  return any;
}

/// One round of single changes; whether any was for the better.
bool Annealer::climb() {
  bool any = false;
  for (const int u : possible_) {
    for (int t = model_.units()[u].first; t <= model_.units()[u].last && !meter_.out(); ++t) {
      next_ = now_;
      put(next_.placing, u, t);
      any = improves() || any;
    }
    next_ = now_;
    leave_out(next_.placing, u);
    any = improves() || any;
  }
  return climb_purchases() || any;
}

/// From the best plan on: whatever still fits is put in, by single changes and then by two at once.
void Annealer::finish(std::int64_t steps) {
  if (!best_) return;
  const std::int64_t end = meter_.steps() + steps;
  give_cash(true);
  next_ = best_arrangement_;
  if (!reckon(any_score)) return;
  take();
  while (climb() && meter_.steps() < end) {
  }
  for (std::size_t i = 0; i < possible_.size(); ++i) {
    const int first = possible_[i];
    for (int t = model_.units()[first].first; t <= model_.units()[first].last; ++t) {
      for (const int second : possible_) {
        if (meter_.steps() >= end || meter_.out()) return;
        if (second == first || now_.placing[first] == t) continue;
        next_ = now_;
        put(next_.placing, first, t);
        put(next_.placing, second, some_stage(second));
        if (improves()) climb();
      }
    }
  }
}

/// Whether the trial's caps are those of plans.
void Annealer::give_cash(bool all) {
  trial_.add_cash(all ? more_ : 0);
  more_now_ = all ? 0 : more_;
}

std::optional<Found> Annealer::run(std::int64_t steps, std::uint64_t seed, Shares shares) {
  best_.reset();
  if (possible_.empty() || steps <= 0) return best_;
  random_ = SplitMix64(seed);
  shares_ = shares;
  start_prices();
  give_cash(false);
  next_ = nothing();
  if (!reckon(any_score)) return best_;
  take();
  anneal(steps - steps / 16);
  finish(steps / 16);
  return best_;
}

}  // namespace fettlefund::budgets::search
