#pragma once
#include <string>
#include <string_view>

namespace fettlefund::sheets {

/// What stays of a formula wherever its rows and columns move and whichever program saves it: every cell
/// reference as `#`, without blanks, dollar signs, quotes of sheet names and the leading `=`, in capitals;
/// texts as they are. "=IF($A5>'Work order'!B$7,"x",0)" becomes "IF(#>WORKORDER!#,"x",0)".
std::string formula_shape(std::string_view formula);

}  // namespace fettlefund::sheets
