#include "lib/build/starter.hpp"

#include <algorithm>
#include <string_view>

#include "lib/build/json/values.hpp"
#include "lib/text/utf8.hpp"
#include "lib/trade/data.hpp"

namespace fettlefund::build {
namespace {

std::string sound_name(std::string_view name) {
  std::string sound;
  for (std::size_t count = 0; count < longest_line && !name.empty(); ++count) {
    const std::size_t length = text::character_length(name);
    const bool fits = length > 0 && !text::starts_with_control(name);
    sound += fits ? name.substr(0, length) : "?";
    name.remove_prefix(std::max<std::size_t>(length, 1));
  }
  return sound.find_first_not_of(' ') == std::string::npos ? "My build" : sound;
}

std::string escaped(const std::string& text) {
  std::string result;
  for (const char c : text) {
    if (c == '"' || c == '\\') result += '\\';
    result += c;
  }
  return result;
}

/// "{{day 30}}" and the like become days.
std::string with_days(std::string text, Date day) {
  constexpr std::string_view mark = "{{day ";
  for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at)) {
    const std::size_t end = text.find("}}", at);
    const int days = std::stoi(text.substr(at + mark.size(), end - at - mark.size()));
    text.replace(at, end + 2 - at, budgets::write_date(day + days));
  }
  return text;
}

}  // namespace

std::string starter_build(const std::string& name, std::string_view trade, Date day) {
  constexpr std::string_view mark = "{{name}}";
  std::string text = with_days(std::string(trade::starter_file(trade)), day);
  if (const std::size_t at = text.find(mark); at != std::string::npos)
    text.replace(at, mark.size(), escaped(sound_name(name)));
  return text;
}

}  // namespace fettlefund::build
