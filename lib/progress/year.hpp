#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/progress/history.hpp"

/// What was planned and what became of it: the build file against its log. Nothing is planned for it, so it
/// is told at any time, after the last bench date too.
namespace fettlefund::planning {

/// Amounts by the build file and as paid.
struct Against {
  std::string name;
  Money planned, paid;
};

/// A job, with what only it needs. What several share is told apart, as "shared".
struct JobAgainst {
  build::Id id;
  std::string name;
  Money planned, paid;
  std::int64_t planned_minutes = 0;  ///< with each of its removals once
  std::optional<Date> fitted;
  std::optional<std::int64_t> taken;  ///< minutes, where recorded
  std::optional<std::int64_t> begun;  ///< minutes that went into it so far, where it is not fitted
  std::optional<Date> given_up;
};

/// A price really paid that is not the build file's likely one: the last for that article and supplier. Where
/// the supplier is not known, the cheapest is named.
struct PricePaid {
  std::string article_name, supplier_name;
  Money likely, paid;  ///< of one pack
  build::Id article;
  const build::Offer* offer = nullptr;  ///< not owned: of the build
  Date date;                            ///< when it was paid
};

/// What somebody recorded.
struct Recorder {
  std::string name;         ///< empty: lines that name nobody
  std::size_t entries = 0;  ///< that count
  Money paid;               ///< for what they recorded as bought
};

struct Year {
  const build::Build* build = nullptr;  ///< not owned; outlives this
  std::optional<Date> first;            ///< of an entry; nothing: nothing is recorded
  Date day;                             ///< up to which, inclusive
  // brought + moved_in - moved_out - paid + unexplained = cash
  Money brought;  ///< opening cash, income, dated money
  Money moved_in, moved_out;
  Money planned, paid;  ///< for all that was bought; rests of deposits, too, once they are paid
  Money unexplained;    ///< the difference that all counts together found; zero where nothing was counted
  Money cash;
  std::optional<Date> counted;     ///< the last time
  std::size_t counts = 0;          ///< how often
  std::vector<Against> suppliers;  ///< in file order, then what has none
  std::vector<Against> kinds;      ///< parts, consumables, tools, delivery, hire, fees, what was on no list
  std::vector<Against> stages;     ///< by the bench date that what was bought came before
  std::vector<JobAgainst> jobs;    ///< in file order
  Against shared;                  ///< goods that several jobs need, and what belongs to none
  std::vector<PricePaid> prices;   ///< by article, in file order
  std::vector<Recorder> who;       ///< by name, nobody last; empty: no line names anybody
};

/// Entries up to `day` count. What was planned is by the build file as it is now: packs at the likely price
/// of the supplier recorded, or of the cheapest offer where none is; nothing for what the file does not name.
/// Throws MoneyOverflow where amounts leave the range of money.
Year year_of(const build::Build& build, const log::Log& log, Date day);

}  // namespace fettlefund::planning
