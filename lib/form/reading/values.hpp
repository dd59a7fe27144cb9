#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "budgets/values/money.hpp"
#include "lib/form/naming.hpp"
#include "lib/form/reading/piece.hpp"
#include "lib/form/tables/spec.hpp"
#include "lib/sheets/xlsx/xlsx.hpp"

/// What a cell of a form comes to in the build's text.
namespace fettlefund::form {

using Directory = std::map<std::string_view, NameList>;  ///< by sheet

struct Surroundings {
  budgets::Currency currency;
  bool from_1904 = false;
  const Directory& names;
};

/// Either a piece or what was expected instead.
struct Value {
  std::optional<Piece> piece;
  std::string expected, nearest;
};

/// The cell must not be blank. Ranges and what belongs together are left to the reader of builds.
Value read_value(const Surroundings& around, const Column& column, const sheets::StoredCell& cell, At at);

/// What belongs into an empty cell of the column, in words.
std::string wanted_words(const Column& column, const budgets::Currency& currency);

}  // namespace fettlefund::form
