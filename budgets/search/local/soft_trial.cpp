#include "budgets/search/local/soft_trial.hpp"

#include <algorithm>
#include <limits>
#include <optional>

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t reckon_steps = 200;  ///< of one placing at all
constexpr std::int64_t stage_steps = 80;    ///< and for each stage touched

void change_bit(Bits& bits, int i, bool to) {
  if (has_bit(bits.data(), i) != to) flip_bit(bits.data(), i);
}

}  // namespace

SoftTrial::SoftTrial(const Model& model)
    : model_(model),
      shopping_(model),
      money_(model),
      caps_(model.caps()),
      kept_(plain(model, Placing(model.unit_count(), -1))),
      last_(kept_),
      touched_(model.stage_count(), 0),
      kept_bought_(model.data().tools.size(), -1),
      bought_(kept_bought_),
      bare_(model.stage_count(), 0),
      spent_(bare_),
      change_(bare_),
      done_(static_cast<std::size_t>(model.words()), 0),
      here_(static_cast<std::size_t>(model.free_words()), 0),
      differ_(words_for(model.data().tools.size()), 0),
      pays_(touched_) {
  const ProblemData& data = model.data();
  const Bits no_removals(words_for(data.removals.size()), 0);
  const Bits no_tools(words_for(data.tools.size()), 0);
  const Bits no_articles(words_for(data.articles.size()), 0);
  for (const Unit& unit : model.units()) {
    Bits& opened = opened_by_.emplace_back(no_removals);
    Bits& tools = tools_of_.emplace_back(no_tools);
    Bits& articles = articles_of_.emplace_back(no_articles);
    for (const int t : unit.tools) set_bit(tools.data(), t);
    for (const Need& need : unit.needs) set_bit(articles.data(), need.article);
    for (const int r : unit.removals) {
      set_bit(opened.data(), r);
      for (const int t : data.removals[r].tools) set_bit(tools.data(), t);
      for (const Need& need : data.removals[r].one_use) set_bit(articles.data(), need.article);
    }
  }
  for (std::size_t t = 0; t < data.tools.size(); ++t) {
    for (int s = 0; s < model.stage_count(); ++s) {
      const std::optional<Money> least = least_price(model.buyer().tool_ways(static_cast<int>(t), s));
      cheapest_.push_back(least ? least->minor() : -1);
    }
  }
  Day idle;
  const Bits no_units(static_cast<std::size_t>(model.words()), 0);
  decides_fit_ = no_units;
  for (int u = 0; u < model.unit_count(); ++u) {
    if (model.decides_fit(u)) set_bit(decides_fit_.data(), u);
  }
  idle.errand = {no_units, no_removals, no_tools, no_articles, {}};
  idle.tools = idle.hired = no_tools;
  idle.done = no_units;
  idle.here.assign(static_cast<std::size_t>(model.free_words()), 0);
  idle.fits = model.fits(no_units.data(), idle.here.data());
  now_.assign(model.stage_count(), idle);
  Stores stores = model.buyer().opening_stores();
  for (int s = 0; s < model.stage_count(); ++s) {
    model.buyer().forget(s, stores);
    now_[s].before = stores;
  }
  next_ = now_;
}

void SoftTrial::add_cash(std::int64_t more) {
  for (std::size_t s = 0; s < caps_.size(); ++s) caps_[s] = model_.caps()[s] + more;
}

void SoftTrial::keep() {
  for (std::size_t s = 0; s < now_.size(); ++s) {
    if (touched_[s]) std::swap(now_[s], next_[s]);
  }
  kept_ = last_;
  kept_bought_ = bought_;
  kept_spent_ = spent_;
  std::fill(touched_.begin(), touched_.end(), 0);
}

void SoftTrial::touch(int stage) {
  if (touched_[stage]) return;
  touched_[stage] = 1;
  static_cast<Work&>(next_[stage]) = now_[stage];
  work_ += stage_steps;
}

/// About how much money is lacking at the least, from what the arrangement kept has spent, if only units were
/// moved.
void SoftTrial::judge_money() {
  if (kept_spent_.empty() || last_.styles != kept_.styles || last_.bought_from != kept_.bought_from) return;
  const int stages = model_.stage_count();
  std::fill(change_.begin(), change_.end(), 0);
  for (int u = 0; u < model_.unit_count(); ++u) {
    const int from = kept_.placing[u], to = last_.placing[u];
    if (from == to) continue;
    if (from >= 0) change_[from] -= money_.most(u, from);
    if (to >= 0) change_[to] += money_.least(u, to);
  }
  std::int64_t change = 0;
  for (int s = 0; s < stages; ++s) {
    change += change_[s];
    result_.money_lacking = std::max(result_.money_lacking, kept_spent_[s] + change - caps_[s]);
  }
}

/// Moves the units that stand elsewhere than in the arrangement kept.
void SoftTrial::move_units() {
  fit_moved_ = false;
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (last_.placing[u] == kept_.placing[u]) continue;
    fit_moved_ = fit_moved_ || has_bit(decides_fit_.data(), u);
    for (const int stage : {kept_.placing[u], last_.placing[u]}) {
      if (stage < 0) continue;
      touch(stage);
      flip_bit(next_[stage].errand.units.data(), u);
    }
  }
  for (int s = 0; s < model_.stage_count(); ++s) {
    if (touched_[s]) work_out(s);
  }
}

void SoftTrial::change_styles() {
  for (int s = 0; s < model_.stage_count(); ++s) {
    if (last_.styles[s] == kept_.styles[s]) continue;
    touch(s);
    next_[s].errand.style = last_.styles[s];
  }
}

/// Of sets of tools of which any will do the usual ones, where none is used anyway.
void SoftTrial::add_any_tools(Work& work, int stage) {
  if (model_.any_tools().empty()) return;
  differ_ = work.tools;  // those used anyway
  for_each(work.errand.units, [&](int u) {
    for (const int set : model_.units()[u].any_tools) {
      const auto& tools = model_.any_tools()[set];
      const auto used = [&](int k) { return has_bit(differ_.data(), k); };
      if (std::none_of(tools.begin(), tools.end(), used))
        set_bit(work.tools.data(), model_.usual_tool(set, stage));
    }
  });
}

/// All that follows from the units of a stage alone.
void SoftTrial::work_out(int stage) {
  Day& day = next_[stage];
  const ProblemData& data = model_.data();
  for (Bits* bits : {&day.errand.opened, &day.errand.articles, &day.tools})
    std::fill(bits->begin(), bits->end(), 0);
  day.minutes = day.value = day.fees = 0;
  for_each(day.errand.units, [&](int u) {
    const Unit& unit = model_.units()[u];
    day.minutes += unit.minutes;
    day.value += unit.worth[stage];
    day.fees += unit.cost;
    unite(day.errand.opened, opened_by_[u]);
    unite(day.errand.articles, articles_of_[u]);
    unite(day.tools, tools_of_[u]);
  });
  add_any_tools(day, stage);
  for_each(day.errand.opened, [&](int r) {
    day.minutes += data.removals[r].minutes;
    day.value -= data.bother * data.removals[r].minutes;
    day.fees += data.removals[r].cost.minor();
  });
  day.late = model_.has_days(stage) ? model_.minutes_late(members(day.errand.units), stage) : 0;
}

/// Chooses again for each tool that is used or come by differently.
void SoftTrial::choose_tools() {
  bought_ = kept_bought_;
  std::fill(differ_.begin(), differ_.end(), 0);
  for (std::size_t s = 0; s < now_.size(); ++s) {
    if (!touched_[s]) continue;
    for (std::size_t w = 0; w < differ_.size(); ++w) differ_[w] |= now_[s].tools[w] ^ next_[s].tools[w];
  }
  for (std::size_t t = 0; t < bought_.size(); ++t) {
    if (last_.bought_from[t] != kept_.bought_from[t]) set_bit(differ_.data(), static_cast<int>(t));
  }
  for_each(differ_, [&](int t) { choose_tool(t); });
}

bool SoftTrial::pays_for(int tool, int stage) const {
  const Tool& one = model_.data().tools[tool];
  return has_bit(at(stage).tools.data(), tool) && (one.free.empty() || !one.free[stage]);
}

void SoftTrial::choose_tool(int tool) {
  const int stages = model_.stage_count();
  const auto& hire = model_.data().tools[tool].hire;
  const int from = hire ? last_.bought_from[tool] : by_price;
  std::int64_t to_hire = 0;
  int first = -1;
  for (int s = 0; s < stages; ++s) {
    pays_[s] = pays_for(tool, s) ? 1 : 0;
    if (!pays_[s]) continue;
    if (hire) to_hire += hire->minor();
    if (first < 0 && s >= from && cheapest_[tool * stages + s] >= 0) first = s;
  }
  if (first >= 0 && hire && from == by_price && to_hire < cheapest_[tool * stages + first]) first = -1;
  bought_[tool] = first;
  for (int s = 0; s < stages; ++s) provide(tool, s, s == first, (first < 0 || s < first) && pays_[s]);
}

/// Notes how a stage comes by a tool.
void SoftTrial::provide(int tool, int stage, bool bought, bool hired) {
  const bool was_bought = has_bit(at(stage).errand.bought.data(), tool);
  const bool was_hired = has_bit(at(stage).hired.data(), tool);
  if (was_bought == bought && was_hired == hired) return;
  touch(stage);
  Day& day = next_[stage];
  change_bit(day.errand.bought, tool, bought);
  change_bit(day.hired, tool, hired);
  const int change = static_cast<int>(hired) - static_cast<int>(was_hired);
  const auto& hire = model_.data().tools[tool].hire;
  if (hire) day.hire += change * hire->minor();
  if (!hire) day.not_had += change;
}

void SoftTrial::shop_stage(int stage, Stores& stores) {
  Day& day = next_[stage];
  day.before = stores;
  day.paid.clear();
  day.missing = false;
  const bool idle =
      std::all_of(day.errand.units.begin(), day.errand.units.end(), [](auto w) { return w == 0; });
  if (idle) {
    model_.buyer().forget(stage + 1, stores);
    return;
  }
  const auto& bought = shopping_.buy(stage, day.errand, stores);
  day.paid = bought.paid;
  day.missing = bought.missing;
}

/// Shops for the stages that differ and for those that find other stores; false if something cannot be had.
bool SoftTrial::shop() {
  const int stages = model_.stage_count();
  bool known = true;  // the stores are those of the placing kept
  for (int s = 0; s < stages; ++s) {
    if (!known && stores_ == now_[s].before) known = true;
    if (known && !touched_[s]) continue;
    if (known) stores_ = now_[s].before;
    touch(s);
    known = false;
    if (next_[s].not_had > 0) return false;
    shop_stage(s, stores_);
    if (next_[s].missing) return false;
  }
  return true;
}

void SoftTrial::check_fit() {
  if (!fit_moved_) return;
  std::fill(done_.begin(), done_.end(), 0);
  std::fill(here_.begin(), here_.end(), 0);
  for (int s = 0; s < model_.stage_count(); ++s) {
    const Bits& units = at(s).errand.units;
    for (std::size_t w = 0; w < done_.size(); ++w) done_[w] |= units[w] & decides_fit_[w];
    if (!here_.empty()) model_.change_free(here_.data(), members(units));
    if (done_ == now_[s].done && here_ == now_[s].here) continue;
    touch(s);
    next_[s].done = done_;
    next_[s].here = here_;
    next_[s].fits = model_.fits(done_.data(), here_.data());
  }
}

/// Worth that the placing's units would earn twice.
std::int64_t SoftTrial::earned_twice() const {
  Bits renewed(static_cast<std::size_t>(model_.renewal_words()), 0);
  std::int64_t sum = 0;
  for (int s = 0; s < model_.stage_count() && !renewed.empty(); ++s)
    sum += model_.earned_twice(members(at(s).errand.units), s, renewed.data());
  return sum;
}

void SoftTrial::add_up_units() {
  result_ = {};
  result_.rank.value -= earned_twice();
  for (int s = 0; s < model_.stage_count(); ++s) {
    const Day& day = at(s);
    result_.rank.value += day.value;
    result_.rank.minutes += day.minutes;
    result_.minutes_lacking +=
        std::max({std::int64_t{0}, day.minutes - model_.data().stages[s].minutes, day.late});
  }
}

void SoftTrial::add_up_money() {
  std::fill(bare_.begin(), bare_.end(), 0);
  result_.money_over = std::numeric_limits<std::int64_t>::min();
  for (int s = 0; s < model_.stage_count(); ++s) {
    const Day& day = at(s);
    bare_[s] += day.fees + day.hire;
    for (const auto& [payday, amount] : day.paid) bare_[payday] += amount;
  }
  for (int s = 0; s < model_.stage_count(); ++s) {
    const Money bare = Money::of_minor(bare_[s]);
    result_.rank.spent += bare_[s] + percentage_rounded_up(bare, model_.data().allowance_bp).minor();
    spent_[s] = result_.rank.spent;
    result_.money_over = std::max(result_.money_over, result_.rank.spent - caps_[s]);
  }
  result_.money_lacking = std::max(std::int64_t{0}, result_.money_over);
}

const Reckoning& SoftTrial::reckon_units(const Arrangement& next) {
  work_ += reckon_steps;
  std::fill(touched_.begin(), touched_.end(), 0);
  last_ = next;
  move_units();
  change_styles();
  add_up_units();
  judge_money();
  return result_;
}

const Reckoning& SoftTrial::reckon_work() {
  choose_tools();
  check_fit();
  for (int s = 0; s < model_.stage_count(); ++s) result_.misfits += at(s).fits ? 0 : 1;
  return result_;
}

bool SoftTrial::reckon_money() {
  if (!shop()) return false;
  add_up_money();
  return true;
}

}  // namespace fettlefund::budgets::search
