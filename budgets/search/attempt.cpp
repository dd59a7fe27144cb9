#include "budgets/search/attempt.hpp"

#include <algorithm>
#include <limits>

#include "budgets/search/bound/linear_dual.hpp"
#include "budgets/search/local/orders.hpp"
#include "budgets/search/local/rebuild.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t any_money = std::numeric_limits<std::int64_t>::max() / 4;
constexpr std::size_t first_width = 10;
constexpr std::size_t first_sure_width = 250;  ///< of runs by sure costs
constexpr std::size_t most_bytes = 1'200'000'000;
/// Of improvement before the first run: for each pair of unit and stage where plans are tried without
/// shopping. Where they are not, for each two such pairs, and three quarters of a step for each four: of
/// small problems layers soon prove a plan, of others a good plan in hand saves most of a dear run.
constexpr std::int64_t steps_of_pair = 20'000;
constexpr std::int64_t steps_of_two_pairs = 1'000;

constexpr std::int64_t steps_of_costing = 30;        ///< for each comparison of two ways of buying
constexpr std::int64_t first_round = 1'080'000'000;  ///< of descents
/// Where goods have to be shopped for layers seldom prove a plan, and descents find better ones: of the steps
/// in all so many tenths are theirs.
constexpr int descent_tenths = 6;

constexpr int few_units = 50;    ///< layers of so few mostly lead to the best plan: orders are enough
constexpr int some_units = 100;  ///< so many are tried by orders too

/// Listing takes the longer the more units there are, and it cannot be stopped.
std::int32_t sets_to_list(const Size& size, const Relaxed& relaxed) {
  return std::min(size.patterns, 60'000'000 / std::max(relaxed.units, 1));
}

}  // namespace

Attempt::Attempt(const Problem& problem, const Size& size, Meter& meter, Watch watch)
    : size_(size),
      meter_(meter),
      model_(problem),
      relaxed_(model_),
      bounder_(relaxed_, sets_to_list(size, relaxed_)),
      watch_(std::move(watch)),
      search_(model_, relaxed_, bounder_, meter, watch_),
      descents_(problem, meter),
      coster_(model_.problem()),
      sure_width_(first_sure_width),
      sure_is_known_(relaxed_.exact) {
  meter_.add(50 * std::int64_t{bounder_.completion().pattern_count()});
  size_.width = std::min(size_.width, room_for_rows());
}

/// So many rows a layer that all layers together stay well below 2 GiB.
std::size_t Attempt::room_for_rows() const {
  const std::size_t words = model_.words() + (model_.data().tools.size() + 63) / 64 + 8;
  const std::size_t row = sizeof(Row) + 8 * words;
  const auto layers =
      static_cast<std::size_t>(model_.stage_count()) + 4;  // the next may grow to three widths
  return std::max<std::size_t>(1000, most_bytes / (row * layers));
}

/// Before the first run and between the others.
void Attempt::better_plan(std::int64_t steps) {
  if (relaxed_.exact) {
    better_relaxed_plan(std::min(steps, meter_.left() / 4));
    return;
  }
  anneal(steps);
}

/// All that is left for descents, or a quarter of it, or a quarter of that and so on: what two problems that
/// differ little have in common hangs on descents of equal length. Each round of them is half as long again
/// as the one before, since descents come to rest in plans that differ more than a longer one betters any of
/// them.
void Attempt::anneal(std::int64_t at_most) {
  std::int64_t steps = descent_steps_;
  while (steps > at_most) steps /= 4;
  descent_steps_ -= steps;
  const auto offer = [&](const Found& found) {
    const auto& best = search_.best();
    if (!best || better(found.rank, best->rank)) offer_schedule(found.schedule);
  };
  for (std::int64_t length = first_round; steps > 0 && !meter_.out(); length += length / 2) {
    const std::int64_t part = 2 * steps < 5 * length ? steps : length;
    const std::int64_t before = meter_.steps();
    descents_.run(part, ++rounds_, offer);
    steps -= part;
    if (meter_.steps() - before <= part / 2) break;  // there is nothing to place
  }
}

/// The stage of each unit in the best plan known; -1: left out.
Placing Attempt::best_placing() const {
  const auto& best = search_.best();
  Placing placing(relaxed_.units, -1);
  for (int u = 0; best && u < relaxed_.units; ++u)
    placing[u] = best->schedule.stage_of[model_.units()[u].jobs.front()];
  return placing;
}

/// Rates of units, worked out again where far more steps may be spent on them than before.
const std::vector<double>& Attempt::rates(std::int64_t steps) {
  if (!rates_.empty() && steps < 4 * rates_steps_) return rates_;
  LinearDual dual(relaxed_);
  dual.run(search_.best() ? static_cast<double>(search_.best()->rank.value) : -1e18, steps, meter_);
  rates_ = dual.rates();
  rates_steps_ = steps;
  return rates_;
}

/// Where relaxed costs are the true ones a plan can be tried without shopping. One change of an order moves
/// all that comes after, which rebuilding parts cannot; but with many units it costs too much.
void Attempt::better_relaxed_plan(std::int64_t steps) {
  ++rounds_;
  if (relaxed_.units <= some_units)
    offer_stages(OrderImprover(relaxed_, rounds_).run(best_placing(), steps, meter_));
  if (relaxed_.units > few_units) rebuild_plan(relaxed_.units <= some_units ? steps / 2 : steps);
}

void Attempt::rebuild_plan(std::int64_t steps) {
  const std::int64_t end = meter_.steps() + steps;
  const auto& promise = rates(relaxed_.units <= some_units ? steps / 8 : steps / 2);
  Rebuilder rebuilder(relaxed_, promise, rounds_);
  if (const auto found = rebuilder.run(best_placing(), end - meter_.steps(), meter_)) offer_stages(*found);
}

/// A plan of the relaxed problem, if it keeps all rules.
void Attempt::offer_stages(const std::vector<int>& found) {
  Schedule schedule;
  schedule.stage_of.assign(model_.data().jobs.size(), -1);
  schedule.tool_bought.assign(model_.data().tools.size(), -1);
  for (int u = 0; u < relaxed_.units; ++u) {
    for (int j : model_.units()[u].jobs) schedule.stage_of[j] = found[u];
  }
  search_.complete_tools(schedule);
  offer_schedule(schedule);
}

/// Bought in the best way, which may be better than what it was tried with.
void Attempt::offer_schedule(const Schedule& schedule) {
  const std::int64_t before = coster_.work();
  const auto plan = coster_.plan(schedule);
  meter_.add(steps_of_costing * (coster_.work() - before + 100));
  if (plan) search_.offer({schedule, {plan->value, plan->spent.minor(), plan->minutes}});
}

std::int64_t Attempt::first_improvement() const {
  const std::int64_t pairs = std::int64_t{model_.unit_count()} * model_.stage_count();
  if (relaxed_.exact) {
    const std::int64_t few = (steps_of_pair + 50 * pairs) * pairs;
    return relaxed_.units <= some_units ? few : std::max(few, meter_.left() / 8);
  }
  const std::int64_t two = std::min<std::int64_t>(pairs, 2000) * std::min<std::int64_t>(pairs, 2000);
  return steps_of_two_pairs * two + two * two / 4 * 3;
}

/// Steps at most for better plans after a run.
std::int64_t Attempt::between_runs() const {
  if (relaxed_.exact) return scale_down(meter_.steps(), std::min(model_.unit_count(), 150), 400);
  return 4 * meter_.steps();
}

/// Runs by sure costs, each four times as wide as the one before, with the multipliers that the layered
/// search has come to. Where one has left nothing out, no plan has more value than what it found. They have
/// the steps that are not kept for descents, or half of them as long as no plan is known.
void Attempt::bound_by_sure_costs(Verdict& verdict) {
  const std::int64_t left = meter_.left() - descent_steps_;
  if (sure_is_known_ || left <= 0) return;
  Meter meter = meter_.part(search_.best() ? left : left / 2);
  const auto report = [&](const std::optional<Found>&, std::int64_t bound, int layer, std::int64_t states) {
    if (watch_) watch_(search_.best(), std::min(bound, verdict.bound), layer, states);
  };
  Search sure(model_, relaxed_, bounder_, meter, report, Costing::sure);
  sure.start_from(search_.multipliers());
  if (search_.best()) sure.offer(*search_.best());
  while (!sure_is_known_ && !meter.out()) {
    const Outcome outcome = sure.run(sure_width_, any_money, false);
    verdict.bound = std::min(verdict.bound, outcome.bound);
    sure_is_known_ = outcome.exhausted;
    if (!meter.out()) sure_width_ *= 4;
  }
  meter_.add(meter.steps());
  const auto& best = search_.best();
  verdict.proven = best ? best->rank.value >= verdict.bound : sure_is_known_ && !sure.best();
}

void Attempt::run_value(Verdict& verdict) {
  verdict.bound = std::numeric_limits<std::int64_t>::max();
  verdict.proven = model_.must_is_hopeless();
  descent_steps_ = (meter_.steps() + meter_.left()) / 10 * descent_tenths;
  if (search_.enough() != no_value || !size_.sure_costs) sure_is_known_ = true;
  if (!verdict.proven) better_plan(first_improvement());
  for (std::size_t width = std::min(first_width, size_.width); !verdict.proven;
       width = std::min(width * 10, size_.width)) {
    const Outcome outcome = search_.run(width, any_money, false);
    verdict.bound = std::min(verdict.bound, outcome.bound);
    const auto& best = search_.best();
    if (best && best->rank.value >= search_.enough()) break;
    verdict.proven = outcome.exhausted || (best && best->rank.value >= verdict.bound);
    if (meter_.out() || width == size_.width) break;
    if (!verdict.proven) bound_by_sure_costs(verdict);
    if (verdict.proven) break;
    better_plan(between_runs());
    if (!search_.best() && width == first_width && rescue_) {
      if (const auto found = rescue_()) search_.offer(*found);
    }
  }
  if (!verdict.proven && search_.enough() == no_value) use_rest(verdict);
  verdict.best = search_.best();
}

/// When layers have reached their greatest width with steps left.
void Attempt::use_rest(Verdict& verdict) {
  if (!relaxed_.exact || meter_.out()) return;
  ++rounds_;
  rebuild_plan(std::min(meter_.left(), meter_.steps()));
  verdict.proven = search_.best() && search_.best()->rank.value >= verdict.bound;
}

void Attempt::run_ties(Verdict& verdict, bool brief) {
  for (std::size_t width = std::min(10 * first_width, size_.width); !meter_.out();
       width = std::min(width * 10, size_.width)) {
    verdict.ties_proven = search_.run(width, any_money, true).exhausted;
    const bool late = brief && meter_.left() < meter_.steps();
    if (verdict.ties_proven || late || width == size_.width) break;
  }
  verdict.best = search_.best();
}

Verdict Attempt::optimise(std::int64_t bound, bool brief) {
  Verdict verdict{search_.best()};
  verdict.proven = verdict.best && verdict.best->rank.value >= bound;
  if (!verdict.proven) run_value(verdict);
  if (verdict.proven && verdict.best) {
    verdict.bound = verdict.best->rank.value;
    run_ties(verdict, brief);
  }
  return verdict;
}

Verdict Attempt::reach(std::int64_t value) {
  search_.enough(value);
  Verdict verdict;
  run_value(verdict);
  return verdict;
}

}  // namespace fettlefund::budgets::search
