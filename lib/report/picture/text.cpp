#include "lib/report/picture/text.hpp"

#include <algorithm>
#include <string_view>

#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

/// Widths of characters in parts of the font's size; generous for the usual sans-serif fonts.
double width_of(char c) {
  constexpr std::string_view narrow = " .,:;'|!()[]ijlftr-/\\I", wide = "mwMW@%&";
  if (narrow.find(c) != std::string_view::npos) return 0.40;
  if (wide.find(c) != std::string_view::npos) return 0.92;
  return c >= 'A' && c <= 'Z' ? 0.70 : 0.60;
}

}  // namespace

double text_width_mm(const std::string& text, double size) {
  double width = 0;
  std::string other;
  for (const char c : text) {
    if (static_cast<unsigned char>(c) < 0x80)
      width += width_of(c);
    else
      other += c;
  }
  return size * (width + 0.7 * text::display_width(other));
}

Lettering lettered(const std::string& text, double size, double width, std::size_t most) {
  Lettering result{{""}, size};
  for (const std::string& word : text::wrapped(text, 1'000'000)) {
    std::string rest = word;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      std::string piece = rest.substr(0, end);
      rest.erase(0, std::min(end + 1, rest.size()));
      std::string& last = result.lines.back();
      const std::string longer = last.empty() ? piece : last + " " + piece;
      if (text_width_mm(longer, size) <= width || last.empty()) {
        last = longer;
      } else {
        result.lines.push_back(piece);
      }
    }
  }
  if (result.lines.size() > most) {
    result.lines.resize(most);
    result.lines.back() += " ...";
  }
  return result;
}

std::string svg_text(const std::string& text) {
  std::string safe;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    const bool forbidden = text.compare(at, 2, "\xEF\xBF") == 0 && at + 2 < text.size() &&
                           static_cast<unsigned char>(text[at + 2]) >= 0xBE;
    if (forbidden) {
      safe += '?';
      at += 2;
    } else {
      safe += c == '&'   ? "&amp;"
              : c == '<' ? "&lt;"
              : c == '>' ? "&gt;"
              : c == '"' ? "&quot;"
                         : std::string(1, c);
    }
  }
  return safe;
}

std::string svg_number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace fettlefund::report
