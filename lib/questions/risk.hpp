#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "budgets/risk/risk.hpp"
#include "lib/outcome/plan.hpp"

/// Will the plan hold when prices and lead times are not certain? In the builder's words.
namespace fettlefund::planning {

struct RiskStage {
  int number = 0;  ///< from 1, over the whole build
  Date payday, bench;
  Money floor;    ///< what is to be left: keep-back and bills before the next payday
  Money planned;  ///< cash after the payday at likely prices, the allowance still in it
  Money lowest;   ///< the least in any sample
  budgets::Chance holds, holds_if_spent;  ///< at least `floor` is left, the allowance kept or spent
  budgets::Chance in_time;                ///< all that is ordered for its bench date arrives by then
};

struct RiskArticle {
  Id id;
  std::string name;
  double share = 0, standard_error = 0;  ///< of the variance, as in budgets::RiskShare
};

struct RiskArrival {
  Id id;
  std::string name;
  int for_stage = 0;  ///< from 1, over the whole build
  budgets::Chance late;
};

struct RiskMust {
  Id id;
  std::string name;
  int stage = 0;            ///< where it is planned, from 1, over the whole build
  std::optional<Date> by;   ///< its day; nothing: the last bench date
  budgets::Chance in_time;  ///< all that is ordered for it arrives by the last bench date up to its day
};

struct RiskReport {
  const build::Build* build = nullptr;  ///< not owned; outlives the report
  Proof proof = Proof::proven;          ///< of the plan looked at
  std::int64_t samples = 0;
  std::vector<RiskStage> stages;
  budgets::Chance all, all_if_spent, all_in_time;
  budgets::Buffer buffer, buffer_if_spent;
  bool allowance = false;  ///< the build has one; otherwise both ways are the same
  int uncertain_prices = 0, uncertain_leads = 0;
  std::vector<RiskArticle> articles;  ///< what carries the risk, most first
  std::vector<RiskArrival> late;      ///< what may be late, most often first
  std::vector<RiskMust> musts;        ///< in file order; empty where no lead time is drawn
  std::vector<std::string> notes;     ///< what is taken for granted
};

using RiskAnswer = std::variant<RiskReport, Conflict, NoPlan>;

/// What the build file says about each offer of the problem.
budgets::Spreads spreads_of(const build::Build& build, const Staging& staging);

/// Plans the build, which must have passed `check`, and tries the plan on so many samples; see budgets::risk
/// for their range and what it throws.
RiskAnswer risk(const build::Build& build, std::int64_t samples, const budgets::SolveOptions& options = {});

}  // namespace fettlefund::planning
