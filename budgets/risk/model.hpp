#pragma once
#include <random>
#include <utility>
#include <vector>

#include "budgets/risk/risk.hpp"

/// The parts of `risk`, private to it: what a plan does with uncertain prices and lead times, and one sample.
namespace fettlefund::budgets {

/// A price or lead time that is drawn.
struct RiskSource {
  Spread spread;
  int article = -1, tool = -1;
  int offer = 0;
  int payday = -1;  ///< of a lead time
  int parcel = -1;  ///< of a lead time: the order it belongs to, which has one draw
};

/// Packs of a drawn price in an order.
struct DrawnLine {
  int source = 0;
  std::int64_t packs = 0;
};

struct DrawnOrder {
  int stage = 0;
  Money goods;  ///< at likely prices
  Supplier supplier;
  std::vector<DrawnLine> lines;
};

/// What a must waits for: arrivals by index, and the days they may take so that it can still be done.
struct MustWaits {
  int job = 0, stage = 0, latest = 0;
  std::vector<std::pair<int, std::int64_t>> for_arrivals;
};

/// Goods that are late when their lead time is more than `days`.
struct Arrival {
  int source = 0;
  int for_stage = 0;
  std::int64_t days = 0;
};

struct RiskModel {
  std::vector<RiskSource> prices, leads;
  std::vector<DrawnOrder> orders;  ///< by stage
  std::vector<Arrival> arrivals;
  std::vector<MustWaits> musts;  ///< by job
  std::vector<Money> before;     ///< [stage] cash in less fees and hire; the first with the opening cash
  std::vector<Money> floors;     ///< [stage]
  std::vector<Money> set_aside;  ///< [stage] allowances planned up to and including it
};

RiskModel risk_model(const Problem& problem, const Plan& plan, const Spreads& spreads);

/// One sample: prices less their likely ones, lead times, and the cash after each payday (allowance kept).
struct RiskSample {
  std::vector<std::int64_t> price_changes, lead_days;
  std::vector<Money> cash;
};

/// All prices and lead times as likely: the plan itself.
RiskSample likely_sample(const RiskModel& model);

/// Draws prices, then the parcels, in the model's order.
void draw(const RiskModel& model, std::mt19937_64& generator, RiskSample& sample);

/// How much is short at the worst stage when the cash is less by what `held_back` says at each stage;
/// negative where every stage has room to spare.
Money worst_shortfall(const RiskModel& model, const std::vector<Money>& cash,
                      const std::vector<Money>& held_back);

}  // namespace fettlefund::budgets
