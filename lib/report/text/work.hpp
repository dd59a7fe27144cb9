#pragma once
#include <string>
#include <string_view>

#include "lib/trade/lookup.hpp"

/// Kinds of work for reading at a terminal, 80 columns. All end with a line break.
namespace fettlefund::report {

/// Every kind with the words it goes by, one heading a trade; only those that one trade knows if it is named.
std::string work_list(std::string_view trade);

/// What a word led to: one kind in full with others that go by the word, or the kinds to choose from.
std::string work_found(const trade::Found& found, std::string_view word);

/// One kind in full: what comes off, lines with amounts, reasons and rule ids, tools, second person, hours,
/// checks, cautions.
std::string work_kind(const trade::Kind& kind);

}  // namespace fettlefund::report
