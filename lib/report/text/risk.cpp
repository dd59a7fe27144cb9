#include "lib/report/text/risk.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using budgets::Chance;
using planning::RiskReport;

constexpr std::size_t articles_shown = 3, arrivals_shown = 5;
constexpr int amounts_width = 11, chance_width = 9, error_width = 7;

/// "97.31 %"; never "100.00 %" or "0.00 %" unless it was so in all samples or in none.
std::string percent(const Chance& chance) {
  if (chance.always_or_never()) return chance.hits == 0 ? std::string("0 %") : std::string("100 %");
  return fmt::format("{:.2f} %", std::clamp(100 * chance.share(), 0.01, 99.99));
}

/// The standard error in percent, or what takes its place at 0 and 100 percent.
std::string error(const Chance& chance) {
  const double error = chance.always_or_never() ? chance.rule_of_three() : chance.standard_error();
  return fmt::format("{}{:.2f}", chance.always_or_never() ? "<" : "", 100 * error);
}

/// As part of a sentence.
std::string both(const Chance& chance) {
  if (chance.always_or_never()) return chance.hits == 0 ? "0 % (no sample)" : "100 % (all samples)";
  return fmt::format("{} (+/- {})", percent(chance), error(chance));
}

std::string row(const std::vector<std::string>& money, const std::vector<std::string>& chances) {
  std::string all;
  for (const std::string& amount : money) all += text::pad_left(amount, amounts_width);
  for (std::size_t i = 0; i < chances.size(); ++i) {
    all += text::pad_left(chances[i], i % 2 == 0 ? chance_width : error_width);
  }
  return all;
}

std::string stage_row(const RiskReport& risk, const planning::RiskStage& stage) {
  const auto money = [&](budgets::Money amount) {
    return budgets::write_money(amount, risk.build->currency);
  };
  std::vector<std::string> chances = {percent(stage.holds), error(stage.holds)};
  if (risk.uncertain_leads > 0) chances.insert(chances.end(), {percent(stage.in_time), error(stage.in_time)});
  return fmt::format("{:>3} {}", stage.number, budgets::write_date(stage.payday)) +
         row({money(stage.floor), money(stage.planned), money(stage.lowest)}, chances);
}

void add_stages(Page& page, const RiskReport& risk) {
  std::vector<std::string> chances = {"held", "+/-"};
  if (risk.uncertain_leads > 0) chances.insert(chances.end(), {"in time", "+/-"});
  page.blank();
  page.line("    payday    " + row({"to keep", "planned", "lowest"}, chances));
  for (const planning::RiskStage& stage : risk.stages) {
    const bool weak = 10 * stage.holds.hits < 9 * stage.holds.samples;
    page.line(weak ? page.warn(stage_row(risk, stage)) : stage_row(risk, stage));
  }
}

std::string buffer_text(const RiskReport& risk, const budgets::Buffer& buffer) {
  const auto money = [&](budgets::Money amount) { return planning::money_text(*risk.build, amount); };
  const std::string range = fmt::format("{} to {}", money(buffer.low), money(buffer.high));
  if (buffer.high == budgets::Money()) return "none needed for 9 in 10";
  if (buffer.amount == budgets::Money()) {
    return fmt::format("none needed for 9 in 10 (two standard errors: {})", range);
  }
  return fmt::format("{} more cash at the start makes it 9 in 10 (two standard errors: {})",
                     money(buffer.amount), range);
}

void add_money(Page& page, const RiskReport& risk, const Chance& all, const budgets::Buffer& buffer) {
  page.item("  Money:   ", fmt::format("every stage keeps what is to be kept in {}", both(all)), 11);
  page.item("  Buffer:  ", buffer_text(risk, buffer), 11);
}

void add_answers(Page& page, const RiskReport& risk) {
  page.heading(risk.allowance ? "Will it hold, the allowance kept?" : "Will it hold?");
  add_money(page, risk, risk.all, risk.buffer);
  if (risk.allowance) {
    page.heading("And if the allowance goes on other things, as planned?");
    add_money(page, risk, risk.all_if_spent, risk.buffer_if_spent);
  }
  page.heading("Will it arrive?");
  if (risk.uncertain_leads == 0) return page.item("  ", "All lead times of the plan are single figures.", 2);
  page.item("  ", fmt::format("Everything arrives for its bench date in {}.", both(risk.all_in_time)), 2);
}

void add_articles(Page& page, const RiskReport& risk) {
  if (risk.articles.empty()) return;
  page.heading("What carries the risk");
  for (std::size_t i = 0; i < std::min(risk.articles.size(), articles_shown); ++i) {
    const planning::RiskArticle& article = risk.articles[i];
    const std::string share =
        fmt::format("{:.1f} % (+/- {:.1f})", 100 * article.share, 100 * article.standard_error);
    page.item(fmt::format("{:>20}  ", share), text::printable(article.name), 22);
  }
}

void add_musts(Page& page, const RiskReport& risk) {
  if (risk.musts.empty()) return;
  page.label("What must be done, in time:");
  for (const planning::RiskMust& must : risk.musts) {
    const std::string when = must.by ? "by " + budgets::write_date(*must.by) : "by the end of the plan";
    page.item(fmt::format("{:>20}  ", both(must.in_time)),
              fmt::format("{}, {}, planned in stage {}", text::printable(must.name), when, must.stage), 22);
  }
}

void add_late(Page& page, const RiskReport& risk) {
  if (risk.late.empty()) return;
  page.label("Most often late:");
  for (std::size_t i = 0; i < std::min(risk.late.size(), arrivals_shown); ++i) {
    const planning::RiskArrival& late = risk.late[i];
    page.item(fmt::format("{:>20}  ", both(late.late)),
              fmt::format("{}, for stage {}", text::printable(late.name), late.for_stage), 22);
  }
  if (risk.late.size() > arrivals_shown) {
    page.line(fmt::format("  and {} more: --json tells them all", risk.late.size() - arrivals_shown));
  }
}

/// "10,000".
std::string grouped(std::int64_t number) {
  std::string digits = std::to_string(number);
  for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3) {
    digits.insert(static_cast<std::size_t>(at), 1, ',');
  }
  return digits;
}

void add_head(Page& page, const RiskReport& risk) {
  page.line(page.bold(text::printable(risk.build->name) + ": will the plan hold?"));
  page.item("",
            fmt::format("{} samples; {} of the plan's prices and {} of its lead times are ranges",
                        grouped(risk.samples), risk.uncertain_prices, risk.uncertain_leads),
            0);
  if (risk.uncertain_prices + risk.uncertain_leads == 0) {
    page.item("", "Nothing is drawn: give prices or lead times as low, likely and high to learn more.", 0);
  }
  if (risk.proof == planning::Proof::stopped) {
    page.item("", "The plan looked at is the best found, not proven best; try --effort thorough.", 0);
  }
}

void add_notes(Page& page, const RiskReport& risk) {
  page.heading("How to read this");
  page.item(
      "  -",
      "Amounts are cash after the payday, the allowance (if any) still in it; \"lowest\" is the least in "
      "any sample; \"held\" is how often at least what is to be kept was left. \"+/-\" is the standard error "
      "in percent; where something was so in all samples or "
      "in none, the true chance is within the figure after \"<\" of that (95 in 100).",
      4);
  for (const std::string& note : risk.notes) page.item("  -", text::printable(note), 4);
}

}  // namespace

std::string risk_text(const RiskReport& risk, const TextOptions& options) {
  Page page(nullptr, options);
  add_head(page, risk);
  add_stages(page, risk);
  add_answers(page, risk);
  add_musts(page, risk);
  add_articles(page, risk);
  add_late(page, risk);
  add_notes(page, risk);
  return page.take();
}

}  // namespace fettlefund::report
