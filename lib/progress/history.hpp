#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/log/entry.hpp"

/// What a log says has happened up to a day.
namespace fettlefund::planning {

using budgets::Date;
using budgets::Money;

/// What the key of a shopping line names.
struct ShoppingKey {
  enum class Kind { article, delivery, hire, fee, other } kind = Kind::other;
  build::Id id;   ///< article, supplier, tool or job; empty for `other`
  int stage = 0;  ///< from 1; 0: none
};

/// "<article>@<stage>", "<article>@<stage>#rule", "delivery:<supplier>@<stage>", "hire:<tool>@<stage>" and
/// "fee:<job>@<stage>"; whether such an id exists is not looked at. Everything else is `other`.
ShoppingKey read_key(const std::string& key);

struct Bought {
  std::string key;
  ShoppingKey what;
  std::int64_t packs = 0;
  Money paid;  ///< as corrected last
  Date date;
  std::int64_t number = 0;   ///< of the entry
  Date arrives;              ///< the date itself where the log does not say
  build::Id supplier = {};   ///< as recorded; may be empty
  Money rest = {};           ///< still to be paid
  Date rest_on = {};         ///< when
  std::int64_t ordered = 0;  ///< packs as recorded; `packs` are less by what is gone since
  std::vector<std::pair<std::string, std::int64_t>> gone =
      {};                  ///< how, and how many packs, in the log's order
  bool came = false;       ///< somebody said that it has arrived
  Money settled = {};      ///< of the rest: paid since, on days of its own
  Money rest_in_all = {};  ///< the rest as it was recorded or, once it is paid, as it was paid
};

/// Packs that are gone and were not bought: of what was on hand at the start.
struct GoneFromStock {
  build::Id article;
  std::int64_t packs = 0;
};

/// Work on a job that is not done.
struct BegunWork {
  build::Id job;
  Date date;
  std::int64_t minutes = 0;
  std::optional<std::int64_t> rest;
};

struct GivenUp {
  build::Id job;
  Date date;
};

struct Done {
  build::Id job;
  Date date;
  std::optional<std::int64_t> minutes;
};

/// A corrected amount: what was paid more (or less) than was said before.
struct Correction {
  Date bought, date;                      ///< when it was bought, when it was corrected
  std::int64_t purchase = 0, number = 0;  ///< the entries of both
  Money more;
};

struct Count {
  Date date;
  std::int64_t number = 0;
  Money cash;
};

/// Money that came or went besides income, dated money and purchases.
struct MovedMoney {
  Date date;
  std::int64_t number = 0;
  Money amount;
  std::string text;
};

/// What the opening cash, income and dated money came to up to a day, as recorded then.
struct Brought {
  Date date;
  Money amount;
};

struct History {
  std::vector<Bought> bought;           ///< by date, then number
  std::vector<Done> done;               ///< by date, then number; each job once, the first entry
  std::vector<Correction> corrections;  ///< by number
  std::vector<MovedMoney> moved;        ///< by number; with what came back and what rests were paid
  std::vector<GoneFromStock> gone;      ///< by number
  std::vector<BegunWork> begun;         ///< by number; of jobs that are fitted too
  std::vector<GivenUp> given_up;        ///< by number
  std::optional<Count> count;           ///< the last: by date, then number
  std::vector<build::Agreed> agreed;    ///< the last plan agreed, by number
  std::optional<Date> agreed_on;
  std::optional<Brought> brought;           ///< of the latest day
  std::optional<Brought> brought_at_count;  ///< of the latest day up to the count
  std::vector<Brought> purse_brought;       ///< by number, of undone entries too: what the purse brought
  std::size_t counted = 0;                  ///< entries looked at
  std::size_t later = 0;                    ///< entries after the day, left out
};

inline constexpr Date last_date{2'932'896};  ///< 9999-12-31, the last that can be typed: no entry is later

/// The entries that count (not undone) and are dated up to `day`. A corrected amount is spread over several
/// purchases of one key as if all of it was paid with the first.
History history_of(const log::Log& log, Date day);

/// What is recorded of it on the latest day up to `day`, by undone entries too: nothing undoes income.
std::optional<Brought> brought_up_to(const log::Log& log, Date day);

/// The latest date of an entry that counts; nothing if none does.
std::optional<Date> last_day(const log::Log& log);

/// What does not fit together: entries that name jobs, articles, suppliers or tools that the build does not
/// have, corrections of what was never bought, jobs fitted twice (warnings, each with the entry's line in the
/// log); amounts in another currency (an error).
std::vector<build::Diagnostic> check_log(const build::Build& build, const log::Log& log);

}  // namespace fettlefund::planning
