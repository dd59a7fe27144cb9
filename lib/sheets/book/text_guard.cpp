#include "lib/sheets/book/text_guard.hpp"

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "lib/text/ascii.hpp"
#include "lib/text/utf8.hpp"

namespace fettlefund::sheets {

namespace {

constexpr std::size_t kMostUnits = 32767;

bool is_escape(std::string_view text, std::size_t at) {
  if (text.size() - at < 7 || text[at] != '_' || text[at + 1] != 'x' || text[at + 6] != '_') return false;
  return std::all_of(text.begin() + static_cast<std::ptrdiff_t>(at) + 2,
                     text.begin() + static_cast<std::ptrdiff_t>(at) + 6,
                     [](unsigned char c) { return std::isxdigit(c) != 0; });
}

bool is_control(char character) {
  const auto c = static_cast<unsigned char>(character);
  return (c < 0x20 && c != '\t' && c != '\n') || c == 0x7F;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (is_escape(text, at)) out += "_x005F";
    out += text[at];
  }
  return out;
}

/// "A1", "xfd9": up to three letters and then digits only; "r1c1" likewise.
bool shaped_like_reference(std::string_view name) {
  const auto* first_digit = std::find_if(name.begin(), name.end(), text::is_digit);
  const bool column = first_digit != name.begin() && first_digit - name.begin() <= 3 &&
                      std::all_of(name.begin(), first_digit, text::is_letter);
  const bool row = first_digit != name.end() && std::all_of(first_digit, name.end(), [](char c) {
                     return text::is_digit(c) || c == 'c' || c == 'C';
                   });
  return (column && row) || name == "r" || name == "R" || name == "c" || name == "C";
}

}  // namespace

bool valid_text(std::string_view text) {
  return text::find_bad_utf8(text) == text.size() && !text::has_noncharacters(text);
}

std::size_t utf16_length(std::string_view text) {
  std::size_t units = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    units += byte >= 0xF0 ? 2 : (byte & 0xC0u) != 0x80u ? 1 : 0;
  }
  return units;
}

std::string without_controls(std::string_view text) {
  std::string clean(text);
  std::replace_if(clean.begin(), clean.end(), is_control, ' ');
  return clean;
}

std::string cell_text(std::string_view text, std::string_view where) {
  if (!valid_text(text)) throw std::runtime_error("not valid UTF-8 text for " + std::string(where));
  std::string clean = escaped(without_controls(text));
  if (utf16_length(clean) > kMostUnits)
    throw std::runtime_error("text too long for " + std::string(where) + ": a cell holds 32767 characters");
  return clean;
}

void check_range_name(std::string_view name) {
  const bool starts = !name.empty() && (text::is_letter(name.front()) || name.front() == '_');
  const bool plain = std::all_of(name.begin(), name.end(),
                                 [](char c) { return text::is_letter(c) || text::is_digit(c) || c == '_'; });
  if (!starts || !plain || name.size() > 60 || shaped_like_reference(name))
    throw std::logic_error("no name for a range: \"" + std::string(name) + "\"");
}

}  // namespace fettlefund::sheets
