#include "lib/text/columns.hpp"

#include <algorithm>
#include <cstdint>
#include <utility>

#include <utf8proc.h>

namespace fettlefund::text {
namespace {

/// Bytes of the character at `at` (1 where it is not UTF-8) and its code point.
std::pair<std::size_t, std::uint32_t> character(std::string_view text, std::size_t at) {
  utf8proc_int32_t code = 0;
  const auto length = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()) + at,
                                       static_cast<utf8proc_ssize_t>(text.size() - at), &code);
  if (length <= 0) return {1, static_cast<unsigned char>(text[at])};
  return {static_cast<std::size_t>(length), static_cast<std::uint32_t>(code)};
}

/// Controls, which take no column of their own, are shown as one character if at all.
int columns_of(std::size_t length, std::uint32_t code) {
  const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0) || (length == 1 && code >= 0x80);
  return control ? 1 : utf8proc_charwidth(static_cast<utf8proc_int32_t>(code));
}

/// How many bytes of the text fit into `width` columns, at least one character.
std::size_t fitting(std::string_view text, int width) {
  std::size_t at = 0;
  for (int used = 0; at < text.size();) {
    const auto [length, code] = character(text, at);
    used += columns_of(length, code);
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
    width += columns_of(length, code);
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

}  // namespace fettlefund::text
