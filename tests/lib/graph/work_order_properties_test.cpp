#include <algorithm>
#include <map>
#include <set>

#include "lib/graph/work_order.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <rapidcheck.h>

namespace {

using namespace fettlefund;
using graph::StepKind;
using test::BuildMaker;
using test::Words;

/// Some of the words, each with the given chance in percent.
Words some_of(const Words& words, int percent) {
  Words chosen;
  for (const std::string& word : words) {
    if (*rc::gen::inRange(0, 100) < percent) chosen.push_back(word);
  }
  return chosen;
}

/// Steps whose texts tell their owner and place, with ids; `known` are ids that some of them wait for.
std::vector<build::Step> random_steps(const std::string& owner, Words& known, int wait_percent) {
  std::vector<build::Step> steps;
  const int count = *rc::gen::inRange(0, 4);
  for (int i = 0; i < count; ++i) {
    const std::string id = fmt::format("{}-{}", owner, i);
    steps.push_back(test::step(id, id, some_of(known, wait_percent)));
  }
  for (const auto& step : steps) known.push_back(step.id);
  return steps;
}

/// A build in which later removals may need earlier ones and jobs stand in shuffled order.
BuildMaker random_build(int wait_percent) {
  BuildMaker maker;
  Words removals, jobs, step_ids;
  const int removal_count = *rc::gen::inRange(0, 6);
  for (int r = 0; r < removal_count; ++r) {
    const std::string id = fmt::format("r{}", r);
    auto& removal = maker.removal(id, some_of(removals, 30));
    removal.off = random_steps(fmt::format("off{}", r), step_ids, wait_percent);
    removal.on = random_steps(fmt::format("on{}", r), step_ids, wait_percent);
    removals.push_back(id);
  }
  const int job_count = *rc::gen::inRange(1, 8);
  for (int j = 0; j < job_count; ++j) {
    const std::string id = fmt::format("j{}", j);
    maker.job(id, some_of(removals, 30), some_of(jobs, 20)).steps = random_steps(id, step_ids, wait_percent);
    jobs.push_back(id);
  }
  auto& list = maker.build().jobs;
  for (std::size_t i = list.size(); i > 1; --i)
    std::swap(list[i - 1], list[*rc::gen::inRange<std::size_t>(0, i)]);
  return maker;
}

/// First and last place of what an owner does in a phase.
struct Span {
  int first = -1, last = -1;
  int count = 0;
};
using Spans = std::map<std::pair<std::string, bool>, Span>;  ///< by owner and "going back on"

Spans spans(const std::vector<graph::WorkStep>& order) {
  Spans result;
  for (int i = 0; i < static_cast<int>(order.size()); ++i) {
    const bool on = order[i].kind == StepKind::on;
    Span& span = result[{order[i].of, on}];
    if (span.count++ == 0) span.first = i;
    span.last = i;
  }
  return result;
}

std::set<std::string> used_by(const build::Build& build, const build::Job& job) {
  std::vector<int> direct;
  for (int r = 0; r < static_cast<int>(build.removals.size()); ++r) {
    if (std::count(job.removals.begin(), job.removals.end(), build.removals[r].id) > 0) direct.push_back(r);
  }
  std::set<std::string> ids;
  for (const int r : graph::closed_over_needs(build, direct)) ids.insert(build.removals[r].id);
  return ids;
}

void check_complete(const build::Build& build, const std::vector<graph::WorkStep>& order) {
  std::size_t expected = 0;
  std::set<std::string> used;
  for (const auto& job : build.jobs) {
    expected += std::max<std::size_t>(1, job.steps.size());
    used.merge(used_by(build, job));
  }
  for (const auto& removal : build.removals) {
    if (used.contains(removal.id))
      expected += std::max<std::size_t>(1, removal.off.size()) + std::max<std::size_t>(1, removal.on.size());
  }
  RC_ASSERT(order.size() == expected);
  for (int i = 0; i < static_cast<int>(order.size()); ++i) RC_ASSERT(order[i].number == i + 1);
  std::set<std::string> seen;
  for (const auto& step : order) RC_ASSERT(seen.insert(step.text + "/" + step.of).second);
}

void check_order_of_removals(const build::Build& build, const std::vector<graph::WorkStep>& order) {
  const Spans at = spans(order);
  for (const auto& removal : build.removals) {
    if (!at.contains({removal.id, false})) continue;
    RC_ASSERT(at.at({removal.id, false}).last < at.at({removal.id, true}).first);
    for (const auto& need : removal.needs) {
      RC_ASSERT(at.at({need, false}).last < at.at({removal.id, false}).first);
      RC_ASSERT(at.at({removal.id, true}).last < at.at({need, true}).first);
    }
  }
}

/// What holds where no step asks for another order.
void check_open_times(const build::Build& build, const std::vector<graph::WorkStep>& order) {
  const Spans at = spans(order);
  for (const auto& [key, span] : at) RC_ASSERT(span.last - span.first + 1 == span.count);
  for (const auto& job : build.jobs) {
    for (const auto& earlier : job.after)
      RC_ASSERT(at.at({earlier, false}).last < at.at({job.id, false}).first);
  }
  for (const auto& job : build.jobs) {
    for (const auto& used : used_by(build, job)) {
      RC_ASSERT(at.at({used, false}).last < at.at({job.id, false}).first);
      RC_ASSERT(at.at({job.id, false}).last < at.at({used, true}).first);
    }
  }
}

/// What comes off last goes back on first, and what comes off is used by the next job.
void check_pile(const build::Build& build, const std::vector<graph::WorkStep>& order) {
  std::vector<std::string> pile;
  std::set<std::string> fresh;
  std::string last_on;
  for (const auto& step : order) {
    if (step.kind == StepKind::off && (pile.empty() || pile.back() != step.of)) {
      pile.push_back(step.of);
      fresh.insert(step.of);
    }
    if (step.kind == StepKind::work) {
      const auto job =
          std::find_if(build.jobs.begin(), build.jobs.end(), [&](const auto& j) { return j.id == step.of; });
      const auto used = used_by(build, *job);
      RC_ASSERT(std::includes(used.begin(), used.end(), fresh.begin(), fresh.end()));
      fresh.clear();
    }
    if (step.kind == StepKind::on && step.of != last_on) {
      RC_ASSERT(!pile.empty() && pile.back() == step.of);
      pile.pop_back();
      last_on = step.of;
    }
  }
  RC_ASSERT(pile.empty());
}

void check_asked(const build::Build& build, const std::vector<graph::WorkStep>& order) {
  std::map<std::string, int> place;
  for (int i = 0; i < static_cast<int>(order.size()); ++i) place[order[i].text] = i;
  const auto check = [&](const std::vector<build::Step>& steps) {
    for (const auto& step : steps) {
      if (!place.contains(step.text)) continue;
      for (const auto& earlier : step.after) {
        if (place.contains(earlier)) RC_ASSERT(place[earlier] < place[step.text]);
      }
    }
  };
  for (const auto& job : build.jobs) check(job.steps);
  for (const auto& removal : build.removals) check(removal.off), check(removal.on);
}

bool holds(const char* what, void (*check)(const build::Build&, const std::vector<graph::WorkStep>&),
           int wait_percent) {
  return rc::check(what, [=] {
    BuildMaker maker = random_build(wait_percent);
    const build::Build& build = maker.build();
    RC_PRE(graph::check_cycles(build).empty());
    check(build, graph::work_order(build, test::all_of(build.jobs), {}));
  });
}

}  // namespace

TEST_CASE("every step of every job and removal stands in the work order once") {
  CHECK(holds("complete", check_complete, 0));
  CHECK(holds("complete with waiting steps", check_complete, 5));
}

TEST_CASE("removals come off after what they need and go back before it whatever steps wait for") {
  CHECK(holds("order", check_order_of_removals, 0));
  CHECK(holds("order with waiting steps", check_order_of_removals, 5));
}

TEST_CASE("jobs are done in one go after those they follow and while what they use is off") {
  CHECK(holds("open", check_open_times, 0));
}

TEST_CASE("refitting is the reverse of taking off and nothing comes off before it is used") {
  CHECK(holds("pile", check_pile, 0));
}

TEST_CASE("steps follow the steps that they ask for") { CHECK(holds("asked", check_asked, 5)); }

TEST_CASE("the order of the arguments does not matter") {
  CHECK(rc::check("arguments", [] {
    BuildMaker maker = random_build(3);
    std::vector<int> jobs = test::all_of(maker.build().jobs);
    const auto once = graph::work_order(maker.build(), jobs, {});
    std::reverse(jobs.begin(), jobs.end());
    const auto twice = graph::work_order(maker.build(), jobs, test::all_of(maker.build().removals));
    if (once.size() != twice.size()) return;  // removals that no job uses were asked for
    for (std::size_t i = 0; i < once.size(); ++i) RC_ASSERT(once[i].text == twice[i].text);
  }));
}
