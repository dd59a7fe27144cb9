#include "lib/report/text/purse.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

constexpr int build_width = 36, done_width = 10, bench_width = 12, sum_width = 14;

/// Width of the money columns: as wide as the widest figure, at least 9.
int reserve_width(const Page& page, const purse::Outcome& outcome) {
  int width = 9;
  for (const purse::StageSum& stage : outcome.stages) {
    for (const budgets::Money amount : {stage.cash_in, stage.spent, stage.cash_after})
      width = std::max(width, text::display_width(page.money(amount)));
  }
  return width;
}

/// "2.5 of 8 h".
std::string hours_of(const purse::StageSum& stage) {
  const std::string used = planning::hours_text(stage.minutes_used);
  const std::string limit = planning::hours_text(stage.minutes_limit);
  const bool plain = used.ends_with(" h") && limit.ends_with(" h");
  return (plain ? used.substr(0, used.size() - 2) : used) + " of " + limit;
}

void add_stages(Page& page, const purse::Outcome& outcome) {
  const int width = reserve_width(page, outcome);
  page.line(page.bold(fmt::format("{:>5}  {:10}  {:10}  {:>{}}  {:>{}}  {:>{}}  {}", "Stage", "Payday",
                                  "Bench", "In", width, "Spent", width, "Left", width, "Hours")));
  for (const purse::StageSum& stage : outcome.stages) {
    page.line(fmt::format("{:>5}  {}  {}  {:>{}}  {:>{}}  {:>{}}  {}", stage.number,
                          budgets::write_date(stage.payday), budgets::write_date(stage.bench),
                          page.money(stage.cash_in), width, page.money(stage.spent), width,
                          page.money(stage.cash_after), width, hours_of(stage)));
  }
}

void add_builds(Page& page, const purse::Outcome& outcome) {
  page.heading("Builds");
  page.line("  " + text::pad_right("", build_width - 2) + text::pad_left("jobs", done_width) +
            text::pad_left("hours", bench_width) + text::pad_left("spent", sum_width));
  for (const purse::Share& share : outcome.shares) {
    std::size_t jobs = 0;
    std::int64_t minutes = 0;
    budgets::Money spent;
    for (const planning::StageView& stage : share.outcome.stages) {
      jobs += stage.jobs.size();
      minutes += stage.minutes_used;
      spent += stage.spent;
    }
    std::string name = "  " + text::printable(share.build->name);
    if (text::display_width(name) >= build_width) {
      page.line(name);
      name.clear();
    }
    page.line(text::pad_right(name, build_width) +
              text::pad_left(fmt::format("{} of {}", jobs, share.build->jobs.size()), done_width) +
              text::pad_left(planning::hours_text(minutes), bench_width) +
              text::pad_left(page.money(spent), sum_width));
  }
}

/// "12 stages"; of a purse under way "Stages 4 to 12 of 12".
std::string stages_of(const purse::Outcome& outcome) {
  const build::MoneyPlan& money = outcome.build->money;
  if (!money.from) return fmt::format("{} stages", outcome.stages.size());
  return fmt::format("Stages {} to {} of {}", money.stages_over + 1, money.stages, money.stages);
}

void add_overview(Page& page, const purse::Outcome& outcome) {
  const build::Build& purse = *outcome.build;
  page.title(text::printable(purse.name));
  const std::optional<budgets::Date>& from = purse.money.from;
  page.item("",
            fmt::format("{} on one purse. {}, amounts in {}, {} {}, at least {} kept back.",
                        outcome.shares.size() == 1 ? std::string("1 build")
                                                   : fmt::format("{} builds", outcome.shares.size()),
                        stages_of(outcome), purse.currency.code,
                        from ? "cash on " + budgets::write_date(*from) : std::string("opening cash"),
                        page.money(purse.money.opening), page.money(purse.money.keep_back)),
            0);
  page.blank();
  add_stages(page, outcome);
  add_builds(page, outcome);
  page.blank();
  page.item("", proof_line(outcome.whole), 0);
}

}  // namespace

std::string purse_text(const purse::Outcome& outcome, const TextOptions& options) {
  Page page(&outcome.whole, options);
  if (options.stage == 0) add_overview(page, outcome);
  TextOptions own = options;
  own.as_of.clear();
  own.proof = false;
  std::string all = page.take();
  if (options.brief) return all;
  for (const purse::Share& share : outcome.shares) {
    if (!all.empty()) all += '\n';
    if (options.stage > 0) all += text::printable(share.build->name) + "\n";
    all += text(share.outcome, own);
  }
  return all;
}

}  // namespace fettlefund::report
