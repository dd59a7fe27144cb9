#pragma once
#include <string>

/// Characters of ASCII, whatever the locale.
namespace fettlefund::text {

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

constexpr bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// `text` with A to Z as a to z; every other byte as it is.
inline std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

}  // namespace fettlefund::text
