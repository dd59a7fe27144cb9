#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::goods {

using budgets::Money;
using budgets::Quantity;
using build::Id;

/// Something that needs an article: a job, a removal opened in a stage, or a tool's user.
struct NeededBy {
  Id id;  ///< job or removal
  std::string name;
  bool removal = false;
};

/// An easily forgotten thing. `bought`: it stands as a line in an order as well (with this key); otherwise it
/// has no price and waits to be ticked.
struct Reminder {
  std::string key;  ///< "<rule>@<job or removal>@<stage>"
  Id rule;
  std::string article;  ///< for people
  Quantity amount = 0;
  std::string unit;
  std::string why;
  NeededBy needed_by;
  std::string tag;
  bool bought = false;
  std::optional<Money> amount_paid_in_plan;
};

/// What the rules (shipped, overridden, the user's own, less the silenced) ask for one job or removal.
/// `article` is the index into Build::articles of an article with an offer or stock that serves the rule, or
/// -1: only a reminder. A rule is quiet where the job or removal itself lists an article that serves it.
struct ForgottenNeed {
  int article = -1;
  Reminder reminder;  ///< key without the stage, `bought` = (article >= 0)
};

/// In order of the rules: the shipped ones first, then the user's.
std::vector<ForgottenNeed> forgotten_of_job(const build::Build& build, int job);
std::vector<ForgottenNeed> forgotten_of_removal(const build::Build& build, int removal);

/// The shipped rules of common practice (no source beyond the trade's habit), at least 25, by id.
const std::vector<build::Rule>& shipped_rules();

/// Rules silenced or overridden that do not exist, silences for jobs that do not exist, and the like.
std::vector<build::Diagnostic> check_rules(const build::Build& build);

}  // namespace fettlefund::goods
