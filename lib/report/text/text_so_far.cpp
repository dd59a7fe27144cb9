#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

namespace fettlefund::report {

void add_so_far(Page& page, const planning::Outcome& outcome) {
  if (!outcome.so_far.empty()) page.heading("So far");
  for (const std::string& note : outcome.so_far) page.item("  -", text::printable(note), 4);
  if (!outcome.moves.empty()) page.heading("Moved since it was agreed");
  for (const planning::Move& move : outcome.moves) {
    page.item("  -", text::printable(planning::move_text(move)), 4);
  }
}

}  // namespace fettlefund::report
