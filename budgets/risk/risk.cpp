#include "budgets/risk/risk.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "budgets/risk/model.hpp"

namespace fettlefund::budgets {
namespace {

/// Sums for the correlation of each drawn price with the worst shortfall, both as differences from the plan.
/// Moments are no amounts of money; every operation is correctly rounded and done in one order.
class Moments {
 public:
  explicit Moments(std::size_t prices) : prices_(prices) {}

  void add(const std::vector<std::int64_t>& changes, Money shortfall_change) {
    const auto y = static_cast<double>(shortfall_change.minor());
    y_ += y;
    yy_ += y * y;
    for (std::size_t i = 0; i < changes.size(); ++i) {
      const auto x = static_cast<double>(changes[i]);
      prices_[i].x += x;
      prices_[i].xx += x * x;
      prices_[i].xy += x * y;
    }
  }

  /// Square of the correlation, 0 where either does not vary.
  double share(std::size_t price, double n) const {
    const Sums& sums = prices_[price];
    const double in_x = sums.xx - sums.x * sums.x / n, in_y = yy_ - y_ * y_ / n;
    if (in_x <= 0 || in_y <= 0) return 0;
    const double both = sums.xy - sums.x * y_ / n;
    return std::min(1.0, both * both / (in_x * in_y));
  }

 private:
  struct Sums {
    double x = 0, xx = 0, xy = 0;
  };
  std::vector<Sums> prices_;
  double y_ = 0, yy_ = 0;
};

/// Counts for one way of treating the allowance.
class HoldingTally {
 public:
  HoldingTally(const RiskModel& model, std::vector<Money> held_back)
      : model_(model), held_back_(std::move(held_back)), stages_(model.floors.size()) {}

  /// Returns the worst shortfall.
  Money add(const RiskSample& sample) {
    for (std::size_t t = 0; t < stages_.size(); ++t) {
      if (sample.cash[t] - held_back_[t] >= model_.floors[t]) ++stages_[t];
    }
    worst_.push_back(worst_shortfall(model_, sample.cash, held_back_));
    return worst_.back();
  }

  Holding take() {
    const auto samples = static_cast<std::int64_t>(worst_.size());
    std::sort(worst_.begin(), worst_.end());
    Holding holding;
    for (const std::int64_t hits : stages_) holding.stages.push_back({hits, samples});
    const auto short_from = std::upper_bound(worst_.begin(), worst_.end(), Money());
    holding.all = {short_from - worst_.begin(), samples};
    holding.buffer = buffer(samples);
    return holding;
  }

 private:
  Money ranked(std::int64_t rank) const {
    const auto last = static_cast<std::int64_t>(worst_.size());
    return std::max(Money(), worst_[static_cast<std::size_t>(std::clamp<std::int64_t>(rank, 1, last) - 1)]);
  }

  /// The number of samples below a fixed amount is binomial: at nine in ten, two standard errors of it are
  /// 2 sqrt(0.09 n) ranks.
  Buffer buffer(std::int64_t samples) const {
    const std::int64_t rank = (9 * samples + 9) / 10;
    const auto margin =
        static_cast<std::int64_t>(whole_root(static_cast<std::uint64_t>(36 * samples / 100))) + 1;
    return {ranked(rank), ranked(rank - margin), ranked(rank + margin)};
  }

  const RiskModel& model_;
  std::vector<Money> held_back_;
  std::vector<std::int64_t> stages_;
  std::vector<Money> worst_;
};

class ArrivalTally {
 public:
  explicit ArrivalTally(const RiskModel& model)
      : model_(model),
        late_(model.arrivals.size()),
        stages_(model.floors.size()),
        musts_(model.musts.size(), 0) {}

  void add(const RiskSample& sample) {
    std::vector<char> missed(stages_.size(), 0);
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Arrival& arrival = model_.arrivals[i];
      if (sample.lead_days[static_cast<std::size_t>(arrival.source)] <= arrival.days) continue;
      ++late_[i];
      missed[static_cast<std::size_t>(arrival.for_stage)] = 1;
    }
    for (std::size_t m = 0; m < musts_.size(); ++m) musts_[m] += in_time(model_.musts[m], sample) ? 1 : 0;
    for (std::size_t t = 0; t < stages_.size(); ++t) stages_[t] += missed[t];
    all_ += std::find(missed.begin(), missed.end(), 1) == missed.end() ? 1 : 0;
    ++samples_;
  }

  void tell(Risk& risk) const {
    for (const std::int64_t missed : stages_) risk.in_time.push_back({samples_ - missed, samples_});
    risk.all_in_time = {all_, samples_};
    for (std::size_t m = 0; m < musts_.size(); ++m) {
      const MustWaits& must = model_.musts[m];
      risk.musts.push_back({must.job, must.stage, must.latest, {musts_[m], samples_}});
    }
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const RiskSource& source = model_.leads[static_cast<std::size_t>(model_.arrivals[i].source)];
      if (late_[i] == 0) continue;
      risk.late.push_back({source.article, source.tool, model_.arrivals[i].for_stage, {late_[i], samples_}});
    }
    std::stable_sort(risk.late.begin(), risk.late.end(),
                     [](const auto& a, const auto& b) { return a.late.hits > b.late.hits; });
  }

 private:
  bool in_time(const MustWaits& must, const RiskSample& sample) const {
    return std::all_of(must.for_arrivals.begin(), must.for_arrivals.end(), [&](const auto& wait) {
      const int source = model_.arrivals[static_cast<std::size_t>(wait.first)].source;
      return sample.lead_days[static_cast<std::size_t>(source)] <= wait.second;
    });
  }

  const RiskModel& model_;
  std::vector<std::int64_t> late_, stages_, musts_;
  std::int64_t all_ = 0, samples_ = 0;
};

/// The entry of an article or tool, added where it is new.
RiskShare& share_of(const RiskSource& source, std::vector<RiskShare>& shares) {
  for (RiskShare& share : shares) {
    if (share.article == source.article && share.tool == source.tool) return share;
  }
  return shares.emplace_back(RiskShare{source.article, source.tool, 0, 0});
}

/// Prices are independent, so the shares of an article's offers add up, and their errors as squares do.
std::vector<RiskShare> shares_of(const RiskModel& model, const Moments& moments, std::int64_t samples) {
  const auto n = static_cast<double>(samples);
  std::vector<RiskShare> shares;
  for (std::size_t i = 0; i < model.prices.size(); ++i) {
    const double share = moments.share(i, n);
    if (share * n <= 9) continue;
    const double error = 2 * std::sqrt(share) * (1 - share) / std::sqrt(n);
    RiskShare& all = share_of(model.prices[i], shares);
    all.share += share;
    all.standard_error = std::sqrt(all.standard_error * all.standard_error + error * error);
  }
  std::stable_sort(shares.begin(), shares.end(),
                   [](const auto& a, const auto& b) { return a.share > b.share; });
  return shares;
}

bool valid(const Spread& spread) {
  constexpr std::int64_t widest = std::int64_t{1} << 62;
  return spread.low >= 0 && spread.low <= spread.likely && spread.likely <= spread.high &&
         spread.high - spread.low < widest;
}

template <class Goods>
void check_spreads(const std::vector<Goods>& goods, const std::vector<std::vector<OfferSpread>>& spreads) {
  bool fits = goods.size() == spreads.size();
  for (std::size_t i = 0; fits && i < goods.size(); ++i) {
    fits = goods[i].offers.size() == spreads[i].size();
    for (std::size_t o = 0; fits && o < spreads[i].size(); ++o) {
      const OfferSpread& spread = spreads[i][o];
      fits = valid(spread.price) && valid(spread.lead_days) &&
             spread.price.likely == goods[i].offers[o].price.minor() &&
             spread.lead_days.likely == goods[i].offers[o].lead_days;
    }
  }
  if (!fits) throw std::invalid_argument("spreads do not belong to the problem");
}

template <class Goods>
std::vector<std::vector<OfferSpread>> certain(const std::vector<Goods>& goods) {
  std::vector<std::vector<OfferSpread>> all;
  for (const Goods& one : goods) {
    auto& spreads = all.emplace_back();
    for (const Offer& offer : one.offers) {
      const std::int64_t price = offer.price.minor(), lead = offer.lead_days;
      spreads.push_back({{price, price, price}, {lead, lead, lead}});
    }
  }
  return all;
}

Risk sampled(const RiskModel& model, std::int64_t samples) {
  Risk risk;
  risk.samples = samples;
  RiskSample sample = likely_sample(model);
  risk.planned = sample.cash;
  const Money planned_shortfall = worst_shortfall(model, sample.cash, model.set_aside);
  HoldingTally kept(model, std::vector<Money>(model.floors.size())), spent(model, model.set_aside);
  ArrivalTally arrivals(model);
  Moments moments(model.prices.size());
  std::mt19937_64 generator;
  for (std::int64_t i = 0; i < samples; ++i) {
    draw(model, generator, sample);
    if (i == 0) risk.lowest = sample.cash;
    moments.add(sample.price_changes, spent.add(sample) - planned_shortfall);
    kept.add(sample);
    arrivals.add(sample);
    for (std::size_t t = 0; t < sample.cash.size(); ++t) {
      risk.lowest[t] = std::min(risk.lowest[t], sample.cash[t]);
    }
  }
  risk.kept = kept.take();
  risk.spent = spent.take();
  arrivals.tell(risk);
  risk.shares = shares_of(model, moments, samples);
  risk.uncertain_prices = static_cast<int>(model.prices.size());
  risk.uncertain_leads = static_cast<int>(model.leads.size());
  return risk;
}

}  // namespace

double Chance::share() const { return static_cast<double>(hits) / static_cast<double>(samples); }

double Chance::standard_error() const {
  return std::sqrt(share() * (1 - share()) / static_cast<double>(samples));
}

Spreads certain_spreads(const ProblemData& data) { return {certain(data.articles), certain(data.tools)}; }

Risk risk(const Problem& problem, const Plan& plan, const Spreads& spreads, std::int64_t samples) {
  check_spreads(problem.data().articles, spreads.articles);
  check_spreads(problem.data().tools, spreads.tools);
  if (samples < least_samples || samples > most_samples) {
    throw std::invalid_argument("samples: " + std::to_string(samples) + " is out of range");
  }
  if (problem.stage_count() == 0) throw std::invalid_argument("no stages");
  return sampled(risk_model(problem, plan, spreads), samples);
}

}  // namespace fettlefund::budgets
