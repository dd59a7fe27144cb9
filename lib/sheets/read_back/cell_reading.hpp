#pragma once
#include <cstdint>
#include <optional>
#include <string>

#include "budgets/values/date.hpp"
#include "budgets/values/money.hpp"
#include "lib/sheets/xlsx/xlsx.hpp"

/// What a person may have meant by what a cell holds. Nothing is guessed: a cell that could mean two things
/// is refused.
namespace fettlefund::sheets {

/// Exactly one of: nothing typed (both empty), a value, or what was expected instead.
template <class T>
struct CellReading {
  std::optional<T> value;
  std::string expected;
  bool good() const { return expected.empty(); }
};

/// What the cell shows, shortened, for messages: "12.5", "2027-03-05", "06:00", "'maybe'", "TRUE", "#DIV/0!",
/// "nothing".
std::string shown_text(const StoredCell* cell);

/// A number, or a text that is one: either decimal mark, blanks and the other mark between thousands, the
/// currency's code before or behind. "1.234" and "1,234" are refused: they could be either. A formula's
/// result is rounded to the minor unit as the sheets do; anything typed must not have more decimals than the
/// currency. What is shown as a day or a clock time is refused; so it is with hours and whole numbers.
CellReading<budgets::Money> read_amount(const StoredCell* cell, const budgets::Currency& currency);

/// Decimal hours, 0 to 10,000, as minutes: rounded to the nearest; more than two decimals are refused unless
/// a formula worked them out.
CellReading<std::int64_t> read_hours(const StoredCell* cell);

CellReading<std::int64_t> read_whole(const StoredCell* cell, std::int64_t least, std::int64_t most);

/// A day of the spreadsheet's own, or a text like 2027-03-05.
CellReading<budgets::Date> read_day(const StoredCell* cell, bool from_1904);

/// An x in either case, or nothing.
CellReading<bool> read_tick(const StoredCell* cell);

/// Whatever stands there as text, without blanks at the ends; a day as 2027-03-05.
CellReading<std::string> read_words(const StoredCell* cell);

/// A number as plain decimal text ("12.5", "-4"), of a cell or of a text as `read_amount` takes it; `unit`
/// may stand before or behind it. A formula's result is rounded to `digits` decimals (0 to 6), half away from
/// zero; of anything typed no decimal is lost but what programs lose in rounding. `expected` is just not
/// empty where it is none.
CellReading<std::string> read_decimal(const StoredCell* cell, int digits, const std::string& unit);

/// The shortest text that reads back as the number: "5", "12.5".
std::string number_text(double number);

}  // namespace fettlefund::sheets
