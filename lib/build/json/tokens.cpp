#include "lib/build/json/tokens.hpp"

#include <algorithm>
#include <optional>

#include "lib/text/ascii.hpp"

namespace fettlefund::build {
namespace {

bool is_word_end(char c) { return std::string_view(" \t\r\n,:[]{}\"/").find(c) != std::string_view::npos; }

std::size_t digits_at(std::string_view word, std::size_t from) {
  std::size_t end = from;
  while (end < word.size() && text::is_digit(word[end])) ++end;
  return end - from;
}

/// Whether a word is a JSON number: -? (0 | [1-9][0-9]*) (. [0-9]+)? ([eE] [+-]? [0-9]+)?
bool is_number(std::string_view word) {
  std::size_t at = word.starts_with('-') ? 1 : 0;
  const std::size_t whole = digits_at(word, at);
  if (whole == 0 || (whole > 1 && word[at] == '0')) return false;
  at += whole;
  if (at < word.size() && word[at] == '.') {
    const std::size_t decimals = digits_at(word, at + 1);
    if (decimals == 0) return false;
    at += 1 + decimals;
  }
  if (at < word.size() && (word[at] == 'e' || word[at] == 'E')) {
    ++at;
    if (at < word.size() && (word[at] == '+' || word[at] == '-')) ++at;
    const std::size_t exponent = digits_at(word, at);
    if (exponent == 0) return false;
    at += exponent;
  }
  return at == word.size();
}

std::string_view flaw_of_word(std::string_view word) {
  if (word[0] == '\'') return "text in double quotes";
  if (text::is_digit(word[0]) || word[0] == '-' || word[0] == '+' || word[0] == '.')
    return "a number such as 12, -0.5 or 129.95, without leading zeros, plus sign, units or spaces";
  if (word.size() == 4 && (word == "True" || word == "TRUE" || word == "None" || word == "NULL"))
    return "true, false or null in small letters";
  if (word == "False" || word == "FALSE") return "true, false or null in small letters";
  return "a value: text and keys stand in double quotes";
}

}  // namespace

void Tokens::step() {
  if (written_[position_] == '\n') {
    ++place_.line;
    place_.column = 1;
  } else {
    ++place_.column;
  }
  ++position_;
}

Token Tokens::finish(Span span, TokenKind kind, std::string_view flaw) {
  span.end = position_;
  return Token{kind, span, flaw};
}

/// False at a comment that never ends, or a lone slash; the position then stays at it.
bool Tokens::skip_comment() {
  if (at("//")) {
    while (position_ < text_.size() && text_[position_] != '\n' && text_[position_] != '\r') step();
    return true;
  }
  if (!at("/*")) return false;
  const std::size_t close = text_.find("*/", position_ + 2);
  if (close == std::string_view::npos) return false;
  while (position_ < close + 2) step();
  return true;
}

bool Tokens::skip_blanks() {
  while (position_ < text_.size()) {
    const char c = text_[position_];
    if (c == ' ' || c == '\t' || c == '\r' || c == '\n') {
      step();
    } else if (c != '/') {
      return true;
    } else if (!skip_comment()) {
      return false;
    }
  }
  return true;
}

/// Steps over one escape sequence; returns what is wrong with it, or nothing.
std::string_view Tokens::read_escape() {
  step();
  if (position_ == text_.size()) return {};
  const char kind = text_[position_];
  if (kind == 'u') {
    const std::string_view digits = text_.substr(position_ + 1, 4);
    const bool hex = digits.size() == 4 && std::all_of(digits.begin(), digits.end(), [](char c) {
                       return text::is_digit(c) || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
                     });
    if (!hex) return "four hexadecimal digits after \\u";
  } else if (std::string_view("\"\\/bfnrt").find(kind) == std::string_view::npos) {
    return "a backslash only before one of \" \\ / b f n r t u; a backslash itself is written \\\\";
  }
  if (kind != '\n' && kind != '\r') step();
  return {};
}

Token Tokens::read_text(Span span) {
  std::string_view flaw;
  step();
  while (position_ < text_.size() && text_[position_] != '"') {
    const char c = text_[position_];
    if (c == '\n' || c == '\r')
      return finish(span, TokenKind::broken, "a closing double quote on the same line");
    if (static_cast<unsigned char>(c) < 0x20 && flaw.empty())
      flaw = "no bare control characters; a tab is written \\t";
    if (c == '\\') {
      const std::string_view wrong = read_escape();
      if (flaw.empty()) flaw = wrong;
    } else {
      step();
    }
  }
  if (position_ == text_.size()) return finish(span, TokenKind::broken, "a closing double quote");
  step();
  return finish(span, flaw.empty() ? TokenKind::text : TokenKind::broken, flaw);
}

Token Tokens::read_word(Span span) {
  while (position_ < text_.size() && !is_word_end(text_[position_])) step();
  const std::string_view word = text_.substr(span.begin, position_ - span.begin);
  if (word == "true" || word == "false" || word == "null") return finish(span, TokenKind::word);
  if (is_number(word)) return finish(span, TokenKind::number);
  return finish(span, TokenKind::broken, flaw_of_word(word));
}

Token Tokens::next() {
  const bool sound = skip_blanks();
  Span span{position_, position_, place_};
  if (!sound) {
    const bool open = at("/*");
    while (position_ < text_.size() && (open || !is_word_end(text_[position_]) || position_ == span.begin))
      step();
    return finish(span, TokenKind::broken,
                  open ? "a closing */" : "a value, or a comment that begins with // or /*");
  }
  if (position_ == text_.size()) return finish(span, TokenKind::end);
  static constexpr std::string_view marks = "{}[],:";
  const std::size_t mark = marks.find(text_[position_]);
  if (mark != std::string_view::npos) {
    step();
    return finish(span, static_cast<TokenKind>(mark));
  }
  return text_[position_] == '"' ? read_text(span) : read_word(span);
}

}  // namespace fettlefund::build
