#include "lib/sheets/read_back/read_workbook.hpp"

#include <algorithm>

#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"
#include "lib/sheets/read_back/comparison.hpp"
#include "lib/sheets/read_back/tellings.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

constexpr std::size_t kMostTold = 300;

/// A flood of faults is cut; the errors among them stay in front.
void shorten(std::vector<Remarkable>& told) {
  if (told.size() <= kMostTold) return;
  std::stable_sort(told.begin(), told.end(),
                   [](const auto& a, const auto& b) { return a.error && !b.error; });
  const std::size_t more = told.size() - kMostTold;
  told.resize(kMostTold);
  told.push_back({told.front().error, "", "", fmt::format("and {} more of this kind", more)});
}

}  // namespace

Readback read_back(const StoredBook& book) {
  Readback back;
  back.record = read_plan_record(book);
  const auto currency = budgets::find_currency(back.record.currency);
  if (!currency) throw Unreadable("it is in no known currency: " + back.record.currency);
  Comparison comparison = compare(book, back.record);
  back.remarkable = std::move(comparison.remarkable);
  Tellings(*currency, book.from_1904, comparison.rows, back).read();
  shorten(back.remarkable);
  back.record.rows.clear();
  return back;
}

Readback read_workbook(const std::string& path) { return read_back(read_xlsx(file_bytes(path))); }

}  // namespace fettlefund::sheets
