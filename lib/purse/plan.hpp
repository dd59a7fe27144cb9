#pragma once
#include <memory>
#include <variant>
#include <vector>

#include "lib/outcome/plan.hpp"
#include "lib/purse/purse.hpp"

namespace fettlefund::purse {

/// What the plan has for one build, in the builder's words. Of what the purse brings in on a payday, what the
/// other builds spend is taken off first, as dated money with their names, and of the bench time theirs: what
/// is left after each payday is then what the purse has left. Nothing is claimed of the part alone: its proof
/// is the purse's.
struct Share {
  build::Id id;
  std::unique_ptr<build::Build> build;  ///< as it stands beside the others; the outcome points to it
  planning::Outcome outcome;
};

struct StageSum {
  int number = 0;  ///< from 1
  budgets::Date payday, bench;
  budgets::Money cash_in, spent, cash_after, floor;
  std::int64_t minutes_used = 0, minutes_limit = 0;
  std::vector<budgets::Money> spent_by;  ///< each build
};

struct Outcome {
  planning::Outcome
      whole;  ///< without stages: build (name, currency, money), proof, worth, bound, spent, left
  std::unique_ptr<build::Build> build;  ///< to which `whole` points: the purse's name, money and bench alone
  std::vector<StageSum> stages;
  std::vector<Share> shares;  ///< one a build, in file order
};

using Planning = std::variant<Outcome, planning::Conflict, planning::NoPlan>;

/// Plans all builds of the purse together: one staging problem, one proof.
Planning plan(const Purse& purse, const budgets::SolveOptions& options = {});

}  // namespace fettlefund::purse
