#include <algorithm>
#include <cmath>

#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/record/plan_record.hpp"
#include "lib/sheets/record/plan_record_layout.hpp"

namespace fettlefund::sheets {
namespace {

using namespace record_layout;

[[noreturn]] void changed() {
  throw Unreadable(std::string("its hidden sheet ") + kPlanRecord +
                   " is not as it was written, so that nothing in it can be told from what it was");
}

class RecordReader {
 public:
  explicit RecordReader(const StoredSheet& sheet) : sheet_(sheet) {}

  PlanRecord read() {
    if (fact(format_label) != format)
      throw Unreadable("it was written by a fettlefund that kept another record; write the workbook anew");
    PlanRecord record;
    record.build = fact(build_label);
    record.build_fingerprint = fact(file_label);
    record.currency = fact(currency_label);
    record.log_id = fact(log_label);
    record.log_entries = whole(fact(entries_label));
    const int last = sheet_.cells.empty() ? 0 : sheet_.cells.rbegin()->first.first;
    for (int row = first_row; row <= last; ++row) record.rows.push_back(row_at(row));
    if (plan_fingerprint(record) != fact(plan_label)) changed();
    return record;
  }

 private:
  std::string text(int row, int column) const {
    const auto found = sheet_.cells.find({row, column});
    if (found == sheet_.cells.end()) return {};
    if (found->second.kind != StoredCell::Kind::text || found->second.computed) changed();
    return found->second.text;
  }

  std::string fact(const char* label) const {
    for (int row = 1; row < first_row; ++row)
      if (text(row, 0) == label) return text(row, 1);
    changed();
  }

  static std::int64_t whole(const std::string& digits) {
    const bool plain = !digits.empty() && digits.size() < 10 &&
                       std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
    if (!plain) changed();
    return std::stoll(digits);
  }

  RecordedRow row_at(int row) const {
    const auto number = sheet_.cells.find({row, row_number});
    const bool sound = number != sheet_.cells.end() && number->second.kind == StoredCell::Kind::number &&
                       number->second.number >= 1 && number->second.number <= most_rows;
    if (!sound) changed();
    RecordedRow recorded{text(row, sheet_name),
                         text(row, key),
                         static_cast<int>(std::lround(number->second.number)) - 1,
                         text(row, marks),
                         {}};
    for (std::size_t i = 0; i < recorded.marks.size(); ++i)
      recorded.values.push_back(text(row, first_value + static_cast<int>(i)));
    return recorded;
  }

  const StoredSheet& sheet_;
};

}  // namespace

PlanRecord read_plan_record(const StoredBook& book) {
  const auto found = std::find_if(book.sheets.begin(), book.sheets.end(),
                                  [](const StoredSheet& sheet) { return sheet.name == kPlanRecord; });
  if (found == book.sheets.end())
    throw Unreadable(std::string("it is no workbook of fettlefund: it has no hidden sheet ") + kPlanRecord);
  return RecordReader(*found).read();
}

}  // namespace fettlefund::sheets
