#pragma once
#include <optional>
#include <string>

#include "lib/build/json/tokens.hpp"

namespace fettlefund::build {

/// Where a JSON text broke off: the token that does not fit and the two before it.
struct Break {
  Token before, previous, current;
  bool in_object = false;  ///< the innermost open bracket is {
  bool value = false;      ///< a value is due here
  bool key = false;        ///< a key is due here
  bool colon = false;      ///< a colon is due here
};

/// "74,00" written bare: the stretch from the number to the digits after its comma, if that is what the break
/// comes from. In a list 74,50 are two numbers; 74,00 are none.
std::optional<Span> decimal_comma(const Break& at);

/// Changes `text`, of which `written` is the original, so that it can be read on past the break, keeping its
/// length: what stands after it is then read with its places. False where that would be guessing: an open
/// text or comment, a bracket that does not fit. What takes the place of a wrong value says nothing.
bool mend(std::string& text, const Break& at);

}  // namespace fettlefund::build
