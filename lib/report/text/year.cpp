#include "lib/report/text/year.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::Against;
using planning::JobAgainst;
using planning::Year;

constexpr int name_width = 36, year_width = 13, hours_width = 9;

class YearPage {
 public:
  YearPage(const Year& year, const TextOptions& options) : year_(year), page_(nullptr, options) {}

  std::string make() {
    page_.line(page_.bold(text::printable(year_.build->name) + ": planned and paid up to " +
                          budgets::write_date(year_.day)));
    if (!year_.first) page_.line("Nothing is recorded yet.");
    money();
    table("Suppliers", year_.suppliers);
    table("Kinds", year_.kinds);
    table("Stages", year_.stages);
    jobs();
    hours();
    prices();
    who();
    page_.blank();
    page_.item(
        "",
        "Planned is by the build file as it is now: what was bought, at the likely prices. Goods belong to "
        "a job where it alone needs them.",
        0);
    return page_.take();
  }

 private:
  std::string text(budgets::Money amount) const {
    return budgets::write_money(amount, year_.build->currency);
  }

  /// The beginning of a row; a longer name has a line of its own.
  std::string named(const std::string& name) {
    const std::string shown = "  " + text::printable(name);
    if (text::display_width(shown) < name_width) return text::pad_right(shown, name_width);
    page_.line(shown);
    return std::string(name_width, ' ');
  }

  void row(const std::string& name, budgets::Money planned, budgets::Money paid) {
    page_.line(named(name) + text::pad_left(text(planned), year_width) +
               text::pad_left(text(paid), year_width) + text::pad_left(text(paid - planned), year_width));
  }

  void sum(const std::string& what, budgets::Money amount) {
    page_.line(named(what) + text::pad_left(text(amount), year_width));
  }

  void money() {
    page_.heading("Money, " + std::string(year_.build->currency.code));
    sum("Opening cash, income, dated money", year_.brought);
    if (year_.moved_in > budgets::Money()) sum("Came in besides", year_.moved_in);
    if (year_.moved_out > budgets::Money()) sum("Went out besides", budgets::Money() - year_.moved_out);
    sum("Paid for what was bought", budgets::Money() - year_.paid);
    if (year_.counted) {
      const std::string how =
          year_.counts > 1 ? fmt::format("Found by {} counts to ", year_.counts) : "Found by counting on ";
      sum(how + budgets::write_date(*year_.counted), year_.unexplained);
    }
    sum("Cash on " + budgets::write_date(year_.day), year_.cash);
  }

  void head(const std::string& name) {
    page_.heading(name);
    page_.line(std::string(name_width, ' ') + text::pad_left("planned", year_width) +
               text::pad_left("paid", year_width) + text::pad_left("more", year_width));
  }

  void table(const std::string& name, const std::vector<Against>& rows) {
    const auto nothing = [](const Against& one) {
      return one.planned == budgets::Money() && one.paid == budgets::Money();
    };
    if (std::all_of(rows.begin(), rows.end(), nothing)) return;
    head(name);
    for (const Against& one : rows) {
      if (!nothing(one)) row(one.name, one.planned, one.paid);
    }
    row("All", year_.planned, year_.paid);
  }

  void jobs() {
    std::vector<Against> rows;
    for (const JobAgainst& job : year_.jobs) rows.push_back({job.name, job.planned, job.paid});
    rows.push_back(year_.shared);
    table("Jobs", rows);
  }

  static std::string state_of(const JobAgainst& job) {
    if (job.fitted) return budgets::write_date(*job.fitted);
    if (job.given_up) return "given up on " + budgets::write_date(*job.given_up);
    return job.begun ? "begun" : "not yet";
  }

  void hours() {
    page_.heading("Bench time");
    page_.line(std::string(name_width, ' ') + text::pad_left("planned", hours_width) +
               text::pad_left("taken", hours_width) + "   fitted");
    for (const JobAgainst& job : year_.jobs) {
      const std::optional<std::int64_t> minutes = job.taken ? job.taken : job.begun;
      const std::string taken = minutes ? planning::hours_text(*minutes) : job.fitted ? "?" : "";
      page_.line(named(job.name) + text::pad_left(planning::hours_text(job.planned_minutes), hours_width) +
                 text::pad_left(taken, hours_width) + "   " + state_of(job));
    }
  }

  void prices() {
    if (year_.prices.empty()) return;
    page_.heading("Prices paid that are not the build file's");
    for (const planning::PricePaid& price : year_.prices) {
      page_.item("  ",
                 fmt::format("{} from {}: {} a pack, likely {}", text::printable(price.article_name),
                             text::printable(price.supplier_name), text(price.paid), text(price.likely)),
                 4);
    }
  }

  void who() {
    if (year_.who.empty()) return;
    page_.heading("Who recorded it");
    page_.line(std::string(name_width, ' ') + text::pad_left("entries", year_width) +
               text::pad_left("paid", year_width));
    for (const planning::Recorder& one : year_.who)
      page_.line(named(one.name.empty() ? "Nobody named" : one.name) +
                 text::pad_left(std::to_string(one.entries), year_width) +
                 text::pad_left(text(one.paid), year_width));
  }

  const Year& year_;
  Page page_;
};

}  // namespace

std::string year_text(const Year& year, const TextOptions& options) { return YearPage(year, options).make(); }

}  // namespace fettlefund::report
