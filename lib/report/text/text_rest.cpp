#include "lib/outcome/full_cautions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

void add_left_out(Page& page, const planning::Outcome& outcome) {
  if (outcome.left_out.empty()) return;
  page.heading("Left out");
  for (const planning::LeftOut& job : outcome.left_out) {
    page.item("  -", text::printable(job.name) + ": " + text::printable(job.reason) + ".", 4);
  }
}

/// The users of a tool; of many the first few and how many more.
std::string users_of(const planning::ToolView& tool) {
  constexpr std::size_t most = 5;
  std::vector<std::string> users;
  for (std::size_t i = 0; i < tool.used_for.size(); ++i) {
    if (i + 1 == most && tool.used_for.size() > most) {
      users.push_back(fmt::format("{} more", tool.used_for.size() - i));
      break;
    }
    users.push_back(text::printable(tool.used_for[i]));
  }
  return planning::list_text(users);
}

void add_tools(Page& page, const planning::Outcome& outcome) {
  if (outcome.tools.empty()) return;
  page.heading("Tools");
  for (const planning::ToolView& tool : outcome.tools) {
    std::string about = fmt::format("{}: {}", text::printable(tool.name), tool.how);
    const bool tells_stages = tool.how.find("stage") != std::string::npos;
    if (!tells_stages && tool.first_stage >= 0) {
      about += fmt::format(", first used in stage {}", tool.first_stage + 1);
    }
    if (tool.amount > budgets::Money()) about += fmt::format(", {}", page.money(tool.amount));
    page.item("  -", about + "; for " + users_of(tool) + ".", 4);
  }
}

/// Every caution once, with the stages that call for it; those of the whole build first.
void add_cautions(Page& page, const planning::Outcome& outcome) {
  const auto all = planning::cautions_in_full(outcome);
  if (all.empty()) return;
  page.heading("Take care");
  for (const auto& [caution, stages] : all) {
    std::string about = planning::with_stages(text::printable(caution.text), stages);
    if (!caution.source.empty()) about += " (" + text::printable(caution.source) + ")";
    page.item("  -", about, 4);
  }
}

}  // namespace

void add_rest(Page& page, const planning::Outcome& outcome) {
  add_left_out(page, outcome);
  add_tools(page, outcome);
  if (!outcome.warnings.empty()) {
    page.heading("Warnings");
    for (const std::string& warning : outcome.warnings) page.item("  -", text::printable(warning), 4);
  }
  add_cautions(page, outcome);
  if (!outcome.assumptions.empty()) {
    page.heading("Taken for granted");
    for (const std::string& note : outcome.assumptions) page.item("  -", text::printable(note), 4);
  }
  page.blank();
  page.item("",
            fmt::format("Spent in all {}, left at the end {}. Want is counted up to {}.",
                        planning::money_text(*outcome.build, outcome.spent),
                        planning::money_text(*outcome.build, outcome.left), budgets::write_date(outcome.end)),
            0);
}

}  // namespace fettlefund::report
