#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "budgets/values/date.hpp"
#include "budgets/values/money.hpp"
#include "lib/build/model.hpp"

/// What has happened, one entry each. How entries stand in a file is told in LOG-FILE.md beside this header.
namespace fettlefund::log {

using budgets::Date;
using budgets::Money;
using build::Id;

inline constexpr std::int64_t most_packs = 1'000'000;
inline constexpr std::int64_t most_minutes = 600'000;          ///< 10,000 hours
inline constexpr std::int64_t most_minor = 1'000'000'000'000;  ///< either way, as in a build file
inline constexpr std::size_t longest_key = 200;                ///< bytes
inline constexpr std::size_t longest_remark = 4000;            ///< characters
inline constexpr std::size_t longest_name = 60;                ///< characters, of who recorded an entry

/// A line of the shopping list was bought and paid on the entry's date. Keys are those of the shopping list:
/// "<article>@<stage>", "delivery:<supplier>@<stage>", "hire:<tool>@<stage>", "fee:<job>@<stage>" and others.
struct Bought {
  std::string key;
  std::int64_t packs = 1;            ///< 1 to most_packs
  Money paid;                        ///< for all packs together
  std::optional<Date> arrives = {};  ///< nothing: it was there at once
  Id supplier = {};                  ///< whom it was ordered from; empty where it is not known
  Money rest = {};                   ///< still to be paid: `paid` is a deposit; >= 0
  std::optional<Date> rest_on = {};  ///< when; nothing: when it arrives
};

/// What was paid for `key` in all is `amount`, whatever was said before. It counts on the day it was bought.
struct Paid {
  std::string key;
  Money amount;
};

/// A job was done on the entry's date.
struct Fitted {
  Id job;
  std::optional<std::int64_t> minutes = {};  ///< with taking off and putting back; nothing: as planned
};

/// The cash there was on the entry's date, all that is recorded up to here and not dated later paid already.
struct Counted {
  Money cash;
};

/// The plan that was agreed: these jobs on these bench dates. It takes the place of what was agreed before.
struct AgreedPlan {
  std::vector<build::Agreed> jobs;
};

struct Remark {
  std::string about;  ///< a key or an id; may be empty
  std::string text;   ///< line breaks allowed, not empty
};

/// Money that came (above zero) or went (below) on the entry's date, besides income, dated money and
/// purchases: something sold, a refund, cash taken out.
struct Moved {
  Money amount;      ///< not zero
  std::string text;  ///< what it was; not empty
};

/// What was still to be paid for `key` is paid, so much of it, on the entry's date.
struct Balance {
  std::string key;
  Money amount;  ///< >= 0
};

/// Packs of an article that are there, or were to come, and no longer are.
struct Gone {
  Id article;
  std::int64_t packs = 1;  ///< 1 to most_packs
  std::string how;         ///< one of `ways_to_go`
  Money back = {};         ///< came back for it on the entry's date; >= 0
  std::string key = {};    ///< of the purchase that they are of; empty: what was bought last goes first
};

/// A job is begun: so much bench time went into it on the entry's date, and so much is left of it.
struct Begun {
  Id job;
  std::int64_t minutes = 0;
  std::optional<std::int64_t> rest = {};  ///< nothing: what was planned less what went into it
};

/// A job will not be done any more.
struct GivenUp {
  Id job;
};

/// What was bought under `key` arrives on that day, whatever was said before: on the entry's date where it
/// has arrived.
struct Arrives {
  std::string key;
  Date on;
};

/// Entry `entry` counts no more. An undo itself is never undone: what was undone is recorded anew.
struct Undo {
  std::int64_t entry = 0;
};

/// "sent-back", "lost", "broken", "never-came".
const std::vector<std::string>& ways_to_go();

using Event = std::variant<Bought, Paid, Fitted, Counted, AgreedPlan, Remark, Undo, Moved, Balance, Gone,
                           Begun, GivenUp, Arrives>;

/// Something to be appended.
struct NewEntry {
  Date date;
  Event event;
  std::optional<Money> brought = {};        ///< as in Entry
  std::string by = {};                      ///< as in Entry
  std::optional<Money> purse_brought = {};  ///< as in Entry
};

struct Entry {
  std::int64_t number = 0;  ///< from 1, without gaps
  Date date;
  Event event;
  /// What the opening cash, income and dated money of the build came to up to the date, both inclusive, when
  /// the entry was written: it stays so whatever becomes of the build file.
  std::optional<Money> brought = {};
  std::string id = {};  ///< sixteen hexadecimal digits that are its own, in whatever log it stands
  /// Ids of lines that told the same in another log that was merged with this one.
  std::vector<std::string> also = {};
  std::string by = {};  ///< who recorded it, as they call themselves; empty: not said
  /// The same as `brought` of the purse that the build belongs to.
  std::optional<Money> purse_brought = {};
};

struct Log {
  std::string file;        ///< as named by the user
  std::string build_name;  ///< when the log was begun
  std::string id;          ///< of this log: eight hexadecimal digits, whatever is planned
  budgets::Currency currency;
  std::vector<Entry> entries;  ///< by number
};

/// Whether the entry counts: it is no undo and was not undone.
std::vector<bool> effective(const Log& log);

/// A build's log: of "NAME.build" and "NAME.xlsx", a form, "NAME.record"; of any other name that and
/// ".record".
std::string path_for(const std::string& build_path);

/// Where earlier versions kept it: with ".log", a name that clean-up and ignore rules drop.
std::string older_path_for(const std::string& build_path);

/// "bought", "paid", "fitted", "counted", "agreed", "remark", "undo", "money", "balance",
/// "gone", "begun", "given-up", "arrives".
std::string_view kind_of(const Event& event);

/// An entry in words, without its number and date: "bought tyre@2, 1 pack, 109.00 EUR".
std::string in_words(const Event& event, const budgets::Currency& currency);

/// Why an event cannot stand in a log: a key or text that is empty, too long or no text, an amount out of
/// range. Empty: it can.
std::string fault_of(const Event& event);

/// Why a name cannot stand in a log as who recorded an entry. Empty: it can, or there is none.
std::string fault_of_name(const std::string& by);

/// ", by Anna" behind an entry's words; empty where nobody is named.
std::string by_words(const std::string& by);

}  // namespace fettlefund::log
