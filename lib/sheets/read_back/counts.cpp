#include "lib/sheets/read_back/counts.hpp"

namespace fettlefund::sheets {

std::vector<CountedCash> counted_since(const log::Log& log, std::int64_t entries) {
  std::vector<CountedCash> since;
  const std::vector<bool> counts = log::effective(log);
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    const log::Entry& entry = log.entries[i];
    const auto* one = std::get_if<log::Counted>(&entry.event);
    if (one != nullptr && counts[i] && entry.number > entries)
      since.push_back({entry.number, entry.date, one->cash});
  }
  return since;
}

std::optional<budgets::Date> counted_up_to(const log::Log& log, std::int64_t entries) {
  std::optional<budgets::Date> last;
  for (const CountedCash& one : counted_since(log, 0)) {
    if (one.entry <= entries && (!last || *last < one.date)) last = one.date;
  }
  return last;
}

bool moves_cash(const log::Event& event) {
  if (const auto* gone = std::get_if<log::Gone>(&event)) return gone->back != budgets::Money();
  return std::holds_alternative<log::Bought>(event) || std::holds_alternative<log::Paid>(event) ||
         std::holds_alternative<log::Moved>(event);
}

}  // namespace fettlefund::sheets
