#include "budgets/costing/costing.hpp"

#include <algorithm>
#include <utility>

#include "budgets/costing/basket_style.hpp"
#include "budgets/costing/costing_rules.hpp"
#include "budgets/costing/shopping.hpp"
#include "budgets/problem/tools.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets {
namespace {

using Broken = std::vector<Violation>;

std::string number(std::int64_t value) { return std::to_string(value); }

/// Builds the plan of one schedule of the right shape, noting what it breaks.
class Account {
 public:
  Account(const Problem& problem, const Buyer& buyer, const Schedule& schedule, Broken& broken)
      : problem_(problem),
        data_(problem.data()),
        buyer_(buyer),
        broken_(broken),
        stores_(buyer.opening_stores()) {
    plan_.schedule = schedule;
    list_.styles = schedule.styles;
    plan_.stages.resize(data_.stages.size());
  }

  Plan take(bool tell);
  std::int64_t work() const { return work_; }

 private:
  void place_jobs();
  void open_removals(StageCost& stage);
  void charge_time(int t);
  void provide_tools(int t);
  void check_bought(int t, const ToolNeeds& needs);
  bool had(int t, int tool) const;
  void hire(int t, int tool);
  void list(int t);
  void shop(bool tell);
  void enter(const Purchase& purchase);
  void report_missing(int t, const OrderLine& line);
  void total_orders();
  void settle();

  const Problem& problem_;
  const ProblemData& data_;
  const Buyer& buyer_;
  Broken& broken_;
  Stores stores_;
  ShoppingList list_;
  Plan plan_;
  std::int64_t work_ = 0;
};

void Account::place_jobs() {
  for (int j = 0; j < problem_.job_count(); ++j) {
    const int stage = plan_.schedule.stage_of[j];
    if (stage < 0) continue;
    plan_.stages[stage].jobs.push_back(j);
    plan_.stages[stage].fees += data_.jobs[j].cost;
    plan_.stages[stage].job_minutes += data_.jobs[j].minutes;
    plan_.value += data_.jobs[j].worth[stage];
  }
  for (const Renewal& renewal : data_.renewals) plan_.value += worth_of(renewal, plan_.schedule.stage_of);
}

void Account::open_removals(StageCost& stage) {
  for (int j : stage.jobs) {
    stage.opened.insert(stage.opened.end(), problem_.opened_by(j).begin(), problem_.opened_by(j).end());
  }
  sort_unique(stage.opened);
  for (int r : stage.opened) {
    stage.fees += data_.removals[r].cost;
    stage.removal_minutes += data_.removals[r].minutes;
  }
  plan_.value -= data_.bother * stage.removal_minutes;
}

void Account::charge_time(int t) {
  const StageCost& stage = plan_.stages[t];
  const std::int64_t minutes = stage.job_minutes + stage.removal_minutes;
  plan_.minutes += minutes;
  if (const auto late = overdue_in(problem_, t, stage.jobs)) {
    broken_.push_back({Rule::hours,
                       t,
                       -1,
                       {},
                       "what is due by day " + number(late->day.days) + " in stage " + number(t) + " takes " +
                           number(late->minutes) + " minutes of " + number(late->room)});
  }
  if (minutes <= data_.stages[t].minutes) return;
  broken_.push_back({Rule::hours,
                     t,
                     -1,
                     {},
                     "stage " + number(t) + " takes " + number(minutes) + " minutes of " +
                         number(data_.stages[t].minutes)});
}

void Account::provide_tools(int t) {
  StageCost& stage = plan_.stages[t];
  const ToolNeeds needs = tool_needs(data_, stage.jobs, stage.opened);
  for (int tool : needs.tools) {
    if (!had(t, tool)) hire(t, tool);
  }
  if (const auto hired = hired_of(data_, needs.any, [&](int tool) { return had(t, tool); })) {
    for (int tool : *hired) hire(t, tool);
  } else {
    broken_.push_back({Rule::tool, t, -1, {}, "of a set of tools none is to be had in stage " + number(t)});
  }
  std::sort(stage.hired.begin(), stage.hired.end());
  check_bought(t, needs);
}

/// Tools are bought for stages whose work can use them.
void Account::check_bought(int t, const ToolNeeds& needs) {
  const auto can_use = [&](int k) {
    const auto has = [k](const std::vector<int>& set) {
      return std::binary_search(set.begin(), set.end(), k);
    };
    return has(needs.tools) || std::any_of(needs.any.begin(), needs.any.end(), has);
  };
  const std::vector<int>& bought = plan_.schedule.tool_bought;
  for (int k = 0; k < static_cast<int>(bought.size()); ++k) {
    if (bought[k] != t || can_use(k)) continue;
    broken_.push_back(
        {Rule::tool,
         t,
         k,
         {},
         "tool " + number(k) + " is bought for stage " + number(t) + ", which does not use it"});
  }
}

bool Account::had(int t, int tool) const {
  const int bought = plan_.schedule.tool_bought[tool];
  return is_free(data_.tools[tool], t) || (bought >= 0 && bought <= t);
}

void Account::hire(int t, int tool) {
  const Tool& data = data_.tools[tool];
  if (data.hire) {
    plan_.stages[t].hired.push_back(tool);
    plan_.stages[t].hire += *data.hire;
  } else {
    broken_.push_back(
        {Rule::tool, t, tool, {}, "tool " + number(tool) + " is not to be had in stage " + number(t)});
  }
}

/// Notes what has to be bought for the stage.
void Account::list(int t) {
  list_.lines.emplace_back();
  list_.fees.push_back((plan_.stages[t].fees + plan_.stages[t].hire).minor());
  std::vector<int> tools;
  const std::vector<int>& bought = plan_.schedule.tool_bought;
  for (int k = 0; k < static_cast<int>(bought.size()); ++k) {
    if (bought[k] == t) tools.push_back(k);
  }
  const StageCost& stage = plan_.stages[t];
  if (stage.opened.empty() && stage.jobs.empty() && tools.empty()) return;
  std::vector<OrderLine> missing;
  buyer_.list(t, demand_of(problem_, stage.jobs, stage.opened, tools), stores_, list_.lines.back(), missing);
  for (const OrderLine& line : missing) report_missing(t, line);
}

void Account::shop(bool tell) {
  const std::vector<Pick> picks = best_way(problem_, buyer_, list_, tell, work_);
  auto pick = picks.begin();
  for (const auto& lines : list_.lines) {
    for (const Line& line : lines) {
      const Way& way = way_of(*line.ways, pick->offer);
      Purchase purchase{line.what, way.stage - pick->before_last, way.supplier};
      purchase.line.offer = way.offer;
      purchase.line.amount = way.price * line.what.packs;
      enter(purchase);
      ++pick;
    }
  }
}

void Account::enter(const Purchase& purchase) {
  const auto key = std::make_pair(purchase.stage, purchase.supplier);
  auto place =
      std::lower_bound(plan_.orders.begin(), plan_.orders.end(), key,
                       [](const Order& o, const auto& k) { return std::make_pair(o.stage, o.supplier) < k; });
  if (place == plan_.orders.end() || std::make_pair(place->stage, place->supplier) != key) {
    place = plan_.orders.insert(place, Order{purchase.stage, purchase.supplier, {}, {}, {}});
  }
  place->lines.push_back(purchase.line);
  place->goods += purchase.line.amount;
}

void Account::report_missing(int t, const OrderLine& line) {
  const bool tool = line.tool >= 0;
  const int index = tool ? line.tool : line.article;
  broken_.push_back(
      {tool ? Rule::tool : Rule::goods,
       t,
       index,
       {},
       (tool ? "tool " : "article ") + number(index) + " cannot arrive for stage " + number(t)});
}

void Account::total_orders() {
  for (Order& order : plan_.orders) {
    const Supplier& supplier = data_.suppliers[order.supplier];
    const bool free = supplier.free_from && order.goods >= *supplier.free_from;
    order.delivery = free ? Money() : supplier.delivery;
    plan_.stages[order.stage].goods += order.goods;
    plan_.stages[order.stage].delivery += order.delivery;
  }
}

/// Adds up each payday, and the cash after it.
void Account::settle() {
  Money cash = data_.opening;
  for (int t = 0; t < problem_.stage_count(); ++t) {
    StageCost& stage = plan_.stages[t];
    const Money bare = stage.goods + stage.delivery + stage.hire + stage.fees;
    stage.allowance = percentage_rounded_up(bare, data_.allowance_bp);
    stage.spent = bare + stage.allowance;
    plan_.spent += stage.spent;
    cash += data_.stages[t].cash_in - stage.spent;
    stage.cash_after = cash;
    const Money short_by = data_.stages[t].floor - cash;
    if (short_by <= Money()) continue;
    broken_.push_back(
        {Rule::cash, t, -1, short_by,
         "after payday " + number(t) + " cash is " + number(short_by.minor()) + " below the floor"});
  }
}

/// `tell`: where there is not enough cash, how much is lacking at least.
Plan Account::take(bool tell) {
  place_jobs();
  for (int t = 0; t < problem_.stage_count(); ++t) {
    open_removals(plan_.stages[t]);
    charge_time(t);
    provide_tools(t);
    list(t);
  }
  if (!tell && !broken_.empty()) return std::move(plan_);
  shop(tell);
  total_orders();
  settle();
  return std::move(plan_);
}

}  // namespace

std::variant<Plan, std::vector<Violation>> Coster::cost(const Schedule& schedule, bool tell) const {
  Broken broken;
  if (!check_shape(problem_, schedule, broken)) return broken;
  check_choices(problem_, schedule, broken);
  check_fit(problem_, schedule, broken);
  if (!tell && !broken.empty()) return broken;
  Account account(problem_, buyer_, schedule, broken);
  Plan plan = account.take(tell);
  work_ += account.work();
  if (!broken.empty()) return broken;
  return plan;
}

std::optional<Plan> Coster::plan(const Schedule& schedule) const {
  auto costed = cost(schedule, false);
  auto* plan = std::get_if<Plan>(&costed);
  return plan == nullptr ? std::nullopt : std::optional<Plan>(std::move(*plan));
}

std::variant<Plan, std::vector<Violation>> cost(const Problem& problem, const Schedule& schedule) {
  return Coster(problem).cost(schedule);
}

int compare(const Plan& a, const Plan& b) {
  if (a.value != b.value) return a.value > b.value ? 1 : -1;
  if (a.spent != b.spent) return a.spent < b.spent ? 1 : -1;
  if (a.minutes != b.minutes) return a.minutes < b.minutes ? 1 : -1;
  return 0;
}

}  // namespace fettlefund::budgets
