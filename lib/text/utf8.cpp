#include "lib/text/utf8.hpp"

#include <algorithm>

namespace fettlefund::build {

std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
  const unsigned low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
  const unsigned high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  if (byte(1) < low || byte(1) > high) return 0;
  for (std::size_t i = 2; i < length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  return length;
}

std::size_t find_bad_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = character_length(text.substr(at));
    if (length == 0) return at;
    at += length;
  }
  return at;
}

bool starts_with_control(std::string_view text) {
  if (text.empty()) return false;
  const auto lead = static_cast<unsigned char>(text[0]);
  if (lead == 0xC2) return text.size() > 1 && static_cast<unsigned char>(text[1]) < 0xA0;
  return lead < 0x20 || lead == 0x7F;
}

bool has_noncharacters(std::string_view text) {
  return text.find("\xEF\xBF\xBE") != std::string_view::npos ||
         text.find("\xEF\xBF\xBF") != std::string_view::npos;
}

std::size_t count_characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string printable(std::string_view text, std::size_t most) {
  const bool cut = text.size() > most;
  const std::size_t room = cut ? most - 3 : most;
  std::string shown;
  while (!text.empty()) {
    const std::size_t length = std::max<std::size_t>(character_length(text), 1);
    if (shown.size() + length > room) break;
    shown += starts_with_control(text) ? "?" : text.substr(0, length);
    text.remove_prefix(length);
  }
  return cut ? shown + "..." : shown;
}

Place place_of(std::string_view text, std::size_t offset) {
  const std::string_view before = text.substr(0, offset);
  const std::size_t line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  return Place{1 + static_cast<int>(std::count(before.begin(), before.end(), '\n')),
               1 + static_cast<int>(offset - line_start)};
}

}  // namespace fettlefund::build
