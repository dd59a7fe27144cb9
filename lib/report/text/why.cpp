#include "lib/report/text/why.hpp"

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using budgets::Least;
using budgets::Possible;
using planning::WhyReport;
using planning::WhyStage;

constexpr int verdict_width = 29, cash_width = 16;

std::string verdict(const WhyStage& stage) {
  if (stage.possible == Possible::unknown) return "not known";
  if (stage.possible == Possible::no) {
    if (stage.stopped_by.empty()) return "no";
    std::string rules = stage.stopped_by[0];
    for (std::size_t i = 1; i < stage.stopped_by.size(); ++i) rules += " + " + stage.stopped_by[i];
    return "no: " + (rules.size() > verdict_width - 5 ? stage.stopped_by[0] + " and more" : rules);
  }
  if (stage.loss < 0) return "yes, and better";
  if (stage.loss == 0 && stage.least_loss == 0) return "yes, about as good";
  if (stage.loss != stage.least_loss)
    return "yes, at most " + planning::want_months_at_most_text(stage.loss) + " less";
  return "yes, " + planning::want_months_text(stage.loss) + " want-months less";
}

/// "12.40", "<= 12.40" where less may do, ">= 3.00" where only that is known, "never".
template <class Amount>
std::string figure(const budgets::LeastExtra& extra, const Amount& amount) {
  const Least& least = extra.best.exact() || extra.best.never ? extra.best : extra.as_good;
  if (least.never) return "never";
  if (least.exact()) return amount(*least.at_most);
  if (least.at_most) return "<= " + amount(*least.at_most);
  return least.at_least > 0 ? ">= " + amount(least.at_least) : "?";
}

void add_table(Page& page, const WhyReport& why) {
  page.blank();
  page.line("Stage  Bench       " + text::pad_right("Could it be there?", verdict_width) +
            text::pad_left("moved by money", cash_width) + text::pad_left("by hours there", cash_width));
  for (const WhyStage& stage : why.stages) {
    const std::string cash = figure(stage.cash, [&](std::int64_t amount) {
      return budgets::write_money(budgets::Money::of_minor(amount), why.build->currency);
    });
    const std::string hours = figure(stage.minutes, planning::hours_text);
    page.line(fmt::format("{:>5}  {}  ", stage.number, budgets::write_date(stage.bench)) +
              text::pad_right(verdict(stage), verdict_width) + text::pad_left(cash, cash_width) +
              text::pad_left(hours, cash_width));
  }
}

void add_head(Page& page, const WhyReport& why) {
  const std::string job = text::printable(why.name);
  if (why.stage > 0) {
    page.title(
        fmt::format("{}: why {} and not earlier?", job, planning::stage_text(why.stage - 1, why.bench)));
  } else {
    page.title(job + ": why is it left out?");
    if (!why.left_out.empty()) page.item("  ", text::printable(why.left_out) + ".", 2);
  }
  if (why.proof == planning::Proof::stopped) {
    page.item("", "The plan asked about is the best found, not proven best; try --effort thorough.", 0);
  }
  if (why.stages.empty() && why.stage > 0) {
    page.item("", "There is no earlier stage to ask about.", 0);
  }
}

void add_detail(Page& page, const WhyStage& stage) {
  page.heading(fmt::format("Stage {}, bench {}", stage.number, budgets::write_date(stage.bench)));
  for (const std::string& sentence : stage.sentences) page.item("  -", text::printable(sentence), 4);
}

}  // namespace

std::string why_text(const WhyReport& why, const TextOptions& options) {
  Page page(nullptr, options);
  add_head(page, why);
  if (why.stages.empty()) return page.take();
  add_table(page, why);
  add_detail(page, why.stages.back());
  if (why.stages.size() > 1) {
    page.blank();
    page.item("", "Other stages in words: --stage N.", 0);
  }
  page.heading("How to read this");
  page.item("  -",
            "\"moved by money\": more cash at the start; \"by hours there\": more bench time in that stage. "
            "\"<=\": "
            "less may do; \"?\": not known; \"never\": proven that it does not help.",
            4);
  for (const std::string& note : why.notes) page.item("  -", text::printable(note), 4);
  return page.take();
}

}  // namespace fettlefund::report
