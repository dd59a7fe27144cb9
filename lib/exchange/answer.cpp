#include "lib/exchange/answer.hpp"

#include <stdexcept>

#include <nlohmann/json.hpp>

namespace fettlefund::exchange {
namespace {

using Json = nlohmann::ordered_json;

/// Stages as they are; what has none is null.
Json places(const std::vector<int>& stages) {
  Json list = Json::array();
  for (const int stage : stages) list.push_back(stage < 0 ? Json() : Json(stage));
  return list;
}

Json stages_of(const budgets::Plan& plan) {
  Json list = Json::array();
  for (const budgets::StageCost& stage : plan.stages) {
    list.push_back({{"spent", stage.spent.minor()},
                    {"left", stage.cash_after.minor()},
                    {"hours", stage.job_minutes + stage.removal_minutes}});
  }
  return list;
}

struct Answer {
  const char* status;
  const budgets::Plan* plan;
  Json bound;
  budgets::Work work;
};

Answer answer_of(const budgets::Result& result) {
  if (const auto* proven = std::get_if<budgets::Proven>(&result))
    return {"proven", &proven->plan, proven->plan.value, proven->work};
  if (const auto* stopped = std::get_if<budgets::Stopped>(&result))
    return {"stopped", stopped->plan ? &*stopped->plan : nullptr, stopped->bound, stopped->work};
  return {"impossible", nullptr, {}, std::get<budgets::Impossible>(result).work};
}

}  // namespace

std::string write_answer(const budgets::Problem& problem, const budgets::Result& result) {
  const Answer answer = answer_of(result);
  if (answer.plan != nullptr && !budgets::verify(problem, *answer.plan).empty())
    throw std::logic_error("the verifier refuses the plan");
  Json json = {{"answer", 1},
               {"status", answer.status},
               {"value", answer.plan ? Json(answer.plan->value) : Json()},
               {"bound", answer.bound},
               {"tasks", answer.plan ? places(answer.plan->schedule.stage_of) : Json()},
               {"once", answer.plan ? places(answer.plan->schedule.tool_bought) : Json()},
               {"stages", answer.plan ? stages_of(*answer.plan) : Json()}};
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result)) json["musts"] = impossible->musts;
  json["steps"] = answer.work.steps;
  json["states"] = answer.work.states;
  if (answer.plan != nullptr) json["verified"] = true;
  return json.dump() + "\n";
}

}  // namespace fettlefund::exchange
