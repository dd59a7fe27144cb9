#include "lib/build/json/mend.hpp"

#include <algorithm>

#include "lib/text/ascii.hpp"

namespace fettlefund::build {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

void blank_out(std::string& text, std::uint32_t begin, std::uint32_t end) {
  std::fill(text.begin() + begin, text.begin() + end, ' ');
}

/// A zero, which no reader takes for what stood there: findings at its place are dropped.
void stand_in(std::string& text, std::uint32_t begin, std::uint32_t end) {
  blank_out(text, begin, end);
  text[begin] = '0';
}

/// The end of text in single quotes that begins at the token; 0: it is not closed on its line.
std::uint32_t single_quotes_end(const std::string& text, std::uint32_t begin) {
  const std::size_t close = text.find('\'', begin + 1), line = text.find('\n', begin);
  return close == std::string::npos || close > line ? 0 : static_cast<std::uint32_t>(close + 1);
}

bool mend_value(std::string& text, const Token& token) {
  const char first = text[token.span.begin];
  if (first == '"' || first == '/') return false;
  const std::uint32_t end = first == '\'' ? single_quotes_end(text, token.span.begin) : token.span.end;
  if (end == 0) return false;
  stand_in(text, token.span.begin, end);
  return true;
}

/// A bare word becomes a key of its inner letters.
bool mend_key(std::string& text, const Token& token) {
  const char first = text[token.span.begin];
  if (token.kind != TokenKind::broken || first == '"' || first == '/') return false;
  const std::uint32_t end = first == '\'' ? single_quotes_end(text, token.span.begin) : token.span.end;
  if (end < token.span.begin + 2) return false;
  text[token.span.begin] = text[end - 1] = '"';
  return true;
}

/// What is missing goes into the blank after the token before.
bool mend_missing(std::string& text, const Break& at) {
  const std::uint32_t gap = at.previous.span.end;
  if (gap >= text.size() || !is_blank(text[gap])) return false;
  text[gap] = at.colon ? ':' : ',';
  return true;
}

}  // namespace

std::optional<Span> decimal_comma(const Break& at) {
  const Span &number = at.before.span, &comma = at.previous.span, &digits = at.current.span;
  const bool joined = number.end == comma.begin && comma.end == digits.begin;
  const bool figures = at.current.kind == TokenKind::number || at.current.kind == TokenKind::broken;
  if (!joined || !figures || at.before.kind != TokenKind::number || at.previous.kind != TokenKind::comma)
    return std::nullopt;
  if (!at.in_object && at.current.kind != TokenKind::broken) return std::nullopt;
  return Span{number.begin, digits.end, number.place};
}

bool mend(std::string& text, const Break& at) {
  const Span& span = at.current.span;
  if (at.current.kind == TokenKind::end || span.begin >= text.size()) return false;
  if (decimal_comma(at) && text::is_digit(text[span.begin])) {
    blank_out(text, at.previous.span.begin, span.end);
    return true;
  }
  const bool closes = at.current.kind == TokenKind::close_object || at.current.kind == TokenKind::close_list;
  if (closes && at.previous.kind == TokenKind::comma) {
    blank_out(text, at.previous.span.begin, at.previous.span.end);
    return true;
  }
  if (closes) return false;
  if (at.value) return at.current.kind == TokenKind::broken && mend_value(text, at.current);
  if (at.key) return mend_key(text, at.current);
  if (at.previous.kind == TokenKind::text && at.current.kind == TokenKind::broken) return false;
  if (at.current.kind == TokenKind::broken) {
    if (text[span.begin] == '"' || text[span.begin] == '/' || text[span.begin] == '\'') return false;
    blank_out(text, span.begin, span.end);
    return true;
  }
  const bool begins = at.current.kind == TokenKind::text || at.current.kind == TokenKind::number ||
                      at.current.kind == TokenKind::word || at.current.kind == TokenKind::open_object ||
                      at.current.kind == TokenKind::open_list;
  return begins && mend_missing(text, at);
}

}  // namespace fettlefund::build
