#include <algorithm>
#include <map>

#include "lib/outcome/plan.hpp"
#include "lib/outcome/sessions.hpp"
#include "tests/lib/staging/random_sessions.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

// What holds for the sessions of every plan, on random builds, read from the work in the plainest way.

using namespace fettlefund;
using namespace fettlefund::planning;

namespace {

/// Each step once, in order, each evening within its hours.
void check_sessions(const StageView& stage) {
  int next = 1;
  bool going = false;
  std::int64_t used = 0;
  for (const SessionView& session : stage.sessions) {
    REQUIRE(session.used <= session.minutes);
    used += session.used;
    if (session.last_step == 0) continue;
    REQUIRE(session.first_step == (going ? next - 1 : next));
    REQUIRE(session.last_step >= session.first_step);
    next = session.last_step + 1;
    going = session.goes_on;
  }
  REQUIRE_FALSE(going);
  REQUIRE(used <= stage.minutes_used);
  if (!stage.work.empty()) REQUIRE((stage.sessions.empty() || next == stage.work.back().number + 1));
}

void check_days(const build::Build& build, const StageView& stage) {
  for (const OrderView& order : stage.orders) {
    for (const ShoppingLine& line : order.lines) {
      if (line.for_stage + 1 == stage.number) REQUIRE(line.arrives <= stage.bench);
    }
  }
  for (const SessionView& session : stage.sessions) {
    for (const std::string& late : session.late) {
      // Only where steps, or what is taken off again, ask for another order.
      const bool order_asks = std::any_of(build.jobs.begin(), build.jobs.end(), [](const build::Job& job) {
        return !job.replaced_by.empty() || std::any_of(job.steps.begin(), job.steps.end(),
                                                       [](const auto& step) { return !step.after.empty(); });
      });
      CAPTURE(late);
      REQUIRE(order_asks);
    }
  }
}

}  // namespace

namespace {

/// Ids of all that the step's job or removal uses up or works with.
std::vector<build::Id> used_by(const build::Build& build, const graph::WorkStep& step) {
  std::vector<build::Id> ids;
  const auto add = [&](const auto& owner, const std::vector<build::Use>& uses) {
    if (owner.id != step.of) return;
    for (const build::Use& use : uses) ids.push_back(use.article);
    ids.insert(ids.end(), owner.tools.begin(), owner.tools.end());
  };
  for (const build::Job& job : build.jobs)
    if (step.of_job) add(job, job.uses);
  for (const build::Removal& removal : build.removals)
    if (!step.of_job) add(removal, removal.one_use);
  return ids;
}

/// When all that is bought of an article for the stage has arrived, whichever payday paid it.
std::map<build::Id, Date> arrivals_for(const Outcome& outcome, const StageView& stage) {
  std::map<build::Id, Date> arrivals;
  for (const StageView& payday : outcome.stages) {
    for (const OrderView& order : payday.orders) {
      for (const ShoppingLine& line : order.lines) {
        if (line.for_stage + 1 != stage.number) continue;
        Date& day = arrivals.emplace(line.article, line.arrives).first->second;
        day = std::max(day, line.arrives);
      }
    }
  }
  return arrivals;
}

/// No step stands in a session before what it uses. The sessions that work before goods are counted on.
int check_goods(const build::Build& build, const Outcome& outcome, const StageView& stage) {
  const std::map<build::Id, Date> arrivals = arrivals_for(outcome, stage);
  int early = 0;
  for (const SessionView& session : stage.sessions) {
    for (int number = session.first_step; number <= session.last_step && number > 0; ++number) {
      for (const build::Id& id : used_by(build, stage.work[static_cast<std::size_t>(number) - 1])) {
        const auto arrival = arrivals.find(id);
        CAPTURE(id);
        if (arrival != arrivals.end()) REQUIRE(arrival->second <= session.date);
      }
    }
    early += session.last_step > 0 && session.date < stage.bench ? 1 : 0;
  }
  return early;
}

}  // namespace

TEST_CASE("on random builds every evening keeps to its hours, goods come before and days are kept") {
  const int cases = test::cases(300);
  int stages = 0, more = 0, early = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const build::Build build = test::random_build_by_sessions(static_cast<std::uint64_t>(seed));
    if (build::has_errors(check(build))) continue;
    const Planning result = plan(build);
    const auto* outcome = std::get_if<Outcome>(&result);
    if (outcome == nullptr) continue;
    for (const StageView& stage : outcome->stages) {
      if (stage.jobs.empty()) continue;
      check_sessions(stage);
      check_days(build, stage);
      early += check_goods(build, *outcome, stage);
      ++stages;
      more += std::count_if(stage.sessions.begin(), stage.sessions.end(),
                            [](const SessionView& one) { return one.last_step > 0; }) > 1;
    }
  }
  MESSAGE(stages << " stages with work, " << more << " over several evenings, " << early
                 << " evenings of work before goods are counted on");
  CHECK(more > 0);
  CHECK(early > 0);
}
