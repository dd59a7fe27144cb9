#include "lib/outcome/next_thing.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

std::string paying(const Outcome& outcome, const StageView& stage) {
  std::vector<std::string> shops;
  std::size_t lines = 0;
  for (const OrderView& order : stage.orders) {
    shops.push_back(order.supplier_name);
    lines += order.lines.size();
  }
  std::string text = fmt::format("On {} (stage {}): pay {}", budgets::write_date(stage.payday), stage.number,
                                 money_text(*outcome.build, stage.spent));
  if (!shops.empty()) {
    text += fmt::format(" and order {} {} from {}", lines, lines == 1 ? "thing" : "things", list_text(shops));
  }
  return text + fmt::format("; {} is left.", money_text(*outcome.build, stage.cash_after));
}

std::string working(const StageView& stage) {
  std::vector<std::string> jobs;
  for (const JobView& job : stage.jobs) jobs.push_back(job.name);
  const auto used = std::count_if(stage.sessions.begin(), stage.sessions.end(),
                                  [](const SessionView& session) { return session.last_step > 0; });
  const auto first = std::find_if(stage.sessions.begin(), stage.sessions.end(),
                                  [](const SessionView& session) { return session.last_step > 0; });
  const Date day = first == stage.sessions.end() ? stage.bench : first->date;
  const std::string more = used > 1 ? fmt::format(" in {} sessions from then on", used) : "";
  return fmt::format("On {}, {} at the bench{}: {}.", budgets::write_date(day),
                     hours_text(stage.minutes_used), more, list_text(jobs));
}

}  // namespace

std::vector<std::string> next_things(const Outcome& outcome) {
  const auto next = std::find_if(outcome.stages.begin(), outcome.stages.end(), [](const StageView& stage) {
    return stage.spent > Money() || !stage.jobs.empty();
  });
  if (next == outcome.stages.end()) return {"Nothing is left to buy or do in this plan."};
  std::vector<std::string> sentences;
  if (next->spent > Money()) sentences.push_back(paying(outcome, *next));
  if (!next->jobs.empty()) sentences.push_back(working(*next));
  return sentences;
}

}  // namespace fettlefund::planning
