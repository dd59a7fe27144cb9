#include "lib/form/writing/cell_looks.hpp"

#include "lib/form/writing/kinds_sheet.hpp"

#include <fmt/format.h>

namespace fettlefund::form {

using sheets::Look;
using sheets::Shown;

bool is_number(Type type) {
  return type == Type::hours || type == Type::amount || type == Type::whole || type == Type::percent ||
         type == Type::real;
}

Look look_of(Type type) {
  if (type == Type::tick) return Look::tick;
  return type == Type::money || type == Type::day || is_number(type) ? Look::input : Look::typed;
}

Shown shown_for(Type type) {
  return type == Type::money ? Shown::money : type == Type::day ? Shown::date : Shown::text;
}

void put_typed(sheets::Sheet& sheet, int row, int column, Type type, const sheets::Value& value) {
  if (std::holds_alternative<std::monostate>(value))
    return sheet.await(row, column, shown_for(type), look_of(type));
  const bool text = std::holds_alternative<std::string>(value) && type != Type::tick;
  sheet.put(row, column, value, text ? Look::typed : look_of(type));
}

sheets::Range names_range(const Filled& filled, std::size_t number) {
  constexpr int names_column = 2;  // behind the two hidden ones
  return {first_row, names_column,
          first_row + static_cast<int>(filled.sheets[number].size()) + empty_rows + watched_rows,
          names_column};
}

std::string list_source(const Filled& filled, std::string_view sheet) {
  if (sheet == kinds_sheet_name) return kinds_source();
  for (std::size_t s = 0; s < all_sheets().size(); ++s) {
    const SheetSpec& spec = all_sheets()[s];
    if (spec.name != sheet || spec.kind != Kind::entries) continue;
    const std::string range = sheets::absolute(std::string(sheet), names_range(filled, s));
    return fmt::format("=OFFSET({},0,0,MAX(1,COUNTA({})),1)", range.substr(0, range.find(':')), range);
  }
  return "";
}

}  // namespace fettlefund::form
