#pragma once
#include <optional>
#include <vector>

#include "lib/log/entry.hpp"

/// Cash that was counted before and after a workbook was written.
namespace fettlefund::sheets {

struct CountedCash {
  std::int64_t entry = 0;
  budgets::Date date;
  budgets::Money cash;
};

/// The counts of the log that count, behind its first `entries`: after a workbook was written that knew
/// these.
std::vector<CountedCash> counted_since(const log::Log& log, std::int64_t entries);

/// The latest day of a count that counts among the first `entries`.
std::optional<budgets::Date> counted_up_to(const log::Log& log, std::int64_t entries);

/// Whether what a workbook tells changes the cash.
bool moves_cash(const log::Event& event);

}  // namespace fettlefund::sheets
