#include "lib/sheets/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { sheet_name, key, stage, packs, price, planned, count };
constexpr std::int64_t kFormat = 1;  ///< of this sheet and of the visible sheets' columns
constexpr int kFirstRow = kHeaderRow + 5;

/// FNV-1a, 64 bits (Fowler, Noll and Vo; "The FNV Non-Cryptographic Hash Algorithm", from memory). It tells
/// plans apart; it guards against nothing.
class Fingerprint {
 public:
  void add(const std::string& text) {
    for (const char c : text + '\n') state_ = (state_ ^ static_cast<unsigned char>(c)) * 0x100000001B3u;
  }
  std::string write() const { return fmt::format("{:016x}", state_); }

 private:
  std::uint64_t state_ = 0xCBF29CE484222325u;
};

std::string plain(const Value& value) {
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  if (const auto* amount = std::get_if<Money>(&value)) return std::to_string(amount->minor());
  if (const auto* number = std::get_if<std::int64_t>(&value)) return std::to_string(*number);
  return "";
}

std::string at(const Sheet& sheet, int row, int column) {
  const Cell* cell = sheet.find(row, column);
  return cell == nullptr ? "" : plain(cell->value);
}

int key_column(const Sheet& sheet) {
  for (int c = 0; c < static_cast<int>(sheet.columns.size()); ++c)
    if (at(sheet, kHeaderRow, c) == "Key") return c;
  return -1;
}

/// Copies each keyed row; of Shopping also what was planned.
int copy_rows(Sheet& record, int row, const Sheet& from) {
  const int keys = key_column(from);
  if (keys < 0) return row;
  const bool shopping = from.name == kShopping;
  for (const auto& [place, cell] : from.cells) {
    if (place.second != keys || place.first <= kHeaderRow || cell.style.look != Look::note) continue;
    record.put(row, sheet_name, from.name);
    record.put(row, key, plain(cell.value));
    if (shopping) {
      const int columns[] = {shop::stage, shop::packs, shop::price, shop::planned};
      for (int i = 0; i < 4; ++i) record.put(row, stage + i, at(from, place.first, columns[i]));
    }
    ++row;
  }
  return row;
}

std::string fingerprint(const Sheet& record, const Outcome& outcome) {
  Fingerprint print;
  print.add(outcome.build->name);
  for (const auto& view : outcome.stages)
    for (const std::string& part : {budgets::write_date(view.payday), budgets::write_date(view.bench),
                                    std::to_string(view.cash_after.minor())})
      print.add(part);
  for (const auto& [place, cell] : record.cells) print.add(plain(cell.value));
  return print.write();
}

}  // namespace

void add_plan_record(Book& book, const Outcome& outcome) {
  Sheet record(kPlanRecord);
  record.hidden = true;
  record.columns = {{18, 18}, {30, 60}, {8, 8}, {8, 12}, {10, 20}, {10, 20}};
  int row = kFirstRow;
  const char* headings[] = {"sheet", "key", "stage", "packs", "price, minor units", "planned, minor units"};
  for (int c = 0; c < count; ++c) record.put(kFirstRow - 1, c, std::string(headings[c]), Look::header);
  for (const Sheet& sheet : book.sheets) row = copy_rows(record, row, sheet);
  const std::string plan = fingerprint(record, outcome);
  record.put(0, 0, std::string("What was written, so that the workbook can be read back. Leave as is."),
             Look::note);
  record.put(1, 0, std::string("format"));
  record.put(1, 1, kFormat);
  record.put(2, 0, std::string("build"));
  record.put(2, 1, outcome.build->name);
  record.put(3, 0, std::string("currency"));
  record.put(3, 1, std::string(outcome.build->currency.code));
  record.put(4, 0, std::string("plan"));
  record.put(4, 1, plan);
  book.sheets.push_back(std::move(record));
}

}  // namespace fettlefund::sheets
