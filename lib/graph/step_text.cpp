#include "lib/graph/step_text.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string_view>

#include "lib/fitment/torque.hpp"
#include "lib/fitment/torque_pattern.hpp"
#include "lib/goods/packs.hpp"
#include "lib/graph/tag.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

using Steps = std::vector<WrittenStep>;

constexpr std::array fitting_words{"bolt ",  "do up ", "fit ",   "insert ", "put ",
                                   "refit ", "run ",   "screw ", "thread ", "wind "};
constexpr std::array tightening_words{"tighten ", "torque "};

template <typename Words>
bool begins_with_any(const std::string& text, const Words& words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return text.starts_with(word); });
}

WrittenStep step_of(const Id& of, const std::string& of_name, StepKind kind, std::string text) {
  WrittenStep step;
  step.shown.kind = kind;
  step.shown.of = of;
  step.shown.of_name = of_name;
  step.shown.text = std::move(text);
  return step;
}

/// The steps as written, or `instead` where there are none. Where a second person is wanted and no step says
/// when, every step asks for one.
template <typename Owner>
Steps written(const Owner& owner, const std::vector<build::Step>& steps, StepKind kind, std::string instead) {
  Steps result;
  for (const build::Step& step : steps) {
    result.push_back(step_of(owner.id, owner.name, kind, step.text));
    result.back().id = step.id;
    result.back().after = step.after;
    result.back().place = static_cast<int>(result.size()) - 1;
    result.back().shown.helper = step.helper;
  }
  if (result.empty()) result.push_back(step_of(owner.id, owner.name, kind, std::move(instead)));
  return result;
}

bool any_helper(const std::vector<build::Step>& steps) {
  return std::any_of(steps.begin(), steps.end(), [](const build::Step& step) { return step.helper; });
}

void ask_for_helper(Steps& steps) {
  for (WrittenStep& step : steps) step.shown.helper = true;
}

/// The pattern as written; opposite pairs of a number that can be told at a glance are told.
std::string pattern_text(const build::Torque& torque) {
  constexpr int told_at_most = 16;
  const bool told = normal_tag(torque.pattern) == "opposite pairs" && torque.fasteners <= told_at_most;
  if (!told) return torque.pattern;
  const std::string order = fitment::write_sequence(fitment::tightening_sequence(torque.fasteners));
  return fmt::format("{} ({}, counted round)", torque.pattern, order);
}

std::string how_many(const build::Torque& torque) {
  if (torque.fasteners <= 1) return torque.pattern;
  const std::string count = fmt::format("{} fasteners", torque.fasteners);
  return torque.pattern.empty() ? count : count + ", " + pattern_text(torque);
}

/// In both units; a text that is no torque stands as written.
std::string torque_text(const std::string& value) {
  const auto reading = fitment::read_torque(value);
  return reading.written ? fitment::write_torque_both(reading.written->torque) : value;
}

void give_torque(WorkStep& step, const build::Torque& torque) {
  step.kind = StepKind::tighten;
  const std::string many = how_many(torque);
  if (!many.empty()) step.text += ": " + many;
  step.torque = torque_text(torque.value);
  step.source = torque.source;
}

/// The last step that speaks of the fastener; -1 if none does.
int last_about(const Steps& steps, const std::string& fastener) {
  if (fastener.empty()) return -1;
  for (int i = static_cast<int>(steps.size()) - 1; i >= 0; --i) {
    if (normal_tag(steps[i].shown.text).find(fastener) != std::string::npos) return i;
  }
  return -1;
}

/// Where a new tightening belongs: after step `about` and what is tightened there already, or at the end.
Steps::iterator place_after(Steps& steps, int about) {
  if (about < 0) return steps.end();
  const auto is_other = [](const WrittenStep& step) { return step.shown.kind != StepKind::tighten; };
  return std::find_if(steps.begin() + about + 1, steps.end(), is_other);
}

template <typename Owner>
void place_torque(Steps& steps, const Owner& owner, const build::Torque& torque) {
  const int about = last_about(steps, normal_tag(torque.on));
  const std::string text = about < 0 ? "" : normal_tag(steps[about].shown.text);
  const bool tightened = about >= 0 && steps[about].shown.kind == StepKind::tighten;
  if (!tightened && begins_with_any(text, tightening_words)) return give_torque(steps[about].shown, torque);
  const bool early = tightened || begins_with_any(text, fitting_words);
  WrittenStep tighten = step_of(owner.id, owner.name, StepKind::tighten, "Tighten " + torque.on);
  give_torque(tighten.shown, torque);
  steps.insert(place_after(steps, early ? about : -1), std::move(tighten));
}

std::string limits_of(const build::Check& check) {
  if (check.target.empty()) return check.limits;
  return check.limits.empty() ? check.target : check.target + "; " + check.limits;
}

template <typename Owner>
void finish(Steps& steps, const Owner& owner) {
  for (const build::Torque& torque : owner.torques) place_torque(steps, owner, torque);
  for (const build::Check& check : owner.checks) {
    steps.push_back(step_of(owner.id, owner.name, StepKind::check, check.what));
    steps.back().shown.limits = limits_of(check);
  }
}

/// Where the fresh one-use articles go in.
void name_one_use(Steps& steps, const build::Build& build, const build::Removal& removal) {
  std::map<int, std::vector<std::string>> fresh;
  for (const build::Use& use : removal.one_use) {
    const auto article = std::find_if(build.articles.begin(), build.articles.end(),
                                      [&](const build::Article& one) { return one.id == use.article; });
    if (article == build.articles.end()) continue;
    const int about = last_about(steps, normal_tag(article->name));
    fresh[std::max(0, about)].push_back(
        fmt::format("{} ({})", article->name, goods::write_amount(use.amount, article->unit)));
  }
  for (const auto& [step, articles] : fresh) {
    steps[static_cast<std::size_t>(step)].shown.text +=
        fmt::format("; new, never the old again: {}", fmt::join(articles, ", "));
  }
}

bool wants_helper_throughout(const build::Removal& removal) {
  return removal.helper && !any_helper(removal.off) && !any_helper(removal.on);
}

}  // namespace

std::vector<WrittenStep> off_steps(const build::Removal& removal) {
  Steps steps = written(removal, removal.off, StepKind::off, "Take off " + removal.name);
  if (wants_helper_throughout(removal)) ask_for_helper(steps);
  return steps;
}

std::vector<WrittenStep> on_steps(const build::Build& build, const build::Removal& removal) {
  Steps steps = written(removal, removal.on, StepKind::on, fmt::format("Put {} back on", removal.name));
  name_one_use(steps, build, removal);
  if (wants_helper_throughout(removal)) ask_for_helper(steps);
  finish(steps, removal);
  return steps;
}

std::vector<WrittenStep> job_steps(const build::Job& job) {
  Steps steps = written(job, job.steps, StepKind::work, job.name);
  if (job.helper && !any_helper(job.steps)) ask_for_helper(steps);
  finish(steps, job);
  return steps;
}

}  // namespace fettlefund::graph
