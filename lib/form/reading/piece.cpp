#include "lib/form/reading/piece.hpp"

#include <utility>

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

constexpr std::size_t line_length = 110;
constexpr int open_levels = 2;  // the build and its sections are always spread out

class Writer {
 public:
  void write(const Piece& piece, const std::string& pointer, int depth) {
    if (piece.at.sheet >= 0) written.origins.emplace(pointer, piece.at);
    if (piece.kind == Piece::Kind::scalar) {
      written.text += piece.token;
      return;
    }
    const bool object = piece.kind == Piece::Kind::object;
    const std::size_t count = object ? piece.members.size() : piece.items.size();
    const bool spread = count > 0 && (depth < open_levels || !fits(piece));
    written.text += object ? '{' : '[';
    for (std::size_t i = 0; i < count; ++i) {
      if (i > 0) written.text += ',';
      gap(spread, depth + 1, i > 0 || object);
      if (object) written.text += quoted(piece.members[i].key) + ": ";
      const std::string part = object ? escaped(piece.members[i].key) : std::to_string(i);
      write(object ? piece.members[i].value : piece.items[i], pointer + "/" + part, depth + 1);
    }
    if (count > 0) gap(spread, depth, object);
    written.text += object ? '}' : ']';
  }

  Written written;

 private:
  /// A new line, or a blank where one belongs.
  void gap(bool spread, int depth, bool blank) {
    if (spread)
      written.text += '\n' + std::string(static_cast<std::size_t>(depth) * 2, ' ');
    else if (blank)
      written.text += ' ';
  }

  static std::string escaped(const std::string& key) {
    std::string out;
    for (const char c : key) out += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
    return out;
  }

  /// Whether the value and what stands before it on its line is short enough. Stops counting at the limit.
  bool fits(const Piece& piece) const {
    const std::size_t begin = written.text.rfind('\n') + 1;
    std::size_t used = written.text.size() - begin;
    return count(piece, used);
  }
  static bool count(const Piece& piece, std::size_t& used) {
    used += piece.token.size() + 4;
    if (used > line_length) return false;
    for (const auto& [key, value] : piece.members) {
      used += key.size() + 4;
      if (!count(value, used)) return false;
    }
    for (const Piece& item : piece.items)
      if (!count(item, used)) return false;
    return used <= line_length;
  }
};

}  // namespace

Piece Piece::scalar(std::string token, At at) { return {Kind::scalar, std::move(token), {}, {}, at, {}}; }
Piece Piece::list(At at) { return {Kind::list, {}, {}, {}, at, {}}; }
Piece Piece::text(std::string_view text, At at) { return scalar(quoted(text), at); }

Piece& Piece::member(const std::string& key, At its_place, Kind its_kind) {
  const auto [found, made] = index.emplace(key, members.size());
  if (made) {
    Piece& piece = members.emplace_back(Member{key, {}}).value;
    piece.kind = its_kind;
    piece.at = its_place;
  }
  return members[found->second].value;
}

const Piece* Piece::find(const std::string& key) const {
  const auto found = index.find(key);
  return found == index.end() ? nullptr : &members[found->second].value;
}

Written write_json(const Piece& root) {
  Writer writer;
  writer.write(root, "", 0);
  writer.written.text += '\n';
  return std::move(writer.written);
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += '\\', out += c;
    else if (c == '\n')
      out += "\\n";
    else if (static_cast<unsigned char>(c) < 0x20)
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else
      out += c;
  }
  return out + '"';
}

}  // namespace fettlefund::form
