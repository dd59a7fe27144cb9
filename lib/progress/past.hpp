#pragma once
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "lib/progress/year.hpp"

/// What has happened stage by stage, so that the next workbook can show it beside what is still to come.
namespace fettlefund::planning {

enum class PastKind { part, consumable, tool, delivery, hire, fee, allowance, besides };

/// A line of the log that bought something, or paid the rest of what was bought.
struct PastPurchase {
  std::int64_t entry = 0;             ///< its number
  std::string key;                    ///< of the log; of a rest that of the deposit
  PastKind kind = PastKind::besides;  ///< of a rest that of the deposit
  int stage = 1;
  Date bought, arrives;
  std::string supplier, name;              ///< as the build has them; the supplier may be empty
  std::int64_t packs = 1, packs_left = 1;  ///< bought; not gone since
  std::optional<build::Id> article;        ///< nothing: no goods
  std::optional<Money> price;              ///< of one pack as planned; nothing: none is known
  Money planned, paid;                     ///< for all packs
  std::string state;                       ///< in words: "on its way, due 2027-03-05"
  std::vector<std::string> remarks;        ///< that people made about it
  std::string by = {};                     ///< who recorded it; may be empty
};

/// Work on a job: done, begun and not done, or given up.
struct PastJob {
  enum class State { done, begun, given_up } state = State::done;
  std::int64_t entry = 0;
  build::Id id;
  std::string name;
  int stage = 1;
  Date date;
  int want = 0;
  std::int64_t minutes = 0, minutes_in_all = 0;  ///< planned: of the job, and with each of its removals
  std::optional<std::int64_t> taken;
  std::vector<std::string> remarks;
  std::string by = {};  ///< who recorded it; may be empty
};

/// A stage that is over, or the part of the one under way that has happened. A stage goes from the day after
/// the bench date before it up to its own.
struct PastStage {
  int number = 1;
  bool over = true;
  Date payday, bench;
  Money money_in;       ///< income, dated money, what came or went besides, what counting found
  Money planned, paid;  ///< of its purchases
  Money left;           ///< cash at its end: what was left before, and money_in, less paid
  std::int64_t minutes_planned = 0, minutes_taken = 0, minutes_limit = 0;  ///< taken: where it was said
  std::vector<std::string> remarks;  ///< dated money, what came or went, counts, remarks about nothing else
};

struct Past {
  Money opening;                        ///< cash before all of it, as the build file has it
  std::vector<PastStage> stages;        ///< by number, from 1, without gaps; empty: nothing has happened
  std::vector<PastPurchase> purchases;  ///< by stage, then supplier, day and entry
  std::vector<PastJob> jobs;            ///< by day, then entry
  std::set<std::pair<std::string, std::string>> told;  ///< remarks: what they are about, and their texts
  std::optional<Year> year{};                          ///< planned against paid; points to the build
};

/// What the log tells up to `day`, inclusive. Planned is by the build file as it is now. The last stage's
/// `left` is the cash on `day`. The build outlives the result. Throws MoneyOverflow where amounts leave the
/// range of money.
Past past_of(const build::Build& build, const log::Log& log, Date day);

}  // namespace fettlefund::planning
