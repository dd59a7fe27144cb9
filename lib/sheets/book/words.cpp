#include "lib/sheets/book/words.hpp"

#include <algorithm>
#include <cmath>

namespace fettlefund::sheets {

namespace {

constexpr double kMargin = 1.2;  // characters of a cell that its indent and edges take
constexpr double kSpare = 1.02;  // rounding to pixels

/// Widths of the printable characters of ASCII in hundredths of a digit's, measured in the hmtx table of the
/// font Carlito (version of Debian's fonts-crosextra-carlito, SIL Open Font License), whose widths are the
/// standard font's.
constexpr int kWidths[] = {
    45,  64,  79,  98,  100, 141, 135, 44,  60,  60,  98, 98,  49, 60,  50,  76,   // blank to /
    100, 100, 100, 100, 100, 100, 100, 100, 100, 100, 53, 53,  98, 98,  98,  91,   // 0 to ?
    176, 114, 107, 105, 121, 96,  91,  124, 123, 50,  63, 103, 83, 169, 127, 131,  // @ to O
    102, 133, 107, 91,  96,  127, 112, 176, 102, 96,  92, 61,  76, 61,  98,  98,   // P to _
    57,  95,  104, 83,  104, 98,  60,  93,  104, 45,  47, 90,  45, 158, 104, 104,  // ` to o
    104, 104, 69,  77,  66,  104, 89,  141, 85,  89,  78, 62,  91, 62,  98};       // p to ~

/// `value / 10^decimals` without needless zeros. `value` >= 0.
std::string decimal(std::int64_t value, int decimals) {
  std::int64_t scale = 1;
  for (int i = 0; i < decimals; ++i) scale *= 10;
  std::string text = std::to_string(value / scale);
  std::string rest = std::to_string(value % scale + scale).substr(1);
  while (!rest.empty() && rest.back() == '0') rest.pop_back();
  return rest.empty() ? text : text + "." + rest;
}

char32_t next_character(std::string_view text, std::size_t& at) {
  const auto lead = static_cast<unsigned char>(text[at++]);
  const int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
  char32_t character = more == 0 ? lead : lead & (0x3Fu >> more);
  for (int i = 0; i < more && at < text.size(); ++i)
    character = character << 6 | (static_cast<unsigned char>(text[at++]) & 0x3Fu);
  return character;
}

bool wide(char32_t c) {
  return (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) || (c >= 0xAC00 && c <= 0xD7A3) ||
         (c >= 0xF900 && c <= 0xFAFF) || (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
         (c >= 0x1F300 && c <= 0x1FAFF);
}

double line_width(std::string_view line) {
  double width = 0;
  for (std::size_t at = 0; at < line.size();) width += wide(next_character(line, at)) ? 2 : 1;
  return width;
}

/// In digits, as the text is drawn.
double drawn_width(std::string_view text) {
  double hundredths = 0;
  for (std::size_t at = 0; at < text.size();) {
    const char32_t character = next_character(text, at);
    const bool known = character >= U' ' && character <= U'~';
    hundredths += known ? kWidths[character - U' '] : wide(character) ? 200 : 105;
  }
  return hundredths * kSpare / 100;
}

double amount_width(Money amount) {
  const std::size_t digits = std::to_string(amount.minor()).size();
  return static_cast<double>(digits + 1 + (digits > 3 ? (digits - 3) / 3 : 0));
}

std::string_view first_line(std::string_view& rest) {
  const std::size_t end = std::min(rest.find('\n'), rest.size());
  const std::string_view line = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return line;
}

/// Lines that one paragraph takes: words go on the line while they fit; one longer than the line is cut.
int lines_of(std::string_view paragraph, double room) {
  int lines = 1;
  double used = 0;
  while (!paragraph.empty()) {
    const std::size_t end = std::min(paragraph.find(' '), paragraph.size());
    const double word = drawn_width(paragraph.substr(0, end));
    paragraph.remove_prefix(std::min(end + 1, paragraph.size()));
    const double joined = used > 0 ? used + drawn_width(" ") + word : word;
    if (joined > room && used > 0) ++lines;
    used = joined > room ? word : joined;
    for (; used > room; used -= room) ++lines;
  }
  return lines;
}

}  // namespace

std::string write_hours(std::int64_t minutes) { return decimal((minutes * 100 + 30) / 60, 2) + " h"; }

std::string join(const std::vector<std::string>& parts, std::string_view between) {
  std::string all;
  for (const std::string& part : parts) {
    if (!all.empty()) all += between;
    all += part;
  }
  return all;
}

double text_width(std::string_view text) {
  double longest = 0;
  while (!text.empty()) longest = std::max(longest, line_width(first_line(text)));
  return longest;
}

double text_width(const Cell& cell) {
  const Value& value = cell.value;
  if (const auto* text = std::get_if<std::string>(&value)) return text_width(std::string_view(*text));
  if (const auto* amount = std::get_if<Money>(&value)) return amount_width(*amount);
  if (std::holds_alternative<Date>(value)) return 10;
  if (const auto* count = std::get_if<std::int64_t>(&value))
    return static_cast<double>(std::to_string(*count).size());
  return std::holds_alternative<std::monostate>(value) ? 0 : 6;
}

int wrapped_lines(std::string_view text, double width) {
  int lines = 0;
  do lines += lines_of(first_line(text), std::max(1.0, width - kMargin));
  while (!text.empty());
  return lines;
}

}  // namespace fettlefund::sheets
