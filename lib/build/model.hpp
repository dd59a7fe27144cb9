#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "budgets/problem/problem.hpp"
#include "budgets/values/date.hpp"
#include "budgets/values/money.hpp"
#include "budgets/values/paydays.hpp"

/// The build as its file describes it: names, ids, texts. What each key means is told in BUILD-FILE.md beside
/// this header. A Build that `read` returns is complete: every id resolves, every range holds.
namespace fettlefund::build {

using budgets::Date;
using budgets::Money;
using budgets::Quantity;  ///< thousandths of an article's unit

using Id = std::string;  ///< short word: letters, digits, hyphens

/// Where something stands in the build file; lines and columns count from 1, columns in bytes. 0: not from a
/// file.
struct Place {
  int line = 0;
  int column = 0;
};

/// A dated amount besides the paydays: positive comes in, negative goes out.
struct Extra {
  Date date;
  Money amount;
  std::string what;
};

struct MoneyPlan {
  Money opening;
  Money keep_back;
  Money amount;  ///< comes in on each payday, >= 0
  budgets::PaydayRule rule;
  std::set<Date> holidays;
  int stages = 0;  ///< 1 to 120
  std::vector<Extra> extras;
  std::int64_t allowance_bp = 0;  ///< hundredths of a percent, 0 to 10000
  // of a build under way only, never in a file
  std::optional<Date>
      from;             ///< planned from this day: `opening` is what is there then, and later paydays come
  int stages_over = 0;  ///< how many of `stages` are behind
};

struct BenchException {
  int stage = 0;  ///< counted from 1, as people do
  std::int64_t minutes = 0;
  std::string why;
};

/// An evening at the bench: every week on a weekday, or once on a date.
struct Session {
  std::optional<int> weekday;  ///< 0 Monday to 6 Sunday
  std::optional<Date> date;    ///< just one of the two is given
  std::int64_t minutes = 0;    ///< > 0, at most 24 h
};

/// Either hours and a bench date that every stage has, or sessions.
struct Bench {
  std::int64_t minutes = 0;                ///< each stage; without sessions only
  std::vector<BenchException> exceptions;  ///< with sessions: stages without bench time
  int days_after_payday = 0;               ///< see BenchTime in stages.hpp
  std::vector<Session> sessions;           ///< each weekday and each date once
  std::set<Date> no_sessions;              ///< days on which weekdays do not count
  std::int64_t bother = 30;                ///< want-days lost per hour of removals
  std::int64_t minutes_gone = 0;           ///< of the first stage that is not over; of a build under way only
};

/// Days from ordering to arrival: low <= likely <= high. The plan orders by `likely`; the others serve the
/// risk figures.
struct LeadSpread {
  int low = 0, likely = 0, high = 0;
};

struct Supplier {
  Id id;
  std::string name;
  Money delivery;
  std::optional<Money> free_from;
  int lead_days = 0;                      ///< the likely ones
  std::optional<LeadSpread> lead_spread;  ///< where given as a range
  Place place;
  Id open_order_of = {};  ///< of a build under way only: the supplier of whose open order it is the rest
};

/// low <= likely <= high. The plan pays `likely`; the others serve the risk figures.
struct Price {
  Money low, likely, high;
};

struct Offer {
  Id supplier;
  Price price;                              ///< one pack
  int lead_days = 0;                        ///< the likely ones: the offer's own, or its supplier's
  std::optional<Date> from, until;          ///< paydays on which it can be ordered, both inclusive
  std::optional<LeadSpread> lead_spread{};  ///< where the lead time is given as a range
};

enum class ArticleKind { part, consumable, tool };

struct DateRange {
  Date from, until;  ///< both inclusive
};

using Mates = std::map<Id, std::string>;  ///< key -> value, for example "chain-size" -> "520"

struct Article {
  Id id;
  std::string name;
  ArticleKind kind = ArticleKind::part;
  std::string unit = "piece";
  Quantity pack = 1000;
  std::optional<int> keeps_days;  ///< once opened
  std::vector<Offer> offers;
  Mates mates;
  std::vector<Id> serves;      ///< goods words of rules that this article satisfies, besides its id
  std::vector<Id> serves_for;  ///< jobs and removals it serves so; empty: any
  // tools only
  std::optional<Money> hire;                        ///< for a stage
  std::vector<DateRange> borrow;                    ///< can be had for nothing on bench dates in these ranges
  std::optional<std::string> range_from, range_to;  ///< marked torque range of a wrench, as written ("10 Nm")
  std::vector<std::string> sizes;                   ///< "36 mm socket"
  Place place;
};

/// Owned when the build starts. A tool is simply owned; other articles are a lot of stock.
struct OnHand {
  Id article;
  Quantity amount = 1000;
  std::optional<Date> opened;        ///< when its pack was opened: its keeping time runs from here
  std::optional<Date> arrives = {};  ///< on its way until then; of a build under way only
};

struct Use {
  Id article;
  Quantity amount = 0;
};

/// A tightening figure of the user's own, never of the tool.
struct Torque {
  std::string on;       ///< which fastener
  std::string value;    ///< as written, a figure with its unit: "85 Nm", "63 lbf ft"
  std::string source;   ///< where the figure comes from
  std::string pattern;  ///< "opposite pairs" or empty
  int fasteners = 1;
};

/// Something to measure or look at before the step counts as done.
struct Check {
  std::string what;
  std::string target;  ///< as written, with unit; may be empty
  std::string limits;
  bool whole = false;  ///< only once everything that its job or removal had off is back on
};

struct Step {
  std::string text;
  Id id;                      ///< may be empty
  std::vector<Id> after;      ///< steps of the same stage that must come before it
  bool helper = false;        ///< a second person holds or lifts
  Id fits = {};               ///< an article that its job uses or its removal spoils; may be empty
  std::string tightens = {};  ///< the fastener of a torque of its job or removal; may be empty
};

struct Removal {
  Id id;
  std::string name;
  std::int64_t minutes_off = 0, minutes_on = 0;
  std::vector<Id> needs;
  std::vector<Use> one_use;
  std::vector<Id> tools;
  std::vector<Torque> torques;  ///< tightened when it goes back on
  std::vector<Check> checks;
  std::vector<Step> off, on;
  std::vector<std::string> tags;
  bool helper = false;
  bool overnight = false;  ///< may stay off from one session to the next
  Place place;
  // of removals that `read` adds only, never in a file (see Job::takes_off)
  Id stands_for = {};     ///< the removal of the file that it stands for where both would be off
  bool for_good = false;  ///< nothing goes back on
  bool added = false;     ///< it stands in no file
};

struct Job {
  Id id;
  std::string name;
  std::string kind;         ///< of work, by its name in lib/trade; may be empty
  std::optional<int> want;  ///< 0 to 10; may be missing only where it renews a due part
  bool must = false;
  std::optional<Date> by, not_before;  ///< bench date, both inclusive
  std::int64_t minutes = 0;
  Money cost;  ///< paid in cash on the stage's payday (a fee, a service)
  std::vector<Id> removals, after, together_with;
  std::string one_of;  ///< group: at most one job of a group is done
  std::vector<Use> uses;
  std::vector<Id> tools;
  std::vector<Torque> torques;
  std::vector<Check> checks;
  std::vector<Step> steps;
  std::vector<std::string> tags;
  Mates mates;                  ///< what it puts on the machine
  std::vector<Id> replaced_by;  ///< jobs that take off again what this job fitted
  std::vector<Id> takes_off;    ///< removals that come off for good with it
  std::vector<Id> puts_on;      ///< removals that what it fits is taken off by: they stand in for `takes_off`
  std::vector<std::string> cautions;
  std::string manual;
  std::string note;
  bool helper = false;
  bool overnight = false;  ///< may be left half done from one session to the next
  Place place;
};

/// What is on the machine when the build starts.
struct Fitted {
  Id id;
  std::string name;
  std::optional<Date> since;
  std::optional<int> life_months;
  Mates mates;
  std::vector<Id> replaced_by;  ///< jobs that take it off for good
  std::vector<Id> reached_by;   ///< removals that lay it open
  Place place;
};

struct Clash {
  Id a, b;                 ///< each a job or a fitted thing
  std::vector<Id> unless;  ///< jobs that make them fit together
  std::string why;
  Place place;
};

/// A rule of the user's own, or a shipped one overridden by its id.
struct Rule {
  Id id;
  std::string tag;
  Id article;        ///< goods word or article id
  std::string name;  ///< of the article, for people; may be empty where the article is in the build
  Quantity amount = 1000;
  std::string unit = "piece";
  std::string why;
  Place place;
};

struct Silence {
  Id rule;
  Id only_for;          ///< job or removal; empty: everywhere
  std::string because;  ///< never empty
  Place place;
};

struct DriveEnd {
  int teeth_before = 0, teeth_after = 0;
  Id job;  ///< that changes it; may be empty
};

/// Geometry is floating point: it is never money.
struct DriveTrain {
  DriveEnd front, rear;
  std::string chain;  ///< designation, "520"
  int links_before = 0;
  Id chain_article;  ///< whose amount follows the links to buy; may be empty
  Id chain_job;
  double centre_mm = 0, centre_min_mm = 0, centre_max_mm = 0;
  std::string rounding = "up";  ///< "up" or "nearest" even number
  double primary = 1;
  std::vector<double> gears;
  std::string tyre;
  double rolling_factor = 1;
  std::string speedometer = "wheel";           ///< "wheel" or "gearbox"
  std::vector<double> speeds_kmh, engine_rpm;  ///< to tabulate
  std::optional<std::pair<double, double>> wanted_ratio;
  std::optional<std::pair<int, int>> front_range, rear_range;  ///< tooth counts to choose from
  Place place;
};

/// A job that was agreed for a bench date.
struct Agreed {
  Id job;
  Date bench;
};

/// Agreed jobs stay where they are unless moving one gains more than `keep_days`.
struct Agreement {
  std::vector<Agreed> jobs;
  std::int64_t keep_days = 0;  ///< want-days
};

struct Build {
  std::string file;         ///< as named by the user, for diagnostics
  std::string fingerprint;  ///< of the file's text; empty where it was not read from one
  std::string name;
  std::string about;
  budgets::Currency currency;
  MoneyPlan money;
  Bench bench;
  std::vector<Supplier> suppliers;
  std::vector<Article> articles;
  std::vector<OnHand> on_hand;
  std::vector<Removal> removals;
  std::vector<Job> jobs;
  std::vector<Fitted> fitted;
  std::vector<Clash> clashes;
  std::vector<Rule> rules;
  std::vector<Silence> silences;
  std::vector<std::string> cautions;  ///< of the user's own, for the whole build
  std::optional<DriveTrain> drive;
  // of a build under way only
  Agreement agreement;
  std::string log_id;           ///< of the log it stands by
  std::size_t log_entries = 0;  ///< how many entries that log had
};

}  // namespace fettlefund::build
