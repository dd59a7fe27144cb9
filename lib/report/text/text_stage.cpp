#include <string_view>

#include "lib/goods/packs.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::StageView;

/// "2 x 1 l", "1 x 50 piece": packs, and what is in one where it is not a single piece.
std::string packs_of(const planning::ShoppingLine& line) {
  const bool plain = line.pack == 1000 && line.unit == "piece";
  const std::string pack =
      plain ? "" : fmt::format(" x {} {}", goods::write_quantity(line.pack), text::printable(line.unit));
  return fmt::format("{}{}", line.packs, pack);
}

std::string used_by(const planning::ShoppingLine& line) {
  std::vector<std::string> names;
  for (const planning::NeededBy& user : line.needed_by) names.push_back(text::printable(user.name));
  return planning::list_text(names);
}

/// "; 920 ml used, 80 ml left over", where packs and use differ and the line is for its own stage.
std::string kept_of(const StageView& stage, const planning::ShoppingLine& line) {
  if (line.for_stage + 1 != stage.number) return {};
  for (const planning::UsedLine& used : stage.used) {
    if (used.article != line.article || (used.left == 0 && used.amount == line.packs * line.pack)) continue;
    std::string text = fmt::format("; {} used", goods::write_amount(used.amount, text::printable(used.unit)));
    if (used.left > 0)
      text += fmt::format(", {} left over", goods::write_amount(used.left, text::printable(used.unit)));
    return text;
  }
  return {};
}

void add_line(Page& page, const StageView& stage, const planning::ShoppingLine& line) {
  page.amount(6, fmt::format("[ ] {}  {}", packs_of(line), text::printable(line.name)), line.amount);
  std::string about = "for " + used_by(line);
  if (line.for_stage + 1 != stage.number) about += fmt::format(" in stage {}", line.for_stage + 1);
  about += fmt::format("; arrives {}", budgets::write_date(line.arrives));
  about += kept_of(stage, line);
  if (line.last_order_day) about += fmt::format(", order by {}", budgets::write_date(*line.last_order_day));
  page.item("", about, 10);
  if (!line.reason.empty()) page.item("", "easily forgotten: " + text::printable(line.reason), 10);
}

void add_order(Page& page, const StageView& stage, const planning::OrderView& order) {
  page.line("    " + text::printable(order.supplier_name));
  for (const planning::ShoppingLine& line : order.lines) add_line(page, stage, line);
  if (order.delivery > budgets::Money()) {
    page.amount(6, "delivery", order.delivery);
  } else if (order.delivery_charge > budgets::Money()) {
    page.line(fmt::format("      delivery free from {}", page.money(order.free_from.value_or(order.goods))));
  }
}

void add_buying(Page& page, const StageView& stage) {
  if (stage.spent == budgets::Money()) return;
  page.label("Buy");
  for (const planning::OrderView& order : stage.orders) add_order(page, stage, order);
  for (const planning::HireLine& hire : stage.hires)
    page.amount(4, "hire: " + text::printable(hire.name), hire.amount);
  for (const planning::FeeLine& fee : stage.fee_lines)
    page.amount(4, "fee: " + text::printable(fee.name), fee.amount);
  if (stage.allowance > budgets::Money()) page.amount(4, "for the unforeseen", stage.allowance);
  page.amount(4, "spent", stage.spent);
}

/// A text as a sentence: with a full stop, unless it has an end of its own.
std::string sentence(std::string text) {
  if (!text.empty() && std::string_view(".!?").find(text.back()) == std::string_view::npos) text += '.';
  return text;
}

void add_reminders(Page& page, const StageView& stage) {
  if (stage.reminders.empty()) return;
  page.label("Easily forgotten");
  for (const planning::Reminder& reminder : stage.reminders) {
    std::string about = fmt::format("{} ({}): {}", text::printable(reminder.article),
                                    goods::write_amount(reminder.amount, text::printable(reminder.unit)),
                                    sentence(text::printable(reminder.why)));
    about += " For " + text::printable(goods::who_needs(reminder)) + ".";
    if (reminder.bought) about += reminder.amount_paid_in_plan ? " In the orders." : " In stock by then.";
    page.item("    [ ]", about, 8);
  }
}

/// The sessions that begin, or go on, with the step.
void add_sessions_at(Page& page, const StageView& stage, int step) {
  for (const planning::SessionView& session : stage.sessions) {
    if (session.last_step > 0 && session.first_step == step)
      page.item("    session", planning::session_text(session), 16);
  }
}

void add_steps(Page& page, const StageView& stage) {
  for (const planning::WorkStep& step : stage.work) {
    add_sessions_at(page, stage, step.number);
    std::string about = text::printable(step.text);
    if (step.text != step.of_name) about = text::printable(step.of_name) + ": " + about;
    for (const std::string* more : {&step.torque, &step.limits}) {
      if (!more->empty()) about += ", " + text::printable(*more);
    }
    if (!step.source.empty()) about += " (" + text::printable(step.source) + ")";
    if (step.helper) about += " [second person]";
    for (const std::string& caution : step.cautions) page.item("        mind", text::printable(caution), 16);
    page.item(fmt::format("    {:>3} {:8}", step.number, graph::kind_text(step.kind)), about, 16);
  }
}

/// What is used and not bought for the stage.
void add_from_the_house(Page& page, const StageView& stage) {
  for (const planning::UsedLine& used : stage.used) {
    const bool bought = used.from.size() != 1 || used.from.front() != planning::from_the_house;
    if (bought) continue;
    std::string about =
        fmt::format("{} {}, there already", goods::write_amount(used.amount, text::printable(used.unit)),
                    text::printable(used.name));
    if (used.left > 0)
      about += fmt::format(", {} left over", goods::write_amount(used.left, text::printable(used.unit)));
    page.item("    use", about, 12);
  }
}

void add_work(Page& page, const StageView& stage) {
  if (stage.jobs.empty()) return;
  page.label("Do");
  for (const planning::RemovalView& removal : stage.removals) {
    std::vector<std::string> names;
    for (const std::string& name : removal.for_jobs) names.push_back(text::printable(name));
    page.item(
        removal.for_good ? "    off" : "    off/on",
        fmt::format("{}{}, {}, for {}", text::printable(removal.name), removal.for_good ? " for good" : "",
                    planning::hours_text(removal.minutes), planning::list_text(names)),
        12);
  }
  for (const planning::JobView& job : stage.jobs) {
    page.item("    job",
              fmt::format("{}, {}{}", text::printable(job.name), planning::hours_text(job.minutes),
                          job.must ? ", must" : ""),
              12);
    if (!job.manual.empty()) page.item("", "manual: " + text::printable(job.manual), 12);
    if (!job.note.empty()) page.item("", "note: " + text::printable(job.note), 12);
  }
  for (const std::string& group : stage.groups) page.item("", text::printable(group), 12);
  for (const planning::SessionLine& line : planning::session_lines(stage)) {
    page.item("    session", line.text, 12);
    for (const std::string& text : line.overnight) page.item("", text::printable(text), 12);
  }
  add_from_the_house(page, stage);
  if (page.options().steps) add_steps(page, stage);
}

void add_due(Page& page, const planning::Outcome& outcome, const StageView& stage) {
  if (stage.while_off.empty()) return;
  page.label("While it is off");
  for (const planning::DuePart& part : stage.while_off) {
    std::string about =
        fmt::format("{}: service life ends {}", text::printable(part.name), budgets::write_date(part.due));
    if (part.overdue_months > 0) about += fmt::format(", {} months over by then", part.overdue_months);
    if (part.chosen) {
      about += "; renewed in this stage";
    } else if (part.extra_money && part.extra_minutes) {
      about += fmt::format("; renewing it here would take {} and {} more",
                           planning::money_text(*outcome.build, *part.extra_money),
                           planning::hours_text(*part.extra_minutes));
    }
    if (!part.chosen && part.renewed_in)
      about += fmt::format("; the plan renews it in stage {}", *part.renewed_in + 1);
    page.item("    -", about + ".", 6);
  }
}

}  // namespace

void add_stage(Page& page, const planning::Outcome& outcome, const StageView& stage) {
  page.heading(fmt::format("Stage {}: payday {}, bench {}", stage.number, budgets::write_date(stage.payday),
                           planning::bench_text(stage)));
  for (const build::Extra& extra : stage.extras) {
    page.amount(2, fmt::format("{} {}", budgets::write_date(extra.date), text::printable(extra.what)),
                extra.amount);
  }
  if (!stage.bench_note.empty()) {
    page.item(
        "  Bench time:",
        fmt::format("{}, {}", planning::hours_text(stage.minutes_limit), text::printable(stage.bench_note)),
        14);
  }
  if (stage.jobs.empty() && stage.spent == budgets::Money()) page.line("  Nothing to buy or do.");
  add_buying(page, stage);
  add_reminders(page, stage);
  add_work(page, stage);
  add_due(page, outcome, stage);
  page.amount(2, fmt::format("Left, of which {} must stay", page.money(stage.floor)), stage.cash_after);
}

}  // namespace fettlefund::report
