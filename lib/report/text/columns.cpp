#include "lib/report/text/columns.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace fettlefund::report {
namespace {

struct Range {
  std::uint32_t from, to;
};

// Blocks of the Unicode Character Database that take no column (marks, joiners) or two (East Asian Width W
// and F, and the emoji blocks). From memory; whole blocks, so rare exceptions inside them are not told apart.
constexpr std::array<Range, 8> no_column = {{{0x0300, 0x036F},
                                             {0x0483, 0x0489},
                                             {0x0591, 0x05BD},
                                             {0x1AB0, 0x1AFF},
                                             {0x1DC0, 0x1DFF},
                                             {0x200B, 0x200F},
                                             {0x20D0, 0x20FF},
                                             {0xFE00, 0xFE0F}}};
constexpr std::array<Range, 9> two_columns = {{{0x1100, 0x115F},
                                               {0x2E80, 0x303E},
                                               {0x3041, 0xA4CF},
                                               {0xAC00, 0xD7A3},
                                               {0xF900, 0xFAFF},
                                               {0xFE30, 0xFE6F},
                                               {0xFF00, 0xFF60},
                                               {0x1F300, 0x1FAFF},
                                               {0x20000, 0x3FFFD}}};

template <std::size_t n>
bool in(const std::array<Range, n>& ranges, std::uint32_t c) {
  for (const Range& range : ranges) {
    if (range.from <= c && c <= range.to) return true;
  }
  return false;
}

bool continues(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80;
}

/// Bytes of the character at `at` (1 where it is not UTF-8) and its code point.
std::pair<std::size_t, std::uint32_t> character(std::string_view text, std::size_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const std::size_t length = lead < 0xC2 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 1;
  std::uint32_t code = length == 1 ? lead : lead & (0x7Fu >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues(text, at + i)) return {1, lead};
    code = code << 6 | (static_cast<unsigned char>(text[at + i]) & 0x3Fu);
  }
  return {length, code};
}

int columns_of(std::uint32_t code) { return in(no_column, code) ? 0 : in(two_columns, code) ? 2 : 1; }

/// How many bytes of the text fit into `width` columns, at least one character.
std::size_t fitting(std::string_view text, int width) {
  std::size_t at = 0;
  for (int used = 0; at < text.size();) {
    const auto [length, code] = character(text, at);
    used += columns_of(code);
    if (used > width && at > 0) break;
    at += length;
  }
  return at;
}

}  // namespace

int display_width(std::string_view text) {
  int width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const auto [length, code] = character(text, at);
    width += columns_of(code);
    at += length;
  }
  return width;
}

std::string printable(std::string_view text) {
  std::string clean;
  for (std::size_t at = 0; at < text.size();) {
    const auto [length, code] = character(text, at);
    const bool blank = code == '\n' || code == '\r' || code == '\t';
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x202A && code <= 0x202E) ||
                         (code >= 0x2066 && code <= 0x2069);
    const bool broken = length == 1 && code >= 0x80;
    clean += blank ? " " : control || broken ? "?" : text.substr(at, length);
    at += length;
  }
  return clean;
}

std::string pad_right(const std::string& text, int width) {
  const int missing = width - display_width(text);
  return missing > 0 ? text + std::string(static_cast<std::size_t>(missing), ' ') : text;
}

std::string pad_left(const std::string& text, int width) {
  const int missing = width - display_width(text);
  return missing > 0 ? std::string(static_cast<std::size_t>(missing), ' ') + text : text;
}

std::vector<std::string> wrapped(std::string_view text, int width) {
  std::vector<std::string> lines(1);
  int used = 0;
  while (true) {
    text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
    if (text.empty()) return lines;
    std::string_view word = text.substr(0, text.find(' '));
    if (display_width(word) > width) word = word.substr(0, fitting(word, width));
    const int needed = display_width(word) + (used > 0 ? 1 : 0);
    if (used > 0 && used + needed > width) {
      lines.emplace_back();
      used = 0;
      continue;
    }
    if (used > 0) lines.back() += ' ';
    lines.back() += word;
    used += needed;
    text.remove_prefix(word.size());
  }
}

std::string paragraph(const std::string& first, std::string_view text, int indent, int width) {
  std::string all = pad_right(first, indent);
  bool begun = false;
  for (const std::string& line : wrapped(text, width - indent)) {
    if (begun) all += std::string(static_cast<std::size_t>(indent), ' ');
    all += line + '\n';
    begun = true;
  }
  return all;
}

}  // namespace fettlefund::report
