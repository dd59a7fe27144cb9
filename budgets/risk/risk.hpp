#pragma once
#include <cstdint>
#include <vector>

#include "budgets/problem/plan.hpp"
#include "budgets/risk/draw.hpp"

/// Will a plan hold when prices and lead times are not certain? The plan stays as it is: what is ordered, on
/// which payday, from whom. In each sample the prices of a pack and the lead times are drawn, and the paydays
/// are gone through again.
/// - Each offer has one price, the same for all its orders. Each order has one draw for its lead times: what
///   comes from one supplier of one payday is early or late together, each line by its own spread. All draws
///   are independent of one another.
/// - Delivery is charged by the drawn prices: an order may reach its free-from amount or fall short of it.
/// - Fees, hire and money coming in are as planned. Orders are paid on their paydays, late or not.
/// - The allowance for the unforeseen is looked at both ways, see Holding.
/// The generator is std::mt19937_64 as the C++ standard fixes it, with its default seed; amounts, counts and
/// draws are whole numbers. The same input gives the same result on every machine.
namespace fettlefund::budgets {

/// What is not certain about an offer.
struct OfferSpread {
  Spread price;      ///< of one pack, in minor units, >= 0; the plan pays `likely`
  Spread lead_days;  ///< >= 0; the plan orders by `likely`
};

/// [article or tool][offer], as in the problem. `likely` is what the problem says.
struct Spreads {
  std::vector<std::vector<OfferSpread>> articles, tools;
};

/// Every price and lead time certain, for a start.
Spreads certain_spreads(const ProblemData& data);

/// In how many of the samples something was so.
struct Chance {
  std::int64_t hits = 0, samples = 0;

  double share() const;  ///< 0 to 1
  bool always_or_never() const { return hits == 0 || hits == samples; }
  /// sqrt(p (1 - p) / n). Where it was so in all samples or in none this is 0 and says too little; then the
  /// true chance is, with 95 percent confidence, within 3 / n of what was seen (`rule_of_three`: Hanley and
  /// Lippman-Hand, "If nothing goes wrong, is everything all right?", 1983, from memory).
  double standard_error() const;
  double rule_of_three() const { return 3.0 / static_cast<double>(samples); }
};

/// Extra opening cash that makes all stages hold in at least nine of ten samples: the least such amount,
/// exact for the sample, and what it is at ranks two standard errors lower and higher. Never negative.
struct Buffer {
  Money amount, low, high;
};

/// Whether the cash after each payday stays at or above the stage's floor.
struct Holding {
  std::vector<Chance> stages;
  Chance all;
  Buffer buffer;
};

/// How much of the uncertainty an article or tool carries: the share of the variance of the worst shortfall
/// (over the stages, allowance spent) that goes with its price in a straight line, which is the square of
/// their correlation. With all stages but one out of danger and no delivery at stake, it is the variance of
/// what the plan pays for it by the variance of all. Exactly one of `article` and `tool` is >= 0.
struct RiskShare {
  int article = -1, tool = -1;
  double share = 0;           ///< 0 to 1
  double standard_error = 0;  ///< about 2 |r| (1 - r^2) / sqrt(n) (from memory)
};

/// An article or tool that may arrive after the bench date it is ordered for.
struct LateArrival {
  int article = -1, tool = -1;
  int for_stage = 0;
  Chance late;
};

/// Whether all that is ordered for a must arrives by the last bench date on which the must may be done, so
/// that it can still be done in time there if not where it is planned.
struct MustChance {
  int job = 0;
  int stage = 0;   ///< where the plan does it
  int latest = 0;  ///< the last stage allowed
  Chance in_time;
};

struct Risk {
  std::int64_t samples = 0;
  Holding kept;                 ///< the allowance stays in the purse: rising prices may draw on it
  Holding spent;                ///< the allowance goes, as planned, on other things that nobody foresaw
  std::vector<Money> planned;   ///< [stage] cash after the payday at likely prices, allowance kept
  std::vector<Money> lowest;    ///< [stage] the least in any sample, allowance kept
  std::vector<Chance> in_time;  ///< [stage] all that is ordered for its bench date arrives by then
  Chance all_in_time;
  int uncertain_prices = 0;       ///< offers the plan uses whose price is drawn
  int uncertain_leads = 0;        ///< offers and paydays the plan uses whose lead time is drawn
  std::vector<RiskShare> shares;  ///< largest first, those clear of nothing by three standard errors
  std::vector<LateArrival> late;  ///< most often first, those that were late at all
  std::vector<MustChance> musts;  ///< those of the plan, by job; empty where no lead time is drawn
};

inline constexpr std::int64_t least_samples = 100, most_samples = 1'000'000;

/// `plan` must be a plan of `problem` that keeps all rules. `samples` from least_samples to most_samples,
/// else std::invalid_argument, as for spreads that are not the problem's and for a problem without stages.
/// Throws MoneyOverflow where the high prices add up to more than Money holds.
Risk risk(const Problem& problem, const Plan& plan, const Spreads& spreads, std::int64_t samples);

}  // namespace fettlefund::budgets
