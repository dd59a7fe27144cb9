#include "lib/progress/as_planned.hpp"

#include "lib/progress/open_order.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"
#include "lib/staging/stock.hpp"

namespace fettlefund::planning {
namespace {

using Kind = ShoppingKey::Kind;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

}  // namespace

const build::Offer* offer_behind(const build::Build& build, const Bought& bought) {
  const int a = bought.what.kind == Kind::article ? find_id(build.articles, bought.what.id) : -1;
  if (a < 0) return nullptr;
  const build::Id from = supplier_of(build, bought);
  const build::Offer* best = nullptr;
  for (const build::Offer& offer : build.articles[at(a)].offers) {
    if (!from.empty() && offer.supplier != from) continue;
    if (best == nullptr || offer.price.likely < best->price.likely) best = &offer;
  }
  return best;
}

Money planned_for(const build::Build& build, const Bought& bought) {
  const ShoppingKey& what = bought.what;
  const int a = find_id(build.articles, what.id), j = find_id(build.jobs, what.id);
  const int s = find_id(build.suppliers, what.id);
  if (what.kind == Kind::fee && j >= 0) return build.jobs[at(j)].cost;
  if (what.kind == Kind::delivery && s >= 0) return build.suppliers[at(s)].delivery;
  if (what.kind == Kind::hire && a >= 0) return build.articles[at(a)].hire.value_or(Money());
  const build::Offer* offer = offer_behind(build, bought);
  return offer == nullptr ? Money() : offer->price.likely * bought.ordered;
}

std::vector<Date> bench_dates_of(const build::Build& build) {
  std::vector<Date> dates;
  for (const budgets::Stage& stage : stages_of(build, calendar_of(build.money)))
    dates.push_back(stage.last_day());
  return dates;
}

int stage_on(const std::vector<Date>& bench_dates, Date day) {
  int stage = 0;
  while (stage + 1 < std::ssize(bench_dates) && bench_dates[at(stage)] < day) ++stage;
  return stage;
}

std::int64_t planned_minutes(const build::Build& build, const build::Job& job) {
  std::int64_t minutes = job.minutes;
  for (const int r : opened_by(build, job))
    minutes += build.removals[at(r)].minutes_off + build.removals[at(r)].minutes_on;
  return minutes;
}

}  // namespace fettlefund::planning
