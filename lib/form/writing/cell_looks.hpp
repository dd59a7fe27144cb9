#pragma once
#include <string>

#include "lib/form/writing/fill.hpp"
#include "lib/sheets/book/cells.hpp"
#include "lib/sheets/book/references.hpp"

/// Where things stand on every sheet of a form, and how its cells look.
namespace fettlefund::form {

/// Rows, counted from 0.
inline constexpr int title_row = 0, about_row = 1, heading_row = 2, explanation_row = 3, first_row = 4;
inline constexpr int empty_rows = 24;     // with a frame, below those that are filled in
inline constexpr int watched_rows = 200;  // more rows that lists and colours reach

bool is_number(Type type);
sheets::Look look_of(Type type);
sheets::Shown shown_for(Type type);

/// Puts the value, or an empty cell to type it into.
void put_typed(sheets::Sheet& sheet, int row, int column, Type type, const sheets::Value& value);

/// Where the names of a sheet of entries stand, that sheet being number `number` of `all_sheets`.
sheets::Range names_range(const Filled& filled, std::size_t number);

/// A formula for them, or for the kinds of work, as a list to pick from, without the empty cells below; empty
/// where that sheet has no names.
std::string list_source(const Filled& filled, std::string_view sheet);

}  // namespace fettlefund::form
