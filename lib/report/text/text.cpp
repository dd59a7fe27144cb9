#include "lib/report/text/text.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

/// By how many percent the bound is above the value, rounded up to one decimal; "" where there is no value.
std::string gap_percent(std::int64_t value, std::int64_t bound) {
  if (value <= 0) return {};
  const std::int64_t tenths = ((bound - value) * 1000 + value - 1) / value;
  return fmt::format("{}.{}", tenths / 10, tenths % 10);
}

constexpr std::int64_t telling_want = 5;       ///< of the job by which a gap is told
constexpr std::int64_t small_gap_share = 200;  ///< half a percent and less is small

std::int64_t parts_of(std::int64_t whole, std::int64_t part) { return (whole + part - 1) / part; }

/// A gap as something the builder knows: a job done sooner, or where that would be sooner than the plan is
/// long, more jobs done at its start.
std::string gap_in_jobs(const planning::Outcome& outcome, std::int64_t gap) {
  const std::int64_t sooner = parts_of(gap, telling_want);
  const std::int64_t length = outcome.stages.empty() ? 0 : outcome.end - outcome.stages.front().bench;
  if (outcome.stages.empty() || sooner <= length) {
    return fmt::format("what a job of want {} gains by being done {} {} sooner", telling_want, sooner,
                       sooner == 1 ? "day" : "days");
  }
  return fmt::format("what {} more jobs of want {}, done in the first stage, would bring",
                     parts_of(sooner, std::max<std::int64_t>(length, 1)), telling_want);
}

/// Among which plans it is the best.
std::string among(const planning::Outcome& outcome) {
  return outcome.agreed_kept > 0 ? " that leaves as many agreed jobs in their stages" : "";
}

}  // namespace

std::string proof_line(const planning::Outcome& outcome) {
  const std::string value = planning::want_months_text(outcome.value_want_days);
  if (!outcome.purse.empty()) {
    return fmt::format(
        "This build's part of the plan of {} is worth {} want-months; what is proven is told of the whole.",
        outcome.purse, value);
  }
  if (outcome.proof == planning::Proof::proven) {
    return fmt::format("Proven best: this plan is worth {} want-months, and no plan{} is worth more{}.",
                       value, among(outcome), outcome.ties_proven ? ", nor as much for less money" : "");
  }
  const std::string gap = gap_percent(outcome.value_want_days, outcome.bound_want_days);
  return fmt::format("Not proven best: this plan is worth {} want-months; no plan{} is worth more than {}{}.",
                     value, among(outcome), planning::want_months_at_most_text(outcome.bound_want_days),
                     gap.empty() ? "" : fmt::format(", at most {} percent more", gap));
}

std::string gap_sentence(const planning::Outcome& outcome, bool thorough) {
  if (outcome.proof == planning::Proof::proven) return {};
  const std::int64_t gap = outcome.bound_want_days - outcome.value_want_days;
  const std::string effort =
      thorough ? "this was the greatest effort, and more of it cannot be asked for"
      : gap * small_gap_share <= outcome.value_want_days
          ? "--effort thorough may prove the plan, but can hardly better it"
          : "--effort thorough looks longer and may find a better plan, or prove that there is none";
  return fmt::format("What that leaves open is at most {}; {}.", gap_in_jobs(outcome, gap), effort);
}

std::string text(const planning::Outcome& outcome, const TextOptions& options) {
  Page page(&outcome, options);
  if (options.stage > 0) {
    for (const planning::StageView& stage : outcome.stages) {
      if (stage.number == options.stage) add_stage(page, outcome, stage);
    }
    return page.take();
  }
  add_overview(page, outcome);
  if (!options.brief) {
    add_so_far(page, outcome);
    for (const planning::StageView& stage : outcome.stages) add_stage(page, outcome, stage);
    add_rest(page, outcome);
  }
  if (!options.proof) return page.take();
  page.blank();
  page.item("", proof_line(outcome), 0);
  if (const std::string open = gap_sentence(outcome, options.thorough); !open.empty()) page.item("", open, 0);
  return page.take();
}

std::string text(const planning::Conflict& conflict, const TextOptions& options) {
  Page page(nullptr, options);
  page.line(page.warn("No plan keeps all the demands of this build. That is proven."));
  for (const std::string& sentence : conflict.sentences) page.item("  -", text::printable(sentence), 4);
  return page.take();
}

}  // namespace fettlefund::report
