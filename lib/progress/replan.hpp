#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/outcome/plan.hpp"
#include "lib/progress/elsewhere.hpp"
#include "lib/progress/history.hpp"

/// Planning what is left when something has happened.
namespace fettlefund::planning {

/// What leaving an agreed job in its stage counts if nothing else is asked for: 61 want-days, about two
/// want-months.
inline constexpr std::int64_t usual_keep_days = 61;

/// A build as it stands on a day.
struct Standing {
  std::optional<build::Build> build;  ///< what is left to plan; nothing: every stage is over
  std::vector<std::string> notes;     ///< what the log changed, in words
  std::vector<LeftOut> closed;        ///< jobs that cannot be done any more, with the reason
  std::string as_of = {};  ///< which day that is and why, in words; empty: before anything happened
};

/// The build on `day`, of which `build` (checked without errors) and `log` tell.
///
/// **Stages**: a stage is over when its bench date is before `day`. Those left keep their numbers. Where the
/// payday of the first of them has been (it is on `day` or before it), its money is in the cash and its
/// orders go out on `day`. The bench time of that stage is less by what jobs fitted since that payday took.
///
/// **Cash** is what was counted last, plus all dated money of later days up to `day`, less what was bought
/// after the count: on a later day, or on the same day by a later entry. Of what was bought before the count
/// and corrected after it, the difference was paid (or came back) on the day of the correction. Without a
/// count it is the opening cash plus all dated money up to `day`, less all that was bought. What opening
/// cash, income and dated money came to is as the entries of the log have it up to the latest of them, and as
/// the build has it from then on: a changed build changes no past. The floor never asks for more than there
/// is when nothing is bought.
///
/// **Jobs** that are fitted leave the plan. What they put on the machine is there, for what they replace they
/// are there instead, `after` and `with` them is settled, choices they belong to are closed, and with those
/// whatever comes after or is done with a job that is closed. A renewed part is as old as its job. A must
/// whose day has passed, or that has no bench date with time left on it before that day, or that can no
/// longer be done on the bench date that `day` is, stays a must without a day and is wanted 10; any other job
/// whose day has passed is closed, unless a must comes after it.
///
/// **Goods** on hand are as `stock_on` says. A part or tool that is on its way is not ordered again on a
/// payday before it arrives; what all jobs together need beyond it may be, and those that need what is coming
/// wait for it. A fee that is paid is not paid again; a hire that is paid is had for nothing in its stage.
///
/// Agreed jobs are held in their stages by `keep_days` (>= 0) want-days each. MoneyOverflow where amounts
/// leave the range of money.
///
/// With `others`, those with whom it shares a purse: the cash is the purse's, what `brought` the log says of
/// the build alone is not looked at, and their bench time, rests and orders of the day count as well.
Standing stand_on(const build::Build& build, const log::Log& log, Date day, std::int64_t keep_days,
                  const Elsewhere* others = nullptr);

/// What the opening cash, income and dated money come to up to `day`, inclusive: what is `recorded` of an
/// earlier day, and what the build has dated later.
Money brought_on(const build::Build& build, const std::optional<Brought>& recorded, Date day);

/// The cash on `day` by the rule above.
Money cash_on(const build::Build& build, const History& history, Date day);

/// As `plan` of what is left, which must be set: the outcome tells what happened so far and every agreed job
/// that moves, with the reasons. The outcome points to `standing.build`.
Planning replan(const Standing& standing, const budgets::SolveOptions& options = {});

}  // namespace fettlefund::planning
