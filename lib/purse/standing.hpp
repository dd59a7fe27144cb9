#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/log/entry.hpp"
#include "lib/progress/replan.hpp"
#include "lib/purse/plan.hpp"

/// A purse whose builds have records: one cash and one bench, of which each record tells a part.
namespace fettlefund::purse {

/// What a build's record changed in it.
struct Told {
  std::vector<std::string> notes;
  std::vector<planning::LeftOut> closed;
};

struct Standing {
  std::optional<Purse> purse;  ///< what is left to plan; nothing: every stage is over
  std::vector<Told> told;      ///< one a build
  std::string as_of = {};      ///< which day that is and why, in words; empty: before anything happened
};

/// What opening cash, income and dated money of the purse came to up to a day, as the records noted it last
/// of all days up to `day`; nothing: none of them did.
std::optional<planning::Brought> noted_up_to(const std::vector<planning::History>& histories,
                                             budgets::Date day);

/// The cash of the purse on `day` and how it is known. It is what was counted last in any of the records (of
/// two counts of one day that of the build that stands later in the purse), else the purse's opening cash;
/// and income and dated money of the purse since, less what was paid and with what came or went besides by
/// every record since. In the record that holds the count, what stands behind it is since; in the others,
/// what is of a later day. What opening cash, income and dated money came to is as the records noted it, and
/// as the purse file has it from then on; where that file now has it otherwise, `past` tells both. What the
/// records say that their builds' own money brought is not looked at.
struct Cash {
  budgets::Money amount;
  std::string since;
  std::string past;
};
Cash cash_on(const Purse& purse, const std::vector<planning::History>& histories, budgets::Date day);

/// The purse on `day`. `logs`, one a build, may be without entries. Each build stands as by itself
/// (lib/progress/replan.hpp), but for what it shares: cash, bench time that is used, deposits' rests, and
/// orders of the day. MoneyOverflow where amounts leave the range of money.
Standing stand_on(const Purse& purse, const std::vector<log::Log>& logs, budgets::Date day,
                  std::int64_t keep_days);

/// As `plan` of what is left, which must be set: each build's part tells what happened so far.
Planning replan(const Standing& standing, const budgets::SolveOptions& options = {});

}  // namespace fettlefund::purse
