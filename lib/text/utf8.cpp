#include "lib/text/utf8.hpp"

#include <algorithm>

#include <utf8proc.h>

namespace fettlefund::text {

std::size_t character_length(std::string_view text) {
  utf8proc_int32_t character = 0;
  const auto length =
      utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                       static_cast<utf8proc_ssize_t>(std::min<std::size_t>(text.size(), 4)), &character);
  return length > 0 ? static_cast<std::size_t>(length) : 0;
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
  std::size_t count = 0;
  for (; !text.empty(); ++count) text.remove_prefix(std::max<std::size_t>(character_length(text), 1));
  return count;
}

std::size_t whole_characters(std::string_view text, std::size_t most) {
  std::size_t end = 0;
  while (end < text.size()) {
    const std::size_t length = std::max<std::size_t>(character_length(text.substr(end)), 1);
    if (end + length > most) break;
    end += length;
  }
  return end;
}

std::string shortened(std::string_view text, std::size_t most) {
  const bool cut = text.size() > most;
  text = text.substr(0, whole_characters(text, cut ? most - 3 : most));
  std::string shown;
  while (!text.empty()) {
    const std::size_t length = std::max<std::size_t>(character_length(text), 1);
    shown += starts_with_control(text) ? "?" : text.substr(0, length);
    text.remove_prefix(length);
  }
  return cut ? shown + "..." : shown;
}

std::string encoded(char32_t character) {
  utf8proc_uint8_t bytes[4];
  const auto length = utf8proc_encode_char(static_cast<utf8proc_int32_t>(character), bytes);
  return {reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(length)};
}

}  // namespace fettlefund::text
