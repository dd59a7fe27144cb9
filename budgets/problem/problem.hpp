#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "budgets/values/date.hpp"
#include "budgets/values/money.hpp"

/// The staging problem: which jobs to do at which payday so that the most worth is enjoyed, within cash and
/// bench time. Everything is an index or an integer; names live in `lib`. Indices start at 0.
namespace fettlefund::budgets {

/// An amount of an article, in thousandths of its unit (1500 = 1.5 m of hose). Never negative.
using Quantity = std::int64_t;

struct Need {
  int article = 0;
  Quantity amount = 0;  ///< > 0
};

/// How much of a stage's bench time there is up to and including a day.
struct Mark {
  Date day;
  std::int64_t minutes = 0;
};

/// One payday and the bench time until the next: on one day, or on several, of which `bench` is the first.
struct Stage {
  Date payday;    ///< strictly increasing over the stages
  Date bench;     ///< payday <= bench, and before the next stage's payday; goods are there by then
  Money cash_in;  ///< all money dated after the previous payday and up to this one; may be negative
  Money floor;    ///< least cash that must be left after this payday's spending (keep-back + bills before the
                  ///< next payday)
  std::int64_t minutes = 0;  ///< bench time, >= 0
  /// The last day of its bench time, before the next stage's payday: goods must keep up to it, jobs count as
  /// done on it. Nothing: `bench`.
  std::optional<Date> last = {};
  /// Bench time up to days before the last: days and minutes strictly increasing, from `bench` on, minutes
  /// from 0 to those of the stage.
  std::vector<Mark> marks = {};

  Date last_day() const { return last.value_or(bench); }
};

struct Job {
  std::vector<std::int64_t> worth;  ///< one entry a stage: earned if the job is done in that stage; >= 0
  Money cost;                       ///< paid in cash on the stage's payday, besides articles; >= 0
  std::int64_t minutes = 0;         ///< >= 0, without removals
  std::vector<int> removals;        ///< must be open; what these need is opened as well
  std::vector<int> after;           ///< jobs done in an earlier stage or in the same one; acyclic
  std::vector<Need> needs;          ///< articles used up or fitted
  std::vector<int> tools;
  int earliest = 0;   ///< first stage allowed; the number of stages means never
  int latest = -1;    ///< last stage allowed; -1 means the last stage; before `earliest` means never
  bool must = false;  ///< must be done within [earliest, latest]
  std::vector<std::vector<int>> any_tools = {};  ///< of each of these sets one tool at least; none is empty
  /// Where this day lies within the bench time of the stage in which it is done, the stage's time up to then
  /// must hold it (see overdue_in).
  std::optional<Date> by = {};
  int rank = 0;  ///< see ProblemData
};

/// Something that comes off and goes back on. Charged once in each stage in which it is opened.
struct Removal {
  Money cost;                 ///< >= 0
  std::int64_t minutes = 0;   ///< off and on together, >= 0
  std::vector<int> needs;     ///< removals that must come off before it; acyclic
  std::vector<Need> one_use;  ///< articles spoilt each time it is opened
  std::vector<int> tools;
  std::vector<std::vector<int>> any_tools = {};  ///< as those of a job
  int rank = 0;                                  ///< see ProblemData
};

struct Supplier {
  Money delivery;                  ///< charge for an order, >= 0
  std::optional<Money> free_from;  ///< an order whose goods reach this amount pays no delivery
  int rank = 0;                    ///< see ProblemData
};

struct Offer {
  int supplier = 0;
  Money price;                ///< for one pack, >= 0
  int lead_days = 0;          ///< an order of payday p arrives on day p + lead_days
  std::optional<Date> from;   ///< first payday on which it can be ordered
  std::optional<Date> until;  ///< last payday on which it can be ordered (inclusive)
};

/// Stock on hand of an article. A lot without `use_by` of an article with `keeping_days` is closed: it goes
/// off once opened, as what is bought does. Closed lots that are there count as one; what is taken from them
/// beyond whole packs opens a pack (one that is not whole first), and the rest of that pack is usable up to
/// the bench date + keeping_days. Where a stage's bench time has several days, it must keep up to the last.
/// Closed packs are used after what is open.
struct Lot {
  Quantity amount = 0;  ///< > 0
  std::optional<Date>
      use_by;  ///< usable on bench dates up to and including this day; nothing: for ever or closed
  std::optional<Date> from = {};  ///< and not before this day: it is on its way; nothing: it is there
};

struct Article {
  Quantity pack = 1000;  ///< sold in whole packs of this amount; > 0
  std::optional<int>
      keeping_days;  ///< what is left of a pack opened on bench date b is usable up to b + keeping_days
  std::vector<Lot> on_hand;
  std::vector<Offer> offers;  ///< may be empty: then only stock on hand serves
};

/// A durable: once bought it serves every later stage. Where it is neither free nor bought it must be hired.
struct Tool {
  std::vector<char> free;     ///< one entry a stage: owned or borrowed then (no cost); empty means never
  std::vector<Offer> offers;  ///< ways to buy it; may be empty
  std::optional<Money> hire;  ///< for each stage in which it is hired; nothing: cannot be hired
};

/// Something on the machine that carries mates. Present from the start (`brought_by` = -1) or once that job
/// is done; gone once any job of `replaced_by` is done in that job's stage or later.
struct Carrier {
  int brought_by = -1;
  std::vector<int> replaced_by;
  struct Mate {
    int key = 0;
    int value = 0;
  };
  std::vector<Mate> mates;  ///< all present carriers of a key must have one value at the end of each stage
};

/// Carriers a and b may be present together at the end of a stage only if one job of `adapted_by` is done.
struct Clash {
  int a = 0;
  int b = 0;
  std::vector<int> adapted_by;  ///< empty: never together
};

/// Worth that several jobs can earn, and only one does: the first of them that is done; of several in one
/// stage the one that earns most.
struct Renewal {
  std::vector<int> jobs;                         ///< each once
  std::vector<std::vector<std::int64_t>> worth;  ///< [place in jobs][stage] besides the job's own; >= 0
};

/// The data of a problem, to be filled in freely and then handed to Problem.
///
/// Of plans that are equally good, and where a search cannot go through all, it is the order of the entries
/// that decides. Solver takes jobs, removals and suppliers in the order of their ranks, whatever the order of
/// the lists (equal ranks as listed), and lists of indices as sets; so do not depend on it: which plan it
/// finds, and what it says of demands that conflict. Articles, tools, their offers and lots, and carriers it
/// takes as listed.
struct ProblemData {
  Money opening;                  ///< cash before the first payday
  std::int64_t allowance_bp = 0;  ///< added to each stage's spending, basis points, rounded up; 0 to 10000
  std::int64_t bother = 0;        ///< worth lost per minute of removals, >= 0
  std::vector<Stage> stages;
  std::vector<Job> jobs;
  std::vector<Removal> removals;
  std::vector<Supplier> suppliers;
  std::vector<Article> articles;
  std::vector<Tool> tools;
  std::vector<Carrier> carriers;
  std::vector<Clash> clashes;
  std::vector<std::vector<int>> one_of;    ///< of each group at most one job is done
  std::vector<std::vector<int>> together;  ///< the jobs of a group are done in one stage, or none of them
  std::vector<Renewal> renewals;
};

/// An immutable, validated staging problem, with what every user of it would otherwise compute again.
class Problem {
 public:
  /// Throws std::invalid_argument naming the field and index of the first broken rule: an index out of range,
  /// a negative amount, a cycle, dates out of order, or amounts so large that a sum could leave 64 bits: no
  /// plan may be able to move more than 10^14 minor units of money (income apart: the same again), earn or
  /// lose 10^14 of worth, take 10^12 minutes or use 10^15 thousandths of articles; times are 0 to 10^6 days.
  explicit Problem(ProblemData data);

  const ProblemData& data() const { return data_; }
  int stage_count() const { return static_cast<int>(data_.stages.size()); }
  int job_count() const { return static_cast<int>(data_.jobs.size()); }
  int removal_count() const { return static_cast<int>(data_.removals.size()); }

  /// All removals that job `j` opens: its own and all they need, sorted.
  const std::vector<int>& opened_by(int job) const { return opened_by_[job]; }
  /// `latest` of the job with -1 resolved.
  int latest(int job) const { return latest_[job]; }
  /// Jobs in an order in which `after` points backwards; among equals by index.
  const std::vector<int>& order() const { return order_; }
  /// Of a job with a day `by`: itself and all that must be done before it or with it (`after`, `together`,
  /// directly or through others), sorted. Of others nothing.
  const std::vector<int>& due_with(int job) const { return due_with_[job]; }

 private:
  ProblemData data_;
  std::vector<std::vector<int>> opened_by_;
  std::vector<int> latest_;
  std::vector<int> order_;
  std::vector<std::vector<int>> due_with_;
};

/// The latest payday (stage index) on which `offer` can be ordered so that it arrives by the bench date of
/// `stage`; -1 if there is none. The result is <= `stage`.
int order_stage(const ProblemData& data, const Offer& offer, int stage);

/// The earliest such payday; -1 if there is none.
int first_order_stage(const ProblemData& data, const Offer& offer, int stage);

/// More is due by a day within a stage's bench time than the time up to then holds.
struct Overdue {
  Date day;
  std::int64_t minutes = 0;  ///< that what is due takes
  std::int64_t room = 0;     ///< that there are
};

/// Rule of the days within a stage. On each day from the stage's bench date to the day before its last, what
/// is due by then (jobs whose `by` lies from the bench date to that day, with what they must be done after or
/// together with in the same stage, and all removals that these open) takes no more than the bench time up to
/// then: that of the last mark not after the day, or none.
/// The first day that breaks the rule where just `jobs` are done in `stage`.
std::optional<Overdue> overdue_in(const Problem& problem, int stage, const std::vector<int>& jobs);

/// What a renewal earns where each job is done in that stage (-1: left out).
std::int64_t worth_of(const Renewal& renewal, const std::vector<int>& stage_of);

/// Whether some order from the supplier pays its delivery.
bool charges_delivery(const Supplier& supplier);

}  // namespace fettlefund::budgets
