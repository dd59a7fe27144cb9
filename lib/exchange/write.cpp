#include "lib/exchange/exchange.hpp"

namespace fettlefund::exchange {
namespace {

using namespace budgets;

std::string number(std::int64_t value) { return std::to_string(value); }

template <class Number>
std::string list_of(const std::vector<Number>& values) {
  std::string text = "[";
  for (std::size_t i = 0; i < values.size(); ++i) text += (i > 0 ? ", " : "") + number(values[i]);
  return text + "]";
}

template <class Item, class Write>
std::string lines_of(const char* key, const std::vector<Item>& items, Write write) {
  std::string text = std::string("  \"") + key + "\": [";
  for (std::size_t i = 0; i < items.size(); ++i) text += (i > 0 ? ",\n    " : "\n    ") + write(items[i]);
  return text + (items.empty() ? "]" : "\n  ]");
}

std::string write_task(const ExchangeTask& task) {
  std::string text = "{\"cost\": " + number(task.cost) + ", \"hours\": " + number(task.hours) +
                     ", \"value\": " + number(task.value) + ", \"opens\": " + list_of(task.opens) +
                     ", \"after\": " + list_of(task.after) + ", \"once\": " + list_of(task.once);
  text += ", \"source\": " + (task.source < 0 ? std::string("null") : number(task.source));
  if (task.earliest > 0) text += ", \"earliest\": " + number(task.earliest);
  if (task.latest >= 0) text += ", \"latest\": " + number(task.latest);
  if (task.due >= 0) text += ", \"due\": " + number(task.due);
  return text + (task.must ? ", \"must\": true}" : "}");
}

/// A removal without bench time a source: its fee is due in each stage with one of its tasks. And a supplier
/// without charge for the once-items.
void add_sources(const Exchange& exchange, ProblemData& data) {
  for (std::int64_t fee : exchange.sources) data.removals.push_back({Money::of_minor(fee), 0, {}, {}, {}});
  data.suppliers.push_back({});
  for (std::int64_t cost : exchange.once)
    data.tools.push_back({{}, {{0, Money::of_minor(cost), 0, {}, {}}}, {}});
}

/// A day each for what is due within the stage, and one for its end.
void add_stage(const Exchange& exchange, const ExchangeStage& from, ProblemData& data) {
  constexpr Date first{20000};
  const Date payday = data.stages.empty() ? first : data.stages.back().last_day() + 1;
  Stage stage{payday, payday, Money::of_minor(from.cash_in), Money::of_minor(exchange.keep_back), from.hours};
  for (const std::int64_t hours : from.hours_by) {
    stage.marks.push_back({payday + static_cast<int>(stage.marks.size()), hours});
  }
  if (!stage.marks.empty()) stage.last = stage.marks.back().day + 1;
  data.stages.push_back(std::move(stage));
}

Job make_job(const Exchange& exchange, const ExchangeTask& task, const ProblemData& data) {
  Job job;
  const auto stages = static_cast<std::int64_t>(data.stages.size());
  for (std::int64_t t = 0; t < stages; ++t) job.worth.push_back(task.value * (stages - t));
  job.minutes = task.hours;
  job.removals = task.opens;
  job.after = task.after;
  job.tools = task.once;
  job.earliest = task.earliest;
  job.latest = task.latest;
  job.must = task.must;
  const Stage& last =
      task.latest < 0 ? data.stages.back() : data.stages[static_cast<std::size_t>(task.latest)];
  if (task.due >= 0) job.by = last.marks[static_cast<std::size_t>(task.due)].day;
  job.cost = Money::of_minor(task.cost);
  if (task.source >= 0) job.removals.push_back(static_cast<int>(exchange.openings.size()) + task.source);
  return job;
}

}  // namespace

std::string write_exchange(const Exchange& exchange) {
  std::string text = "{\n  \"opening\": " + number(exchange.opening) +
                     ",\n  \"keep_back\": " + number(exchange.keep_back) + ",\n";
  text += lines_of("stages", exchange.stages, [](const ExchangeStage& s) {
    const std::string more = s.hours_by.empty() ? "" : ", \"hours_by\": " + list_of(s.hours_by);
    return "{\"cash_in\": " + number(s.cash_in) + ", \"hours\": " + number(s.hours) + more + "}";
  });
  text += ",\n" + lines_of("openings", exchange.openings, [](const ExchangeOpening& o) {
            return "{\"cost\": " + number(o.cost) + ", \"hours\": " + number(o.hours) +
                   ", \"needs\": " + list_of(o.needs) + "}";
          });
  text +=
      ",\n" + lines_of("once", exchange.once, [](std::int64_t c) { return "{\"cost\": " + number(c) + "}"; });
  text += ",\n" + lines_of("sources", exchange.sources,
                           [](std::int64_t f) { return "{\"fee\": " + number(f) + "}"; });
  return text + ",\n" + lines_of("tasks", exchange.tasks, write_task) + "\n}\n";
}

Problem staging_problem(const Exchange& exchange) {
  ProblemData data;
  data.opening = Money::of_minor(exchange.opening);
  for (const ExchangeStage& stage : exchange.stages) add_stage(exchange, stage, data);
  for (const ExchangeOpening& opening : exchange.openings) {
    data.removals.push_back({Money::of_minor(opening.cost), opening.hours, opening.needs, {}, {}});
  }
  add_sources(exchange, data);
  for (const ExchangeTask& task : exchange.tasks) data.jobs.push_back(make_job(exchange, task, data));
  return Problem(std::move(data));
}

}  // namespace fettlefund::exchange
