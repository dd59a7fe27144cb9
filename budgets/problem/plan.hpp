#pragma once
#include <compare>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "budgets/problem/problem.hpp"

namespace fettlefund::budgets {

/// How a stage buys, where not simply in the way cheapest for it.
struct Style {
  bool late = false;  ///< nothing on an earlier payday than the last on which it can be had
  /// What would go into a new order and pay its delivery joins other orders, those of earlier paydays too,
  /// where all of it can and it costs less.
  bool joined = false;
  friend auto operator<=>(const Style&, const Style&) = default;
};

/// The decisions: all else follows from them.
struct Schedule {
  std::vector<int> stage_of;     ///< one entry a job: its stage, or -1 if left out
  std::vector<int> tool_bought;  ///< one entry a tool: the stage for which it is bought (one that uses it, or
                                 ///< whose work has it in a set of which any will do), or -1
  /// How the first stages, one after another by themselves, are known to be bought for within the cash; those
  /// that follow in the cheapest way. `cost` has to find it among very many else. Entries beyond the stages
  /// count for nothing: another problem may have fewer.
  std::vector<Style> styles = {};
};

/// A line of an order. Exactly one of `article` and `tool` is >= 0.
struct OrderLine {
  int article = -1;
  int tool = -1;
  int offer = 0;           ///< index into the offers of that article or tool
  int for_stage = 0;       ///< the stage whose bench date needs it
  std::int64_t packs = 0;  ///< > 0
  Money amount;            ///< packs * price
};

/// What is bought from one supplier on one payday.
struct Order {
  int stage = 0;  ///< whose payday pays it
  int supplier = 0;
  std::vector<OrderLine> lines;  ///< by for_stage, then articles before tools, then index
  Money goods;
  Money delivery;  ///< zero when the goods reach the free-from amount
};

/// What one stage comes to.
struct StageCost {
  std::vector<int> jobs;              ///< ascending
  std::vector<int> opened;            ///< removals, ascending
  std::vector<int> hired;             ///< tools, ascending
  Money goods, delivery, hire, fees;  ///< fees: the jobs' and removals' own cost
  Money allowance;                    ///< for the unforeseen, rounded up
  Money spent;                        ///< the sum of the five above
  Money cash_after;                   ///< after this payday's income and spending
  std::int64_t job_minutes = 0;
  std::int64_t removal_minutes = 0;
};

/// A schedule with everything that follows from it.
struct Plan {
  Schedule schedule;
  std::vector<StageCost> stages;
  std::vector<Order> orders;  ///< by stage, then supplier
  std::int64_t value = 0;     ///< worth of the jobs done less bother; the measure of rule 9
  Money spent;                ///< over all stages; the first tie-break (less is better)
  std::int64_t minutes = 0;   ///< over all stages; the second tie-break (less is better)
};

/// How good a plan is: more value, then less money, then less bench time. Positive if `a` is better than `b`.
int compare(const Plan& a, const Plan& b);

/// A rule of planning, for reports of what a schedule breaks.
enum class Rule {
  window,  ///< before `earliest` or after `latest`, or an index out of range
  must,    ///< a must is left out
  order,   ///< `after`
  one_of,
  together,
  hours,
  cash,   ///< less than the floor left
  goods,  ///< an article cannot arrive in time, or has no offer
  tool,   ///< neither free, bought nor hireable; or bought for a stage that does not use it
  mate,
  clash,
  accounts,  ///< a recorded figure is not what follows from the decisions (verifier only)
};

struct Violation {
  Rule rule = Rule::accounts;
  int stage = -1;    ///< where it shows, or -1
  int index = -1;    ///< job, article, tool, mate key or clash concerned, or -1
  Money amount;      ///< cash: how much is short
  std::string what;  ///< in words, with indices; for internal errors and tests
};

/// Costs a schedule by the rules of planning. Needs are met from lots that are usable on the bench date, the
/// earliest use_by first, then from new packs. All packs of an article that a stage buys are one line, and
/// come from one offer, as does a tool.
///
/// *A way of buying* gives every line of the schedule an offer and a payday: the offer's `order_stage`, or,
/// if the supplier charges delivery, an earlier payday on which the offer can be ordered, as long as the
/// order so joined has a line that cannot wait (one at its own `order_stage`). To order anything else early
/// would only be to pay early; the allowance's rounding is never a reason for it.
///
/// Of the ways that leave the floor on every payday that one is taken which costs least (`Plan::spent`);
/// among equals the one with less before the allowance, then the one that pays less on the first payday at
/// which two differ, then the lowest offer indices, the same offer as late as may be (lines by stage,
/// articles before tools, ascending; the first that differs decides). All ways count where they are few, as
/// they are where few offers compete or few orders can be shared; else only the most promising are followed
/// (see budgets/README.md), and never less than: each stage bought in its own cheapest way, and in the
/// schedule's styles.
///
/// Of a set of tools of which any will do one is hired where none of them is used anyway, free or bought by
/// then: as cheaply as may be for all of the stage's sets together (see hired_of in tools.hpp).
///
/// Returns the plan, or what the schedule breaks (at least one entry; a lack of cash as it shows in the way
/// that lacks least). Throws MoneyOverflow never for a valid Problem.
std::variant<Plan, std::vector<Violation>> cost(const Problem& problem, const Schedule& schedule);

/// Recomputes every rule from the problem and the plan's decisions and orders, sharing no code with `cost` or
/// the search. Empty result: the plan keeps all rules and all its figures are right. (That no *better way of
/// buying* keeps them too is checked by exhaustion where the whole plan has at most 4096 ways, else for ways
/// that differ in one line.)
std::vector<Violation> verify(const Problem& problem, const Plan& plan);

}  // namespace fettlefund::budgets
