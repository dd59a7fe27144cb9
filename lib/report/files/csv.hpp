#pragma once
#include <string>
#include <string_view>

#include "lib/outcome/outcome.hpp"

/// The shopping list as comma-separated values (RFC 4180, Common Format and MIME Type for Comma-Separated
/// Values Files, 2005): UTF-8, lines end with CRLF, the first names the columns.
namespace fettlefund::report {

/// One record for everything that is bought, hired, paid or to be remembered, by stage: goods by supplier and
/// their delivery, hires, fees, what is set aside for the unforeseen, then easily forgotten things that no
/// order holds (without an amount). The column "amount" adds up to what the plan spends. Columns: stage,
/// payday, supplier, kind (part, consumable, tool, delivery, hire, fee, unforeseen, easily forgotten), what,
/// packs, pack, unit, price, amount, currency, for stage, bench date, arrives, order until, needed for, why,
/// key. `outcome.build` must be set.
std::string shopping_csv(const planning::Outcome& outcome);

/// A text that no spreadsheet takes for a formula: one apostrophe goes before a text, or a part of it after a
/// semicolon, tab or line break (which other settings take for the end of a cell), that begins, after any
/// blanks, with = + - @ |, their full-width forms, or an apostrophe; and before a text that begins with a tab
/// or carriage return.
std::string harmless(std::string_view text);

/// Takes `harmless` back: drops one apostrophe at each such place. `restored(harmless(t)) == t` for all t.
std::string restored(std::string_view text);

/// A field: in quotes, with quotes doubled, where it holds a comma, quote, CR or LF.
std::string csv_field(std::string_view text);

}  // namespace fettlefund::report
