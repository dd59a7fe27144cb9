#include "lib/report/page/stage_cards.hpp"

#include <algorithm>

#include "lib/outcome/full_cautions.hpp"
#include "lib/outcome/next_thing.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/report/page/card.hpp"
#include "lib/report/page/html.hpp"
#include "lib/report/page/mark.hpp"
#include "lib/report/page/reserve_chart.hpp"
#include "lib/report/page/style.hpp"
#include "lib/report/picture/picture.hpp"
#include "lib/report/text/text.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::StageView;

class Cards {
 public:
  explicit Cards(const planning::Outcome& outcome) : outcome_(outcome), build_(*outcome.build) {}

  std::string write() {
    begin();
    header();
    links();
    html_.line("<main id=\"stages\">");
    money();
    for (const StageView& stage : outcome_.stages) add_card(html_, outcome_, stage);
    rest();
    care();
    picture();
    html_.line("</main>");
    end();
    return html_.take();
  }

 private:
  std::string cash(budgets::Money amount) const {
    return html_text(budgets::write_money(amount, build_.currency));
  }

  void begin() {
    html_.line("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">");
    html_.line(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
        "'unsafe-inline'; script-src 'unsafe-inline'\">");
    html_.line("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
    html_.line("<meta name=\"color-scheme\" content=\"light dark\">");
    html_.element("title", "", build_.name + ": stage cards");
    html_.line(fmt::format("<style>\n{}</style>\n</head>", page_style()));
    html_.line(fmt::format("<body data-build=\"{}\">", html_text(build_.name)));
    html_.line("<a class=\"skip\" href=\"#stages\">Skip to the stages</a>");
  }

  void header() {
    html_.line("<header>");
    html_.element("h1", "", build_.name);
    if (!build_.about.empty()) html_.element("p", "", build_.about);
    html_.element("p", " class=\"soft\"", proof_line(outcome_));
    html_.line("<section class=\"next\" aria-labelledby=\"next-head\"><h2 id=\"next-head\">Next</h2>");
    for (const std::string& sentence : planning::next_things(outcome_)) html_.element("p", "", sentence);
    html_.line("</section>");
    list("So far", outcome_.so_far);
    std::vector<std::string> moves;
    for (const planning::Move& move : outcome_.moves) moves.push_back(planning::move_text(move));
    list("Moved since it was agreed", moves);
    html_.line("</header>");
  }

  void list(const char* head, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    html_.line(fmt::format("<h2>{}</h2><ul>", head));
    for (const std::string& line : lines) html_.element("li", "", line);
    html_.line("</ul>");
  }

  void links() {
    html_.line("<nav aria-label=\"Stages\"><ul>");
    for (const StageView& stage : outcome_.stages) {
      std::vector<std::string> jobs;
      for (const planning::JobView& job : stage.jobs) jobs.push_back(html_text(job.name));
      html_.line(fmt::format("<li><a href=\"#stage-{0}\">Stage {0}</a>, bench {1}{2}</li>", stage.number,
                             planning::bench_text(stage),
                             jobs.empty() ? "" : ": " + planning::list_text(jobs)));
    }
    html_.line("</ul></nav>");
  }

  void money() {
    if (outcome_.stages.empty()) return;
    html_.line(
        "<section class=\"panel chart\" aria-labelledby=\"money-head\"><h2 id=\"money-head\">The "
        "money</h2>");
    html_.line(reserve_chart(outcome_));
    html_.line(
        fmt::format("<table><caption>Amounts in {}</caption><thead><tr><th scope=\"col\">Stage</th><th "
                    "scope=\"col\">Payday</th><th scope=\"col\">Spent</th><th scope=\"col\">Left</th></tr>"
                    "</thead><tbody>",
                    html_text(build_.currency.code)));
    for (const StageView& stage : outcome_.stages) {
      html_.line(fmt::format("<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td></tr>",
                             stage.number, budgets::write_date(stage.payday), cash(stage.spent),
                             cash(stage.cash_after)));
    }
    html_.line("</tbody></table></section>");
  }

  void rest() {
    if (outcome_.left_out.empty() && outcome_.warnings.empty() && outcome_.assumptions.empty()) return;
    html_.line("<section class=\"panel care\">");
    std::vector<std::string> left_out;
    for (const planning::LeftOut& job : outcome_.left_out)
      left_out.push_back(job.name + ": " + job.reason + ".");
    list("Left out", left_out);
    list("Warnings", outcome_.warnings);
    list("Taken for granted", outcome_.assumptions);
    html_.line("</section>");
  }

  void care() {
    const auto cautions = planning::cautions_in_full(outcome_);
    if (cautions.empty()) return;
    html_.line(
        "<section class=\"panel\" aria-labelledby=\"care-head\"><h2 id=\"care-head\">Take care</h2>"
        "<p>Reminders. The maker&#39;s workshop manual, local codes and licensed practice decide.</p><ul>");
    for (const auto& [caution, stages] : cautions) {
      std::string text = html_text(planning::with_stages(caution.text, stages));
      if (!caution.source.empty())
        text += fmt::format(" <span class=\"soft\">({})</span>", html_text(caution.source));
      html_.line("<li>" + text + "</li>");
    }
    html_.line("</ul></section>");
  }

  /// The picture as it is drawn for a file, without the line that only a file has.
  void picture() {
    const std::string drawn = report::picture(outcome_);
    html_.line(
        "<section class=\"panel picture\" aria-labelledby=\"picture-head\"><h2 id=\"picture-head\">What "
        "depends on what</h2>");
    html_.line(drawn.substr(std::min(drawn.find("<svg"), drawn.size())));
    html_.line("</section>");
  }

  void end() {
    html_.line(
        "<footer><p class=\"soft\">Ticks stay in this browser only; what was bought and done is written "
        "down with fettlefund record.</p></footer>");
    html_.line(fmt::format("<script>\n{}</script>\n</body>\n</html>", page_script()));
  }

  const planning::Outcome& outcome_;
  const build::Build& build_;
  Html html_;
};

}  // namespace

std::string stage_cards(const planning::Outcome& outcome) { return marked(Cards(outcome).write()); }

}  // namespace fettlefund::report
