#pragma once
#include <string>
#include <string_view>

#include "lib/sheets/book/cells.hpp"

namespace fettlefund::form {

/// The sheet that lists the kinds of work, for the column of that name to offer; nothing is read from it.
inline constexpr std::string_view kinds_sheet_name = "Kinds of work";

/// One row a kind, by trade: its name, the trade, other words for it, and what it reminds of. The kinds of
/// `trade` come first, then those that every trade shares; an empty trade changes nothing.
sheets::Sheet kinds_sheet(std::string_view trade);

/// The names on that sheet, as a formula for a list to pick from.
std::string kinds_source();

}  // namespace fettlefund::form
