#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "budgets/solve.hpp"
#include "lib/build/model.hpp"
#include "lib/goods/forgotten.hpp"
#include "lib/graph/cautions.hpp"
#include "lib/graph/work_order.hpp"

/// The plan in the builder's words: what reports, sheets and calendars show. Everything here is derived from
/// a Build and a Result once, so that no two outputs can disagree.
namespace fettlefund::planning {

using budgets::Date;
using budgets::Money;
using budgets::Quantity;
using build::Id;
using goods::NeededBy;
using goods::Reminder;
using graph::Caution;
using graph::StepKind;
using graph::WorkStep;

/// One line to buy. `key` names it in the workbook and the log and does not change when rows move or prices
/// change:
/// "<article>@<stage it is for>" (stages from 1), with a further "#rule" where a rule added it.
struct ShoppingLine {
  std::string key;
  Id article;
  std::string name;
  build::ArticleKind kind = build::ArticleKind::part;
  int stage = 0;      ///< whose payday pays, from 0
  int for_stage = 0;  ///< whose bench date needs it, from 0
  std::int64_t packs = 0;
  Quantity pack = 1000;
  std::string unit;
  Money price;                         ///< of one pack
  Money amount;                        ///< packs * price
  Date arrives;                        ///< payday + lead time
  std::optional<Date> last_order_day;  ///< where the offer ends (limited run)
  std::vector<NeededBy> needed_by;
  std::string reason;  ///< where a rule added it: why it is easily forgotten; else empty
};

struct OrderView {
  int stage = 0;
  Id supplier;
  std::string supplier_name;
  std::vector<ShoppingLine> lines;
  Money goods, delivery;
  std::optional<Money> free_from;  ///< the supplier's free-from amount
  Money delivery_charge;           ///< what it would be below that amount
  Id terms = {};  ///< the supplier, or "<supplier>@<stage>" for what joins an order that is out already
};

struct HireLine {
  Id tool;
  std::string name;
  Money amount;
};

struct FeeLine {
  Id job;
  std::string name;
  Money amount;
};

inline constexpr const char* from_the_house = "in the house already";

/// An article that a stage uses up or fits.
struct UsedLine {
  Id article;
  std::string name, unit;
  Quantity amount = 0;
  Quantity left = 0;              ///< usable after the bench date, what is bought for later stages apart
  std::vector<std::string> from;  ///< where it comes from, in words: orders, or `from_the_house`
  std::vector<NeededBy> needed_by;
};

/// A tool to lay out for a stage.
struct StageTool {
  Id id;  ///< empty: no tool of the build covers it
  std::string name;
  std::string
      how;  ///< "owned", "borrowed", "hired", "bought for this stage", "bought for stage 2", "not covered"
};

struct JobView {
  Id id;
  std::string name;
  int want = 0;  ///< 0 where only due wants count
  bool must = false;
  std::int64_t minutes = 0;
  std::string manual = {}, note = {};  ///< as in the build file
  std::vector<build::Use> uses = {};
};

struct RemovalView {
  Id id;
  std::string name;
  std::int64_t minutes = 0;
  std::vector<std::string> for_jobs;  ///< names of the jobs that share it in this stage
  bool for_good = false;              ///< it does not go back on
};

/// A fitted part past its service life that lies open in a stage.
struct DuePart {
  Id fitted;
  std::string name;
  int stage = 0;
  Date due;
  int overdue_months = 0;  ///< at the bench date, rounded down; may be negative: due within the plan
  Id job;                  ///< that renews it, or empty
  bool chosen = false;     ///< the plan renews it in this stage
  /// Of renewing it in this stage beyond the rest of the stage's plan (see ExtraOf of due_extra.hpp). Nothing
  /// where no job renews it; no money where something it needs cannot be had in time.
  std::optional<Money> extra_money;
  std::optional<std::int64_t> extra_minutes;
  std::optional<int> renewed_in = {};  ///< the stage (from 0) in which the plan renews it
};

/// One evening of a stage, and how far the work order gets in it.
struct SessionView {
  Date date;
  std::int64_t minutes = 0;         ///< that there are
  std::int64_t used = 0;            ///< of them
  int first_step = 0;               ///< number of the step it begins with, or goes on with; 0: no work
  int last_step = 0;                ///< with which it ends, finished or not
  bool goes_on = false;             ///< the last step is finished in a later session
  std::vector<std::string> jobs;    ///< names of those it works on; of its removals where it works on none
  std::vector<std::string> open;    ///< what stays off or half done overnight, as the build says it may
  std::vector<std::string> unsaid;  ///< the same where the build does not say that it may
  std::vector<std::string> late;    ///< jobs that it ends after their day, as the work asks for it
};

struct StageView {
  int number = 0;                     ///< from 1
  Date payday, bench;                 ///< of sessions the first that counts on goods
  Date last;                          ///< session; `bench` where there are none
  bool by_sessions = false;           ///< the build gives bench time as sessions
  std::vector<SessionView> sessions;  ///< ascending; empty where the build gives hours and a bench date
  Money payday_amount;                ///< the regular amount
  std::vector<build::Extra> extras;   ///< dated since the previous payday
  Money cash_in;                      ///< both together
  Money goods, delivery, hire, fees, allowance, spent, cash_after, floor;
  std::int64_t minutes_used = 0, minutes_limit = 0;
  std::string bench_note;             ///< why the hours differ, if they do
  std::vector<JobView> jobs;          ///< in the order of the work
  std::vector<RemovalView> removals;  ///< in the order in which they come off
  std::vector<OrderView> orders;
  std::vector<HireLine> hires;
  std::vector<FeeLine> fee_lines;
  std::vector<Reminder> reminders;
  std::vector<WorkStep> work;
  std::vector<Caution> cautions;  ///< in full; their short lines stand at the steps
  std::vector<UsedLine> used;     ///< in file order of the articles
  std::vector<StageTool> tools;   ///< in file order, then who helps, then what is not covered
  std::vector<DuePart> while_off;
  std::vector<std::string> groups;  ///< why some jobs share the stage, in words
};

struct LeftOut {
  Id job;
  std::string name;
  std::string reason;  ///< in words, what is known cheaply
};

struct ToolView {
  Id id;
  std::string name;
  std::string how;  ///< "owned", "borrowed", "bought in stage 3", "hired in stages 2, 5", "not covered"
  int first_stage = -1;
  Money amount;
  std::vector<std::string> used_for;
};

/// An agreed job that the plan of a build under way puts elsewhere, or leaves out.
struct Move {
  Id job;
  std::string name;
  Date agreed_bench;
  int stage = -1;                    ///< where it is now, or -1
  Date bench;                        ///< of that stage
  std::vector<std::string> reasons;  ///< in words, each of them checked; at least one
};

/// "Fit the lamp: from bench 2027-02-04 to stage 3 (bench 2027-03-04): REASON; REASON."
std::string move_text(const Move& move);

enum class Proof { proven, stopped };

/// Stages are those to come. Fields that name a stage (`stage`, `for_stage`, `first_stage`) count from 0 over
/// the whole build; the first of `stages` is number build->money.stages_over there.
struct Outcome {
  const build::Build* build = nullptr;  ///< not owned; outlives the outcome
  Proof proof = Proof::proven;
  std::string purse;        ///< of whose plan this is a part, of which nothing is proven; empty: of none
  bool ties_proven = true;  ///< proven also to be the cheapest, then the quickest, of the best plans
  std::int64_t value_want_days = 0;  ///< of the plan, bother taken off, rounded towards zero
  std::int64_t bound_want_days = 0;  ///< no plan has more; rounded up, but where the plan is proven its own
                                     ///< value_want_days. Where jobs are agreed: no plan that leaves as many
                                     ///< of them in their places has more
  budgets::Work work;
  Date end;  ///< of the plan: want is counted up to here
  std::vector<StageView> stages;
  std::vector<LeftOut> left_out;
  int agreed_kept = 0;  ///< agreed jobs that stay where they are
  std::vector<Move>
      moves;  ///< of agreed jobs, by the agreed bench date; as they were agreed, then those closed
  std::vector<std::string> so_far;  ///< what the log changed, in words; empty: nothing has happened yet
  std::vector<ToolView> tools;
  std::vector<std::string> warnings;
  std::vector<Caution> cautions;  ///< for the whole build
  std::vector<std::string> assumptions;
  Money spent;
  Money left;  ///< cash after the last payday
};

}  // namespace fettlefund::planning
