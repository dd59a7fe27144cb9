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
  bool used_up = true;         ///< false: a tool, one serves every job of the stage
  std::vector<NeededBy> also;  ///< more of the same stage that need it; `amount` is for all of them
};

/// Who needs it, in words: "Rear tyre", "Rear tyre and Wheel bearings", "A, B and 3 more".
std::string who_needs(const Reminder& reminder);

/// What the rules (shipped, overridden, the user's own, less the silenced) ask for one job or removal.
/// `article` is the index into Build::articles of a part or consumable with an offer or stock that serves the
/// rule, or -1: only a reminder. An article serves a rule whose goods word is its id or stands in its
/// `serves` (compared like tags), and only those jobs and removals that its `serves_for` names, if it names
/// any. Those that name the job go before those that name none; where several are left, nothing is guessed:
/// `article` is -1, and `candidates` holds them.
///
/// A rule is quiet where the job, its removals or the removal itself list an article that serves it, and
/// where a tool that serves it is owned. Each goods word is asked for once per job or removal, by the first
/// rule that does.
struct ForgottenNeed {
  int article = -1;
  Reminder reminder;            ///< key without the stage, `bought` = (article >= 0)
  std::vector<int> candidates;  ///< articles between which nobody has decided; empty or two and more
};

/// In order of the rules: the shipped ones by tag, then those of kinds of work, then the user's. Where an
/// article serves, name, amount and unit are the article's: the rule's amount converted (see in_unit of
/// packs.hpp), or one whole pack where the units do not convert.
std::vector<ForgottenNeed> forgotten_of_job(const build::Build& build, int job);
std::vector<ForgottenNeed> forgotten_of_removal(const build::Build& build, int removal);

/// The shipped rules: by tag, sorted by id, then those of the kinds of work, whose tag is the kind's name.
/// All are common practice of the trade, no source.
const std::vector<build::Rule>& shipped_rules();

/// The rules in force: the shipped ones, each replaced by the user's of the same id, then the user's others.
/// The pointers live as long as the build.
std::vector<const build::Rule*> rules_in_force(const build::Build& build);

/// What is wrong with rules, silences, tags and goods words, sorted by kind and then in file order.
/// Errors: two rules with one id; a silence for a rule, job or removal that does not exist. Warnings: a rule
/// whose tag nothing carries, a silence that quiets nothing, a `serves` word that no rule asks for, a tag
/// that no rule or caution knows but that is nearly one they do.
std::vector<build::Diagnostic> check_rules(const build::Build& build);

}  // namespace fettlefund::goods
