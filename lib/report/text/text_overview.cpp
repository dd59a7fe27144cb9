#include <algorithm>

#include "lib/outcome/next_thing.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

/// "2.5 of 8 h".
std::string hours_of(const planning::StageView& stage) {
  const std::string used = planning::hours_text(stage.minutes_used);
  const std::string limit = planning::hours_text(stage.minutes_limit);
  const bool plain = used.ends_with(" h") && limit.ends_with(" h");
  return (plain ? used.substr(0, used.size() - 2) : used) + " of " + limit;
}

/// "12 stages"; of a build under way "stages 4 to 12 of 12".
std::string stages_of(const planning::Outcome& outcome) {
  if (!outcome.build->money.from) return fmt::format("{} stages", outcome.stages.size());
  const int all = outcome.build->money.stages;
  return fmt::format("Stages {} to {} of {}", outcome.build->money.stages_over + 1, all, all);
}

std::string cash_of(const build::Build& build) {
  if (!build.money.from) return "opening cash";
  return "cash on " + budgets::write_date(*build.money.from);
}

/// Width of the money columns: as wide as the widest figure, at least 9.
int money_width(const Page& page, const planning::Outcome& outcome) {
  int width = 9;
  for (const planning::StageView& stage : outcome.stages) {
    for (const budgets::Money amount : {stage.cash_in, stage.spent, stage.cash_after}) {
      width = std::max(width, text::display_width(page.money(amount)));
    }
  }
  return width;
}

}  // namespace

void add_overview(Page& page, const planning::Outcome& outcome) {
  const build::Build& build = *outcome.build;
  page.line(page.bold(text::printable(build.name)));
  if (!build.about.empty()) page.item("", text::printable(build.about), 0);
  page.item(
      "",
      fmt::format("{}, amounts in {}, {} {}, at least {} kept back.", stages_of(outcome), build.currency.code,
                  cash_of(build), page.money(build.money.opening), page.money(build.money.keep_back)),
      0);
  page.blank();
  for (const std::string& sentence : planning::next_things(outcome))
    page.item("Next:", text::printable(sentence), 6);
  page.blank();
  const int width = money_width(page, outcome);
  page.line(page.bold(fmt::format("{:>5}  {:10}  {:10}  {:>{}}  {:>{}}  {:>{}}  {}", "Stage", "Payday",
                                  "Bench", "In", width, "Spent", width, "Left", width, "Hours")));
  for (const planning::StageView& stage : outcome.stages) {
    const bool none = stage.by_sessions && stage.sessions.empty();
    page.line(fmt::format(
        "{:>5}  {}  {}  {:>{}}  {:>{}}  {:>{}}  {}", stage.number, budgets::write_date(stage.payday),
        none ? "no session" : budgets::write_date(planning::first_day(stage)), page.money(stage.cash_in),
        width, page.money(stage.spent), width, page.money(stage.cash_after), width, hours_of(stage)));
  }
}

}  // namespace fettlefund::report
