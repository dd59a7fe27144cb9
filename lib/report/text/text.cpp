#include "lib/report/text/text.hpp"

#include "lib/outcome/words.hpp"
#include "lib/report/text/columns.hpp"
#include "lib/report/text/page.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

/// By how many percent the bound is above the value, rounded up to one decimal; "" where there is no value.
std::string gap_percent(std::int64_t value, std::int64_t bound) {
  if (value <= 0) return {};
  const std::int64_t tenths = ((bound - value) * 1000 + value - 1) / value;
  return fmt::format("{}.{}", tenths / 10, tenths % 10);
}

/// Among which plans it is the best.
std::string among(const planning::Outcome& outcome) {
  return outcome.agreed_kept > 0 ? " that leaves as many agreed jobs in their stages" : "";
}

}  // namespace

std::string proof_line(const planning::Outcome& outcome) {
  const std::string value = planning::want_months_text(outcome.value_want_days);
  if (outcome.proof == planning::Proof::proven) {
    return fmt::format("Proven best: this plan is worth {} want-months, and no plan{} is worth more{}.",
                       value, among(outcome), outcome.ties_proven ? ", nor as much for less money" : "");
  }
  const std::string gap = gap_percent(outcome.value_want_days, outcome.bound_want_days);
  return fmt::format("Not proven best: this plan is worth {} want-months; no plan{} is worth more than {}{}.",
                     value, among(outcome), planning::want_months_text(outcome.bound_want_days),
                     gap.empty() ? "" : fmt::format(", at most {} percent more", gap));
}

std::string text(const planning::Outcome& outcome, const TextOptions& options) {
  Page page(&outcome, options);
  add_overview(page, outcome);
  add_so_far(page, outcome);
  for (const planning::StageView& stage : outcome.stages) add_stage(page, outcome, stage);
  add_rest(page, outcome);
  page.blank();
  page.item("", proof_line(outcome), 0);
  return page.take();
}

std::string text(const planning::Conflict& conflict, const TextOptions& options) {
  Page page(nullptr, options);
  page.line(page.warn("No plan keeps all the demands of this build. That is proven."));
  for (const std::string& sentence : conflict.sentences) page.item("  -", printable(sentence), 4);
  return page.take();
}

}  // namespace fettlefund::report
