#include "budgets/search/local/relaxed_plan.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {

RelaxedPlan::RelaxedPlan(const Relaxed& relaxed)
    : relaxed_(relaxed),
      stage_of_(relaxed.units, -1),
      users_(relaxed.units, 0),
      group_units_(relaxed.model->group_count(), 0),
      charge_units_(relaxed.charges.size() * relaxed.stages, 0),
      tool_units_(static_cast<std::size_t>(relaxed.tools()) * relaxed.stages, 0),
      tool_stage_(relaxed.tools(), relaxed.stages),
      minutes_(relaxed.stages, 0),
      spent_(relaxed.stages, 0),
      room_(relaxed.caps) {
  find_room();
}

bool RelaxedPlan::groups_are_free(int unit) const {
  const auto& groups = relaxed_.model->units()[unit].groups;
  return std::all_of(groups.begin(), groups.end(), [&](int g) { return group_units_[g] == 0; });
}

bool RelaxedPlan::fits(int unit, int stage) {
  work_ += 2;
  const int stages = relaxed_.stages;
  std::int64_t minutes = minutes_[stage] + relaxed_.minutes[unit];
  const std::int64_t allowed = relaxed_.model->data().stages[stage].minutes;
  if (minutes > allowed || !relaxed_.model->allowed(unit, stage) || !groups_are_free(unit)) return false;
  // What is spent for good has to fit to the end; a tool that is owned later on is only paid sooner.
  std::int64_t cost = relaxed_.cost_at(unit, stage);
  const int* units = charge_units_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  for (int e : relaxed_.charges_of[unit]) {
    if (units[e] > 0) continue;
    cost += relaxed_.charges[e].cost;
    minutes += relaxed_.charges[e].minutes;
  }
  work_ += static_cast<std::int64_t>(relaxed_.charges_of[unit].size());
  if (minutes > allowed || cost > room_[stage]) return false;
  std::int64_t sooner = 0;
  for (int k : relaxed_.tools_of[unit]) {
    ++work_;
    if (tool_stage_[k] <= stage) continue;
    (tool_stage_[k] < stages ? sooner : cost) += relaxed_.tool_cost[k];
    if (cost > room_[stage]) return false;
  }
  if (cost + sooner <= room_[stage]) return true;
  work_ += stages - stage;
  cost += sooner;
  for (int s = stage; s < stages; ++s) {
    for (int k : relaxed_.tools_of[unit]) {
      if (s > stage && tool_stage_[k] == s) cost -= relaxed_.tool_cost[k];
    }
    if (spent_[s] + cost > relaxed_.caps[s]) return false;
  }
  return true;
}

void RelaxedPlan::pay(std::int64_t cost, int from, int to) {
  for (int s = from; s < to; ++s) spent_[s] += cost;
}

void RelaxedPlan::find_room() {
  std::int64_t room = relaxed_.caps.back() - spent_.back();
  for (int s = relaxed_.stages - 1; s >= 0; --s) {
    room = std::min(room, relaxed_.caps[s] - spent_[s]);
    room_[s] = room;
  }
}

int RelaxedPlan::first_use(int tool, int from) const {
  const int* units = tool_units_.data() + static_cast<std::size_t>(tool) * relaxed_.stages;
  while (from < relaxed_.stages && units[from] == 0) ++from;
  return from;
}

void RelaxedPlan::add(int unit, int stage) {
  const int stages = relaxed_.stages;
  int* units = charge_units_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  std::int64_t cost = relaxed_.cost_at(unit, stage);
  value_ += relaxed_.worth_at(unit, stage);
  minutes_[stage] += relaxed_.minutes[unit];
  for (int e : relaxed_.charges_of[unit]) {
    if (units[e]++ > 0) continue;
    cost += relaxed_.charges[e].cost;
    minutes_[stage] += relaxed_.charges[e].minutes;
    value_ -= relaxed_.charges[e].worth;
  }
  for (int k : relaxed_.tools_of[unit]) {
    ++tool_units_[static_cast<std::size_t>(k) * stages + stage];
    if (tool_stage_[k] <= stage) continue;
    pay(relaxed_.tool_cost[k], stage, tool_stage_[k]);
    tool_stage_[k] = stage;
  }
  pay(cost, stage, stages);
  for (int g : relaxed_.model->units()[unit].groups) ++group_units_[g];
  for (int b : relaxed_.model->units()[unit].before) ++users_[b];
  stage_of_[unit] = stage;
}

void RelaxedPlan::remove(int unit) {
  const int stages = relaxed_.stages;
  const int stage = stage_of_[unit];
  int* units = charge_units_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  std::int64_t cost = relaxed_.cost_at(unit, stage);
  value_ -= relaxed_.worth_at(unit, stage);
  minutes_[stage] -= relaxed_.minutes[unit];
  for (int e : relaxed_.charges_of[unit]) {
    if (--units[e] > 0) continue;
    cost += relaxed_.charges[e].cost;
    minutes_[stage] -= relaxed_.charges[e].minutes;
    value_ += relaxed_.charges[e].worth;
  }
  for (int k : relaxed_.tools_of[unit]) {
    if (--tool_units_[static_cast<std::size_t>(k) * stages + stage] > 0 || tool_stage_[k] != stage) continue;
    tool_stage_[k] = first_use(k, stage + 1);
    pay(-relaxed_.tool_cost[k], stage, tool_stage_[k]);
  }
  pay(-cost, stage, stages);
  for (int g : relaxed_.model->units()[unit].groups) --group_units_[g];
  for (int b : relaxed_.model->units()[unit].before) --users_[b];
  stage_of_[unit] = -1;
}

void RelaxedPlan::count_change(int unit) {
  const auto shared = relaxed_.charges_of[unit].size() + relaxed_.tools_of[unit].size();
  work_ += 4 + 2 * static_cast<std::int64_t>(shared) + 2 * relaxed_.stages;
}

void RelaxedPlan::put(int unit, int stage) {
  add(unit, stage);
  find_room();
  changes_.push_back({unit, -1, stage});
  count_change(unit);
}

void RelaxedPlan::take(int unit) {
  const int stage = stage_of_[unit];
  remove(unit);
  find_room();
  changes_.push_back({unit, stage, -1});
  count_change(unit);
}

void RelaxedPlan::undo_to(std::size_t count) {
  while (changes_.size() > count) {
    const Change last = changes_.back();
    changes_.resize(changes_.size() - 1);
    if (last.from < 0) {
      remove(last.unit);
    } else {
      add(last.unit, last.from);
    }
    count_change(last.unit);
  }
  find_room();
}

}  // namespace fettlefund::budgets::search
