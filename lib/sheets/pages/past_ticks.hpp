#pragma once
#include <string>

#include "lib/sheets/pages/pages.hpp"

namespace fettlefund::sheets {

/// The remark by which a log remembers the tick of a step, a tool or a reminder: "ticked: Undo the axle nut".
std::string ticked_words(const std::string& what);

/// Ticks the steps, tools and reminders whose keys and words the log remembers as ticked. The count on
/// Overview follows.
void tick_again(Book& book, const Past& past);

}  // namespace fettlefund::sheets
