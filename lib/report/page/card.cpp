#include "lib/report/page/card.hpp"

#include "lib/goods/forgotten.hpp"
#include "lib/goods/packs.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/report/page/html.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::StageView;

/// With a full stop, unless the text has an end of its own.
std::string sentence(const std::string& text) {
  const bool ended = !text.empty() && (text.back() == '.' || text.back() == '!' || text.back() == '?');
  return ended ? text : text + ".";
}

class Card {
 public:
  Card(Html& html, const planning::Outcome& outcome, const StageView& stage)
      : html_(html), outcome_(outcome), stage_(stage) {}

  void write() {
    html_.line(fmt::format("<article class=\"card\" id=\"stage-{0}\" aria-labelledby=\"stage-{0}-head\">",
                           stage_.number));
    html_.line(
        fmt::format("<div class=\"again\" aria-hidden=\"true\">Stage {}, continued</div>", stage_.number));
    head();
    html_.line("<div class=\"flow\">");
    if (stage_.jobs.empty()) html_.line("<p>No work in this stage.</p>");
    html_.line("<div class=\"columns\">");
    parts();
    tools();
    html_.line("</div>");
    off();
    steps();
    left_over();
    while_off();
    html_.line("<div class=\"columns\">");
    orders();
    money();
    html_.line("</div>");
    forgotten();
    html_.line("</div></article>");
  }

 private:
  std::string key(const std::string& what) const { return fmt::format("{} {}", stage_.number, what); }

  std::string cash(budgets::Money amount) const {
    return html_text(budgets::write_money(amount, outcome_.build->currency));
  }

  static std::string amount(budgets::Quantity quantity, const std::string& unit) {
    return html_text(goods::write_amount(quantity, unit));
  }

  void head() {
    html_.line(fmt::format("<h2 id=\"stage-{0}-head\">Stage {0}: bench {1}</h2>", stage_.number,
                           planning::bench_text(stage_)));
    html_.line(fmt::format("<p>Payday {}. {} of {} at the bench.{}</p>", budgets::write_date(stage_.payday),
                           planning::hours_text(stage_.minutes_used),
                           planning::hours_text(stage_.minutes_limit),
                           stage_.bench_note.empty() ? "" : " " + html_text(stage_.bench_note) + "."));
    if (stage_.jobs.empty()) return;
    html_.line("<ol class=\"jobs\">");
    for (const planning::JobView& job : stage_.jobs) {
      std::string text = fmt::format("<strong>{}</strong>, {}{}", html_text(job.name),
                                     planning::hours_text(job.minutes), job.must ? ", must" : "");
      if (!job.manual.empty()) text += "; manual: " + html_text(job.manual);
      if (!job.note.empty()) text += "; note: " + html_text(job.note);
      html_.line("<li>" + text + "</li>");
    }
    html_.line("</ol>");
    for (const std::string& group : stage_.groups) html_.element("p", " class=\"soft\"", group);
  }

  void parts() {
    if (stage_.used.empty()) return;
    html_.line("<section><h3>Parts to lay out</h3><ul class=\"ticks\">");
    for (const planning::UsedLine& used : stage_.used) {
      std::vector<std::string> from;
      for (const std::string& one : used.from) from.push_back(html_text(one));
      html_.tick(key("part " + used.article),
                 fmt::format("{} <strong>{}</strong> <span class=\"soft\">({})</span>",
                             amount(used.amount, used.unit), html_text(used.name), fmt::join(from, "; ")));
    }
    html_.line("</ul></section>");
  }

  void tools() {
    if (stage_.tools.empty()) return;
    html_.line("<section><h3>Tools to lay out</h3><ul class=\"ticks\">");
    for (const planning::StageTool& tool : stage_.tools) {
      html_.tick(key("tool " + tool.id + tool.name), fmt::format("{} <span class=\"soft\">({})</span>",
                                                                 html_text(tool.name), html_text(tool.how)));
    }
    html_.line("</ul></section>");
  }

  void off() {
    if (stage_.removals.empty()) return;
    html_.line("<section><h3>Comes off</h3><ul>");
    for (const planning::RemovalView& removal : stage_.removals) {
      std::vector<std::string> jobs;
      for (const std::string& job : removal.for_jobs) jobs.push_back(html_text(job));
      html_.line(fmt::format("<li><strong>{}</strong>{}, {}, for {}</li>", html_text(removal.name),
                             removal.for_good ? " for good" : "", planning::hours_text(removal.minutes),
                             planning::list_text(jobs)));
    }
    html_.line("</ul></section>");
  }

  static std::string step_text(const planning::WorkStep& step) {
    std::string text =
        fmt::format("{}. <span class=\"kind\">{}</span> ", step.number, graph::kind_text(step.kind));
    if (step.text != step.of_name) text += html_text(step.of_name) + ": ";
    text += html_text(step.text);
    if (!step.torque.empty())
      text += fmt::format(", <span class=\"torque\">{}</span>", html_text(step.torque));
    if (!step.limits.empty())
      text += fmt::format(", <span class=\"torque\">{}</span>", html_text(step.limits));
    if (!step.source.empty())
      text += fmt::format(" <span class=\"soft\">({})</span>", html_text(step.source));
    if (step.helper) text += " <strong>two people</strong>";
    return text;
  }

  void steps() {
    if (stage_.work.empty()) return;
    html_.line("<section><h3>Steps</h3><ol class=\"steps\">");
    for (const planning::WorkStep& step : stage_.work) {
      sessions_at(step.number);
      for (const std::string& line : step.cautions) {
        html_.line(fmt::format("<li class=\"mind\"><strong>Mind:</strong> {}</li>", html_text(line)));
      }
      html_.tick(key(fmt::format("step {} {} {}", step.of_job ? "job" : "removal", step.of, step.text)),
                 step_text(step));
    }
    html_.line("</ol></section>");
  }

  /// The sessions that begin, or go on, with the step, and what each leaves open.
  void sessions_at(int step) {
    for (const planning::SessionView& session : stage_.sessions) {
      if (session.last_step == 0 || session.first_step != step) continue;
      html_.line(fmt::format("<li class=\"session\"><strong>Session {}</strong></li>",
                             html_text(planning::session_text(session))));
      for (const std::string& text : planning::overnight_texts(session))
        html_.line(fmt::format("<li class=\"mind\"><strong>At its end:</strong> {}</li>", html_text(text)));
    }
  }

  void left_over() {
    std::vector<std::string> items;
    for (const planning::UsedLine& used : stage_.used) {
      if (used.left > 0) items.push_back(amount(used.left, used.unit) + " " + html_text(used.name));
    }
    if (items.empty()) return;
    html_.line("<section><h3>Left over afterwards</h3><ul>");
    for (const std::string& item : items) html_.line("<li>" + item + "</li>");
    html_.line("</ul></section>");
  }

  void while_off() {
    if (stage_.while_off.empty()) return;
    html_.line("<section><h3>While it is off</h3><ul>");
    for (const planning::DuePart& part : stage_.while_off) {
      std::string text =
          fmt::format("{}: service life ends {}", html_text(part.name), budgets::write_date(part.due));
      if (part.chosen) text += "; renewed in this stage";
      if (!part.chosen && part.renewed_in)
        text += fmt::format("; the plan renews it in stage {}", *part.renewed_in + 1);
      html_.line("<li>" + text + "</li>");
    }
    html_.line("</ul></section>");
  }

  std::string line_text(const planning::ShoppingLine& line) const {
    const bool single = line.pack == 1000 && line.unit == "piece";
    const std::string pack = single ? "" : " x " + amount(line.pack, line.unit);
    std::string text = fmt::format("{}{} {}, {}", line.packs, pack, html_text(line.name), cash(line.amount));
    if (line.for_stage + 1 != stage_.number) text += fmt::format(", for stage {}", line.for_stage + 1);
    if (line.last_order_day) text += ", order by " + budgets::write_date(*line.last_order_day);
    return text;
  }

  void orders() {
    if (stage_.orders.empty() && stage_.hires.empty() && stage_.fee_lines.empty()) return;
    html_.line(fmt::format("<section><h3>To pay on {}</h3>", budgets::write_date(stage_.payday)));
    for (const planning::OrderView& order : stage_.orders) {
      html_.element("h4", "", order.supplier_name);
      html_.line("<ul class=\"ticks\">");
      for (const planning::ShoppingLine& line : order.lines)
        html_.tick(key("buy " + line.key), line_text(line));
      if (order.delivery > budgets::Money()) html_.line("<li>delivery " + cash(order.delivery) + "</li>");
      html_.line("</ul>");
    }
    if (!stage_.hires.empty() || !stage_.fee_lines.empty()) {
      html_.line("<h4>Hire and fees</h4><ul class=\"ticks\">");
      for (const planning::HireLine& hire : stage_.hires)
        html_.tick(key("hire " + hire.tool), "hire: " + html_text(hire.name) + ", " + cash(hire.amount));
      for (const planning::FeeLine& fee : stage_.fee_lines)
        html_.tick(key("fee " + fee.job), "fee: " + html_text(fee.name) + ", " + cash(fee.amount));
      html_.line("</ul>");
    }
    html_.line("</section>");
  }

  void sum(const char* what, budgets::Money amount, bool total = false) {
    if (!total && amount == budgets::Money()) return;
    html_.line(fmt::format("<tr{}><th scope=\"row\">{}</th><td>{}</td></tr>", total ? " class=\"total\"" : "",
                           what, cash(amount)));
  }

  void money() {
    html_.line(fmt::format("<section><h3>Money, {}</h3><table class=\"sums\"><tbody>",
                           html_text(outcome_.build->currency.code)));
    sum("comes in on the payday", stage_.payday_amount);
    for (const build::Extra& extra : stage_.extras) {
      html_.line(fmt::format("<tr><th scope=\"row\">{} {}</th><td>{}</td></tr>",
                             budgets::write_date(extra.date), html_text(extra.what), cash(extra.amount)));
    }
    sum("goods", stage_.goods);
    sum("delivery", stage_.delivery);
    sum("hire", stage_.hire);
    sum("fees", stage_.fees);
    sum("for the unforeseen", stage_.allowance);
    sum("spent", stage_.spent, true);
    sum("left", stage_.cash_after, true);
    sum("of which must stay", stage_.floor);
    html_.line("</tbody></table></section>");
  }

  void forgotten() {
    if (stage_.reminders.empty()) return;
    html_.line("<section><h3>Easily forgotten</h3><ul class=\"ticks\">");
    for (const planning::Reminder& reminder : stage_.reminders) {
      const char* where = !reminder.bought               ? ""
                          : reminder.amount_paid_in_plan ? " In the orders."
                                                         : " In the house by then.";
      html_.tick(key("forgotten " + reminder.key),
                 fmt::format("<strong>{}</strong> ({}) for {}: {}{}", html_text(reminder.article),
                             amount(reminder.amount, reminder.unit), html_text(goods::who_needs(reminder)),
                             html_text(sentence(reminder.why)), where));
    }
    html_.line("</ul></section>");
  }

  Html& html_;
  const planning::Outcome& outcome_;
  const StageView& stage_;
};

}  // namespace

void add_card(Html& html, const planning::Outcome& outcome, const StageView& stage) {
  Card(html, outcome, stage).write();
}

}  // namespace fettlefund::report
