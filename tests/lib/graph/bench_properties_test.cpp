#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <variant>

#include "lib/outcome/plan.hpp"
#include "tests/lib/graph/random_bench.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

// What a mechanic takes for granted of every stage of every plan, read from the steps in the plainest way.
// Common practice, no source.
namespace {

using namespace fettlefund;
using graph::StepKind;
using graph::WorkStep;
using planning::StageView;
using test::RandomBench;

/// What was met on the way, so that the claims are not empty ones.
struct Met {
  int plans = 0, tightened = 0, locked = 0, wholes = 0, closed = 0, gone = 0, instead = 0, later_goods = 0;
  int sessions = 0, awaited = 0;  ///< sessions with work, articles bought for the stage at their steps
};

const build::Removal* removal_of(const build::Build& build, const build::Id& id) {
  const auto found = std::find_if(build.removals.begin(), build.removals.end(),
                                  [&](const build::Removal& one) { return one.id == id; });
  return found == build.removals.end() ? nullptr : &*found;
}

const build::Job& job_of(const build::Build& build, const build::Id& id) {
  return *std::find_if(build.jobs.begin(), build.jobs.end(),
                       [&](const build::Job& one) { return one.id == id; });
}

bool begins(const WorkStep& step, const char* letter) { return step.text.starts_with(letter); }

/// The steps of one job, or of one removal going back on.
using Owned = std::map<std::pair<bool, build::Id>, std::vector<const WorkStep*>>;

Owned by_owner(const StageView& stage) {
  Owned owned;
  for (const WorkStep& step : stage.work) {
    if (step.kind != StepKind::off) owned[{step.of_job, step.of}].push_back(&step);
  }
  return owned;
}

/// Fit, tighten, lock, check.
void check_phases(const StageView& stage, Met& met) {
  for (const auto& [owner, steps] : by_owner(stage)) {
    const std::string& whose = owner.second;
    CAPTURE(whose);
    bool tightened = false, locked = false, checked = false;
    for (const WorkStep* step : steps) {
      CAPTURE(step->text);
      const bool fits = begins(*step, "F");
      if (fits) CHECK_FALSE((tightened || locked || checked));
      if (step->kind == StepKind::tighten) {
        CHECK_FALSE((locked || checked));
        ++met.tightened;
      }
      if (step->kind == StepKind::lock) {
        CHECK_FALSE(checked);
        ++met.locked;
      }
      tightened |= step->kind == StepKind::tighten;
      locked |= step->kind == StepKind::lock;
      checked |= step->kind == StepKind::check;
    }
  }
}

/// Every torque of what is done is told in one step, and every check.
void check_told(const build::Build& build, const StageView& stage) {
  for (const auto& [owner, steps] : by_owner(stage)) {
    const build::Removal* removal = owner.first ? nullptr : removal_of(build, owner.second);
    const auto& torques = owner.first ? job_of(build, owner.second).torques : removal->torques;
    std::size_t told = 0;
    for (const WorkStep* step : steps)
      told += static_cast<std::size_t>(std::count(step->torque.begin(), step->torque.end(), '('));
    const std::string& whose = owner.second;
    CAPTURE(whose);
    CHECK(told == torques.size());
  }
}

void add_open(const build::Build& build, const std::vector<build::Id>& removals, std::set<build::Id>& open) {
  for (const build::Id& id : removals) {
    if (open.insert(id).second) add_open(build, removal_of(build, id)->needs, open);
  }
}

/// A check of the whole comes when everything that its job or removal had off is back on.
void check_wholes(const build::Build& build, const StageView& stage, Met& met) {
  for (std::size_t i = 0; i < stage.work.size(); ++i) {
    const WorkStep& check = stage.work[i];
    if (check.kind != StepKind::check || !begins(check, "W")) continue;
    ++met.wholes;
    std::set<build::Id> off;
    if (check.of_job) {
      add_open(build, job_of(build, check.of).removals, off);
    } else {
      add_open(build, {check.of}, off);
    }
    for (std::size_t later = i + 1; later < stage.work.size(); ++later) {
      const WorkStep& step = stage.work[later];
      CAPTURE(check.text);
      CAPTURE(step.text);
      CHECK_FALSE((!step.of_job && step.kind == StepKind::on && off.contains(step.of)));
    }
  }
}

/// What comes off last goes back on first; what came off for good stays off.
void check_pile(const build::Build& build, const StageView& stage, Met& met) {
  std::vector<build::Id> pile;
  std::set<build::Id> closed;
  for (const WorkStep& step : stage.work) {
    if (step.of_job) continue;
    CAPTURE(step.text);
    const bool for_good = removal_of(build, step.of)->for_good;
    if (step.kind == StepKind::off) {
      CHECK_FALSE(closed.contains(step.of));
      if (!for_good && (pile.empty() || pile.back() != step.of)) pile.push_back(step.of);
    } else if (step.kind != StepKind::check) {  // putting on, tightening and locking
      CHECK_FALSE(for_good);
      if (closed.contains(step.of)) continue;
      REQUIRE_FALSE(pile.empty());
      CHECK(pile.back() == step.of);
      pile.pop_back();
      closed.insert(step.of);
      ++met.closed;
    }
  }
  CHECK(pile.empty());
}

/// Ids of the removal itself and of what stands in for it.
bool is(const build::Build& build, const build::Id& of, const build::Id& removal) {
  const build::Removal* one = removal_of(build, of);
  return of == removal || (one->for_good && one->stands_for == removal);
}

/// What a done job takes off for good is not put back in its stage and not met again in a later one.
void check_gone(const RandomBench& bench, const planning::Outcome& outcome, Met& met) {
  std::set<build::Id> gone;
  for (const StageView& stage : outcome.stages) {
    const std::set<build::Id> before = gone;
    for (const planning::JobView& job : stage.jobs) {
      const build::Job& written = job_of(bench.written, job.id);
      for (const build::Id& removal : written.takes_off) gone.insert(removal);
      met.instead += static_cast<int>(written.puts_on.size());
    }
    for (const WorkStep& step : stage.work) {
      if (step.of_job) continue;
      CAPTURE(step.text);
      for (const build::Id& removal : before) CHECK_FALSE(is(bench.settled, step.of, removal));
      if (step.kind == StepKind::on) {
        for (const build::Id& removal : gone) CHECK_FALSE(is(bench.settled, step.of, removal));
      }
    }
    met.gone += static_cast<int>(before.size());
  }
}

using Amounts = std::map<build::Id, budgets::Quantity>;

/// What a stage uses, added up from the build. A removal that comes off for good beside its like is counted
/// once more than needed (BUILD-FILE.md).
Amounts plain_use(const build::Build& build, const StageView& stage) {
  Amounts use;
  std::set<build::Id> open;
  for (const planning::JobView& job : stage.jobs) {
    for (const build::Use& one : job_of(build, job.id).uses) use[one.article] += one.amount;
    add_open(build, job_of(build, job.id).removals, open);
  }
  for (const build::Id& removal : open) {
    for (const build::Use& spoilt : removal_of(build, removal)->one_use) use[spoilt.article] += spoilt.amount;
  }
  return use;
}

/// Everything used is in the house on the bench date: bought and arrived, or there before, and not used up.
void check_house(const build::Build& build, const planning::Outcome& outcome, Met& met) {
  Amounts used;
  for (const StageView& stage : outcome.stages) {
    Amounts house;
    for (const build::OnHand& lot : build.on_hand) house[lot.article] += lot.amount;
    for (const StageView& bought : outcome.stages) {
      for (const planning::OrderView& order : bought.orders) {
        for (const planning::ShoppingLine& line : order.lines) {
          if (line.arrives <= stage.bench && bought.payday <= stage.bench)
            house[line.article] += line.packs * line.pack;
        }
      }
    }
    Amounts told;
    for (const planning::UsedLine& line : stage.used) told[line.article] += line.amount;
    const Amounts plain = plain_use(build, stage);
    for (const auto& [used_article, amount] : plain) {
      const std::string& article = used_article;
      CAPTURE(article);
      CHECK(told[article] == amount);
      used[article] += amount;
      CHECK(used[article] <= house[article]);
      met.later_goods += stage.number > 1 ? 1 : 0;
    }
    CHECK(told.size() == plain.size());
  }
}

/// A step that fits an article names it, and the article is among those of the stage.
void check_fitted(const build::Build& build, const StageView& stage) {
  for (const WorkStep& step : stage.work) {
    if (!begins(step, "F")) continue;
    CAPTURE(step.text);
    const bool named = std::any_of(stage.used.begin(), stage.used.end(), [&](const auto& used) {
      return step.text.find(used.name + " (") != std::string::npos;
    });
    CHECK(named);
  }
  CHECK_FALSE(build.articles.empty());
}

/// When what is bought of each article for the stage is there.
std::map<build::Id, build::Date> bought_for(const planning::Outcome& outcome, const StageView& stage) {
  std::map<build::Id, build::Date> there;
  for (const StageView& payday : outcome.stages) {
    for (const planning::OrderView& order : payday.orders) {
      for (const planning::ShoppingLine& line : order.lines) {
        if (line.for_stage + 1 == stage.number)
          there[line.article] = std::max(there[line.article], line.arrives);
      }
    }
  }
  return there;
}

void check_arrived(const build::Build& build, const std::map<build::Id, build::Date>& there,
                   const WorkStep& step, build::Date day, Met& met) {
  const auto& uses = step.of_job ? job_of(build, step.of).uses : removal_of(build, step.of)->one_use;
  for (const build::Use& use : uses) {
    if (!there.contains(use.article)) continue;
    CAPTURE(use.article);
    CHECK(there.at(use.article) <= day);
    ++met.awaited;
  }
}

/// Every session is within its hours, all of the work stands in them in its order, and none of it before what
/// it uses has arrived.
void check_evenings(const build::Build& build, const planning::Outcome& outcome, const StageView& stage,
                    Met& met) {
  if (!stage.by_sessions || stage.work.empty()) return;
  const auto there = bought_for(outcome, stage);
  int last = 0;
  bool going = false;
  for (const planning::SessionView& session : stage.sessions) {
    CHECK(session.used <= session.minutes);
    if (session.last_step == 0) continue;
    ++met.sessions;
    CHECK(session.first_step == last + (going ? 0 : 1));
    last = session.last_step;
    going = session.goes_on;
    for (int number = session.first_step; number <= last; ++number)
      check_arrived(build, there, stage.work[static_cast<std::size_t>(number) - 1], session.date, met);
  }
  CHECK_FALSE(going);
  if (!stage.sessions.empty()) CHECK(last == stage.work.back().number);
}

void check_all(const RandomBench& bench, const planning::Outcome& outcome, Met& met) {
  ++met.plans;
  for (const StageView& stage : outcome.stages) {
    CAPTURE(stage.number);
    check_phases(stage, met);
    check_told(bench.settled, stage);
    check_wholes(bench.settled, stage, met);
    check_pile(bench.settled, stage, met);
    check_fitted(bench.settled, stage);
    check_evenings(bench.settled, outcome, stage, met);
  }
  check_gone(bench, outcome, met);
  check_house(bench.settled, outcome, met);
}

}  // namespace

TEST_CASE("work orders of random builds fit and tighten and lock and check and close as a mechanic would") {
  Met met;
  int sound = 0;
  const int wanted = test::cases(500);
  for (int seed = 1; seed <= wanted; ++seed) {
    CAPTURE(seed);
    const auto bench = test::random_bench(static_cast<std::uint64_t>(seed) + 900'000);
    if (!bench) continue;
    ++sound;
    budgets::SolveOptions options;
    options.effort = budgets::Effort::quick;
    options.explain = false;
    const planning::Planning planning = planning::plan(bench->settled, options);
    if (const auto* outcome = std::get_if<planning::Outcome>(&planning)) check_all(*bench, *outcome, met);
  }
  MESSAGE(sound << " builds of " << wanted << ", " << met.plans << " planned: " << met.tightened
                << " tightened, " << met.locked << " locked, " << met.wholes << " checks of the whole, "
                << met.closed << " closed, " << met.gone << " stages after something came off for good, "
                << met.instead << " put on instead, " << met.later_goods << " articles in later stages, "
                << met.sessions << " sessions with work, " << met.awaited << " articles awaited in them");
  if (wanted < 100) return;
  CHECK(met.plans > wanted / 3);
  for (const int some : {met.tightened, met.locked, met.wholes, met.closed, met.gone, met.later_goods,
                         met.sessions, met.awaited})
    CHECK(some > wanted / 25);
}
