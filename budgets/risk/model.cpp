#include "budgets/risk/model.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>
#include <tuple>

#include "budgets/values/lists.hpp"

namespace fettlefund::budgets {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Finds sources again by what they are.
class Sources {
 public:
  /// The index of the source, which is added where it is new.
  int index_of(const RiskSource& source, std::vector<RiskSource>& all) {
    const auto key = std::tuple(source.article, source.tool, source.offer, source.payday);
    const auto [place, fresh] = known_.emplace(key, static_cast<int>(all.size()));
    if (fresh) all.push_back(source);
    return place->second;
  }

 private:
  std::map<std::tuple<int, int, int, int>, int> known_;
};

class Modeller {
 public:
  Modeller(const Problem& problem, const Plan& plan, const Spreads& spreads)
      : data_(problem.data()), plan_(plan), spreads_(spreads) {}

  RiskModel make() {
    for (const Order& order : plan_.orders) add_order(order);
    if (!model_.leads.empty()) add_musts();
    Money set_aside;
    for (std::size_t t = 0; t < data_.stages.size(); ++t) {
      const StageCost& cost = plan_.stages[t];
      const Money opening = t == 0 ? data_.opening : Money();
      model_.before.push_back(opening + data_.stages[t].cash_in - cost.fees - cost.hire);
      model_.floors.push_back(data_.stages[t].floor);
      model_.set_aside.push_back(set_aside += cost.allowance);
    }
    return std::move(model_);
  }

 private:
  const OfferSpread& spread_of(const OrderLine& line) const {
    const auto& offers = line.tool >= 0 ? spreads_.tools[at(line.tool)] : spreads_.articles[at(line.article)];
    return offers[at(line.offer)];
  }

  void add_order(const Order& order) {
    DrawnOrder& drawn = model_.orders.emplace_back();
    drawn.stage = order.stage;
    drawn.goods = order.goods;
    drawn.supplier = data_.suppliers[at(order.supplier)];
    for (const OrderLine& line : order.lines) {
      add_price(line, drawn);
      add_lead(line, order.stage);
    }
  }

  void add_price(const OrderLine& line, DrawnOrder& drawn) {
    const Spread& price = spread_of(line).price;
    if (price.certain()) return;
    const RiskSource source{price, line.article, line.tool, line.offer, -1};
    drawn.lines.push_back({prices_.index_of(source, model_.prices), line.packs});
  }

  void add_lead(const OrderLine& line, int payday) {
    const Spread& lead = spread_of(line).lead_days;
    if (lead.certain()) return;
    const int parcel = static_cast<int>(model_.orders.size()) - 1;
    const RiskSource source{lead, line.article, line.tool, line.offer, payday, parcel};
    const int index = leads_.index_of(source, model_.leads);
    const int days = data_.stages[at(line.for_stage)].bench - data_.stages[at(payday)].payday;
    model_.arrivals.push_back({index, line.for_stage, days});
    lines_.push_back({line.article, line.tool});
  }

  /// Whether the goods, the tools or one of the sets of tools have the article or tool in them.
  static bool needs(const std::vector<Need>& goods, const std::vector<int>& tools,
                    const std::vector<std::vector<int>>& any_tools, std::pair<int, int> what) {
    if (what.second >= 0) {
      return contains(tools, what.second) ||
             std::any_of(any_tools.begin(), any_tools.end(),
                         [&](const std::vector<int>& set) { return contains(set, what.second); });
    }
    return std::any_of(goods.begin(), goods.end(),
                       [&](const Need& need) { return need.article == what.first; });
  }

  /// Whether the job, or a removal that it opens, needs it.
  bool waits_for(const Job& job, std::pair<int, int> what) const {
    std::vector<char> seen(data_.removals.size(), 0);
    std::vector<int> open = job.removals;
    bool found = needs(job.needs, job.tools, job.any_tools, what);
    while (!open.empty() && !found) {
      const int r = open.back();
      open.pop_back();
      if (seen[at(r)]) continue;
      seen[at(r)] = 1;
      const Removal& removal = data_.removals[at(r)];
      found = needs(removal.one_use, removal.tools, removal.any_tools, what);
      open.insert(open.end(), removal.needs.begin(), removal.needs.end());
    }
    return found;
  }

  void add_musts() {
    for (std::size_t j = 0; j < data_.jobs.size(); ++j) {
      const Job& job = data_.jobs[j];
      const int stage = plan_.schedule.stage_of[j];
      if (!job.must || stage < 0) continue;
      const int last = static_cast<int>(data_.stages.size()) - 1;
      MustWaits must{static_cast<int>(j), stage, job.latest < 0 ? last : std::min(job.latest, last), {}};
      for (std::size_t i = 0; i < model_.arrivals.size(); ++i) {
        const Arrival& arrival = model_.arrivals[i];
        if (arrival.for_stage != stage || !waits_for(job, lines_[i])) continue;
        const int more = data_.stages[at(must.latest)].bench - data_.stages[at(stage)].bench;
        must.for_arrivals.emplace_back(static_cast<int>(i), arrival.days + more);
      }
      model_.musts.push_back(std::move(must));
    }
  }

  const ProblemData& data_;
  const Plan& plan_;
  const Spreads& spreads_;
  Sources prices_, leads_;
  std::vector<std::pair<int, int>> lines_;  ///< [arrival] article, tool
  RiskModel model_;
};

Money delivery_of(const DrawnOrder& order, Money goods) {
  const auto& free_from = order.supplier.free_from;
  return free_from && goods >= *free_from ? Money() : order.supplier.delivery;
}

/// Goes through the paydays with the sample's prices.
void settle(const RiskModel& model, RiskSample& sample) {
  sample.cash = model.before;
  for (const DrawnOrder& order : model.orders) {
    Money goods = order.goods;
    for (const DrawnLine& line : order.lines) {
      goods += Money::of_minor(sample.price_changes[at(line.source)]) * line.packs;
    }
    sample.cash[at(order.stage)] -= goods + delivery_of(order, goods);
  }
  for (std::size_t t = 1; t < sample.cash.size(); ++t) sample.cash[t] += sample.cash[t - 1];
}

}  // namespace

RiskModel risk_model(const Problem& problem, const Plan& plan, const Spreads& spreads) {
  return Modeller(problem, plan, spreads).make();
}

RiskSample likely_sample(const RiskModel& model) {
  RiskSample sample;
  sample.price_changes.assign(model.prices.size(), 0);
  for (const RiskSource& source : model.leads) sample.lead_days.push_back(source.spread.likely);
  settle(model, sample);
  return sample;
}

void draw(const RiskModel& model, std::mt19937_64& generator, RiskSample& sample) {
  for (std::size_t i = 0; i < model.prices.size(); ++i) {
    const Spread& spread = model.prices[i].spread;
    sample.price_changes[i] = triangular(spread, generator()) - spread.likely;
  }
  int parcel = -1;
  std::uint64_t delay = 0;
  for (std::size_t i = 0; i < model.leads.size(); ++i) {  // those of one order stand together
    if (model.leads[i].parcel != parcel) delay = generator();
    parcel = model.leads[i].parcel;
    sample.lead_days[i] = triangular(model.leads[i].spread, delay);
  }
  settle(model, sample);
}

Money worst_shortfall(const RiskModel& model, const std::vector<Money>& cash,
                      const std::vector<Money>& held_back) {
  Money worst = model.floors.front() + held_back.front() - cash.front();
  for (std::size_t t = 1; t < cash.size(); ++t) {
    worst = std::max(worst, model.floors[t] + held_back[t] - cash[t]);
  }
  return worst;
}

}  // namespace fettlefund::budgets
