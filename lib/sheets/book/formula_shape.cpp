#include "lib/sheets/book/formula_shape.hpp"

#include <algorithm>
#include <cctype>

#include "lib/text/ascii.hpp"

namespace fettlefund::sheets {
namespace {

bool of_word(char c) { return text::is_letter(c) || text::is_digit(c) || c == '_' || c == '.'; }

/// One to three letters and then one to seven digits.
bool is_reference(std::string_view word) {
  const auto letters =
      static_cast<std::size_t>(std::find_if_not(word.begin(), word.end(), text::is_letter) - word.begin());
  return letters >= 1 && letters <= 3 && word.size() > letters && word.size() <= letters + 7 &&
         std::all_of(word.begin() + static_cast<std::ptrdiff_t>(letters), word.end(), text::is_digit);
}

/// Without what carries no meaning here; texts stay as they are.
std::string stripped(std::string_view formula) {
  std::string out;
  bool text = false;
  for (const char c : formula) {
    if (c == '"') text = !text;
    if (!text && (c == ' ' || c == '$' || c == '\'')) continue;
    out += text ? c : static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  }
  return out;
}

}  // namespace

std::string formula_shape(std::string_view formula) {
  if (formula.starts_with('=')) formula.remove_prefix(1);
  const std::string plain = stripped(formula);
  std::string shape;
  bool text = false;
  for (std::size_t at = 0; at < plain.size();) {
    if (plain[at] == '"') text = !text;
    std::size_t end = at + 1;
    if (!text && (text::is_letter(plain[at]) || plain[at] == '_'))
      while (end < plain.size() && of_word(plain[end])) ++end;
    const std::string_view word = std::string_view(plain).substr(at, end - at);
    shape += !text && is_reference(word) ? "#" : word;
    at = end;
  }
  return shape;
}

}  // namespace fettlefund::sheets
