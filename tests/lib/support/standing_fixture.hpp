#pragma once
#include "lib/outcome/shopping.hpp"
#include "lib/progress/replan.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/log_fixture.hpp"

namespace fettlefund::test {

inline planning::Standing stood(const build::Build& build, const std::vector<log::NewEntry>& events,
                                const std::string& on, std::int64_t keep_days = 0) {
  REQUIRE(checked(build) == "");
  planning::Standing standing = planning::stand_on(build, log_of(events), day(on), keep_days);
  REQUIRE(standing.build.has_value());
  return standing;
}

/// The plan of what is left; it has to have one. The standing must outlive it.
inline planning::Outcome replanned(const planning::Standing& standing) {
  planning::Planning planning = planning::replan(standing);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  return std::get<planning::Outcome>(std::move(planning));
}

/// What a log says when a stage went exactly as planned.
inline void add_as_planned(std::vector<log::NewEntry>& events, const planning::Outcome& outcome,
                           const planning::StageView& stage) {
  for (const planning::BuyingLine& line : planning::buying_lines(outcome)) {
    if (planning::read_key(line.key).stage == 0) continue;
    bool here = false;
    for (const planning::OrderView& order : stage.orders) {
      for (const planning::ShoppingLine& bought : order.lines) here |= bought.key == line.key;
    }
    const bool other = line.article.empty() && planning::read_key(line.key).stage == stage.number;
    if (!here && !other) continue;
    events.push_back(
        {stage.payday, log::Bought{line.key, line.packs, line.amount, stage.payday + line.lead_days}});
  }
  for (const planning::JobView& job : stage.jobs) events.push_back({stage.bench, log::Fitted{job.id}});
}

}  // namespace fettlefund::test
