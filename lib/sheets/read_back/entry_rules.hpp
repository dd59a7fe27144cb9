#pragma once
#include "lib/sheets/book/cells.hpp"

struct lxw_worksheet;

namespace fettlefund::sheets {

/// Restricts what may be typed into the rule's range, with a message that says what is expected. Answers the
/// spreadsheet library's error code; 0 is success.
int add_entry_rule(lxw_worksheet* page, const EntryRule& rule);

}  // namespace fettlefund::sheets
