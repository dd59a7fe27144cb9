#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "lib/build/model.hpp"

namespace fettlefund::build {

/// A stretch of the file: bytes [begin, end) and where it starts.
struct Span {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  Place place;
};

/// What a stretch of JSON text is. `broken` stands for anything that no JSON text holds: `flaw` then says
/// what was expected instead.
enum class TokenKind {
  open_object,
  close_object,
  open_list,
  close_list,
  comma,
  colon,
  text,
  number,
  word,
  end,
  broken
};

struct Token {
  TokenKind kind = TokenKind::end;
  Span span;
  std::string_view flaw;
};

/// Walks over the tokens of a JSON text with comments. It exists for the places: the JSON library decides
/// what is valid and decodes it, but does not tell where a value starts. Bytes outside ASCII count as one
/// column each.
class Tokens {
 public:
  explicit Tokens(std::string_view text) : Tokens(text, text) {}
  /// Lines are counted in `written`, which is as long as `text`: what was mended may have taken a line break.
  Tokens(std::string_view text, std::string_view written) : text_(text), written_(written) {}

  /// The next token; at the end of the text a token of kind `end`, again and again.
  Token next();

 private:
  bool at(std::string_view word) const { return text_.substr(position_, word.size()) == word; }
  void step();
  bool skip_blanks();
  bool skip_comment();
  Token read_text(Span span);
  std::string_view read_escape();
  Token read_word(Span span);
  Token finish(Span span, TokenKind kind, std::string_view flaw = {});

  std::string_view text_, written_;
  std::uint32_t position_ = 0;
  Place place_{1, 1};
};

}  // namespace fettlefund::build
