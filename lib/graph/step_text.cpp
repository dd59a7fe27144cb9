#include "lib/graph/step_text.hpp"

#include <algorithm>
#include <map>

#include "lib/drive/links.hpp"
#include "lib/goods/packs.hpp"
#include "lib/graph/tag.hpp"
#include "lib/graph/tightening.hpp"
#include "lib/trade/kinds.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

using Steps = std::vector<WrittenStep>;

template <typename Owner>
WrittenStep step_of(const Owner& owner, StepKind kind, std::string text) {
  WrittenStep step;
  step.shown.kind = kind;
  step.shown.of = owner.id;
  step.shown.of_job = std::is_same_v<Owner, build::Job>;
  step.shown.of_name = owner.name;
  step.shown.text = step.said = std::move(text);
  return step;
}

/// The steps as written, or `instead` where there are none. Where a second person is wanted and no step says
/// when, every step asks for one.
template <typename Owner>
Steps written(const Owner& owner, const std::vector<build::Step>& steps, StepKind kind, std::string instead) {
  Steps result;
  for (const build::Step& step : steps) {
    result.push_back(step_of(owner, kind, step.text));
    result.back().id = step.id;
    result.back().after = step.after;
    result.back().place = static_cast<int>(result.size()) - 1;
    result.back().fits = step.fits;
    result.back().tightens = step.tightens;
    result.back().shown.helper = step.helper;
  }
  if (result.empty()) result.push_back(step_of(owner, kind, std::move(instead)));
  return result;
}

bool any_helper(const std::vector<build::Step>& steps) {
  return std::any_of(steps.begin(), steps.end(), [](const build::Step& step) { return step.helper; });
}

void ask_for_helper(Steps& steps) {
  for (WrittenStep& step : steps) step.shown.helper = true;
}

std::string limits_of(const build::Check& check) {
  if (check.target.empty()) return check.limits;
  return check.limits.empty() ? check.target : check.target + "; " + check.limits;
}

template <typename Owner>
void add_checks(Steps& steps, const Owner& owner) {
  for (const build::Check& check : owner.checks) {
    steps.push_back(step_of(owner, StepKind::check, check.what));
    steps.back().shown.limits = limits_of(check);
    steps.back().whole = check.whole;
  }
}

const build::Article* article_of(const build::Build& build, const Id& id) {
  const auto found = std::find_if(build.articles.begin(), build.articles.end(),
                                  [&](const build::Article& one) { return one.id == id; });
  return found == build.articles.end() ? nullptr : &*found;
}

std::string amount_of(const build::Article& article, const build::Use& use) {
  return fmt::format("{} ({})", article.name, goods::write_amount(use.amount, article.unit));
}

constexpr const char* new_and = "new, never the old again: ";

/// Where the fresh one-use articles go in: at the step that fits them, at the last one that speaks of them or
/// that locks with such a thing; -1: no step tells.
int step_for(const Steps& steps, const build::Article& article) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (steps[i].fits == article.id) return static_cast<int>(i);
  }
  const int about = last_about(steps, normal_tag(article.name));
  if (about >= 0 || !is_lock(article)) return about;
  for (int i = static_cast<int>(steps.size()) - 1; i >= 0; --i) {
    const WrittenStep& step = steps[static_cast<std::size_t>(i)];
    if (step.locking && step.fits.empty() && puts_in_a_lock(normal_tag(step.said))) return i;
  }
  return -1;
}

/// The one-use articles of a removal among its steps as written; what locks and has no step of its own is
/// left for after the tightening.
class OneUse {
 public:
  OneUse(Steps& steps, const build::Build& build, const build::Removal& removal)
      : steps_(steps), removal_(removal) {
    for (const build::Use& use : removal.one_use) {
      const build::Article* article = article_of(build, use.article);
      if (article != nullptr) sort(*article, use);
    }
  }

  void name() {
    for (const auto& [step, articles] : at_) {
      steps_[step].shown.text += fmt::format("; {}{}", new_and, fmt::join(articles, ", "));
    }
    if (loose_.empty()) return;
    if (steps_.size() == 1) {
      steps_.front().shown.text += fmt::format("; {}{}", new_and, fmt::join(loose_, ", "));
      return;
    }
    steps_.insert(steps_.begin(), step_of(removal_, StepKind::on,
                                          fmt::format("Lay out for putting {} back on; {}{}", removal_.name,
                                                      new_and, fmt::join(loose_, ", "))));
  }

  void lock() {
    if (locks_.empty()) return;
    steps_.push_back(
        step_of(removal_, StepKind::lock, fmt::format("Lock it; {}{}", new_and, fmt::join(locks_, ", "))));
  }

 private:
  void sort(const build::Article& article, const build::Use& use) {
    const std::string text = amount_of(article, use);
    const int step = step_for(steps_, article);
    if (step >= 0) {
      at_[static_cast<std::size_t>(step)].push_back(text);
    } else if (is_lock(article)) {
      locks_.push_back(text);
    } else {
      loose_.push_back(text);
    }
  }

  Steps& steps_;
  const build::Removal& removal_;
  std::map<std::size_t, std::vector<std::string>> at_;
  std::vector<std::string> loose_, locks_;
};

/// Names the articles that the steps fit, each with its whole amount at the first step that does.
void name_fitted(Steps& steps, const build::Build& build, const std::vector<build::Use>& uses) {
  for (const build::Use& use : uses) {
    const build::Article* article = article_of(build, use.article);
    const auto step = std::find_if(steps.begin(), steps.end(),
                                   [&](const WrittenStep& one) { return one.fits == use.article; });
    if (article != nullptr && step != steps.end()) step->shown.text += "; " + amount_of(*article, use);
  }
}

bool wants_helper_throughout(const build::Removal& removal) {
  return removal.helper && !any_helper(removal.off) && !any_helper(removal.on);
}

/// Steps that lock: by their words, or by what they fit.
void mark_locks(Steps& steps, const build::Build& build) {
  for (WrittenStep& step : steps) {
    const build::Article* fits = step.fits.empty() ? nullptr : article_of(build, step.fits);
    step.locking =
        step.tightens.empty() && (locks(normal_tag(step.said)) || (fits != nullptr && is_lock(*fits)));
    if (step.locking) step.shown.kind = StepKind::lock;
  }
}

template <typename Owner>
void tighten(Steps& steps, const Owner& owner) {
  place_torques(steps, owner.torques, step_of(owner, StepKind::tighten, ""));
}

}  // namespace

std::vector<WrittenStep> off_steps(const build::Removal& removal) {
  const char* more = removal.for_good ? " for good" : "";
  Steps steps =
      written(removal, removal.off, StepKind::off, fmt::format("Take off {}{}", removal.name, more));
  if (wants_helper_throughout(removal)) ask_for_helper(steps);
  return steps;
}

std::vector<WrittenStep> on_steps(const build::Build& build, const build::Removal& removal) {
  Steps steps = written(removal, removal.on, StepKind::on, fmt::format("Put {} back on", removal.name));
  if (removal.for_good) {
    steps.front().hidden = true;
    return steps;
  }
  mark_locks(steps, build);
  OneUse spoilt(steps, build, removal);
  spoilt.name();
  if (wants_helper_throughout(removal)) ask_for_helper(steps);
  tighten(steps, removal);
  spoilt.lock();
  add_checks(steps, removal);
  return steps;
}

std::vector<WrittenStep> job_steps(const build::Build& build, const build::Job& job) {
  Steps steps = written(job, job.steps, StepKind::work, job.name);
  mark_locks(steps, build);
  name_fitted(steps, build, planning::uses_of(build, job));
  if (job.helper && !any_helper(job.steps)) ask_for_helper(steps);
  tighten(steps, job);
  add_checks(steps, job);
  for (const std::string& check : trade::checks_of(build, job))
    steps.push_back(step_of(job, StepKind::check, check));
  return steps;
}

}  // namespace fettlefund::graph
