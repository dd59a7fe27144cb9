#include "lib/report/columns.hpp"
#include "lib/report/page.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

std::string where(const planning::Move& move) {
  if (move.stage < 0) return "left out";
  return fmt::format("to stage {} (bench {})", move.stage + 1, budgets::write_date(move.bench));
}

void add_moves(Page& page, const planning::Outcome& outcome) {
  if (outcome.moves.empty()) return;
  page.heading("Moved since it was agreed");
  for (const planning::Move& move : outcome.moves) {
    std::string reasons;
    for (const std::string& reason : move.reasons)
      reasons += (reasons.empty() ? "" : "; ") + printable(reason);
    page.item("  -",
              fmt::format("{}: from bench {} {}: {}.", printable(move.name),
                          budgets::write_date(move.agreed_bench), where(move), reasons),
              4);
  }
}

}  // namespace

void add_so_far(Page& page, const planning::Outcome& outcome) {
  if (!outcome.so_far.empty()) page.heading("So far");
  for (const std::string& note : outcome.so_far) page.item("  -", printable(note), 4);
  add_moves(page, outcome);
}

}  // namespace fettlefund::report
