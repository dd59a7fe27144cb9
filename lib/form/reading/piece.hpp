#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace fettlefund::form {

/// A cell of a form: the sheet's number in `all_sheets`, row and column counted from 0. No sheet: nowhere.
struct At {
  int sheet = -1, row = 0, column = 0;
  std::string_view heading;  ///< of the column, or of the row of a sheet of fields
};

/// A JSON value in the making, and the cell that it comes from.
struct Piece {
  enum class Kind { object, list, scalar } kind = Kind::object;
  std::string token;  ///< of a scalar: its JSON text
  struct Member;
  std::vector<Member> members;
  std::vector<Piece> items;
  At at;

  static Piece scalar(std::string token, At at);
  static Piece text(std::string_view text, At at);  ///< as a JSON string
  static Piece list(At at);

  /// The member, made where there is none; it keeps the place where it was made first.
  Piece& member(const std::string& key, At at, Kind its_kind = Kind::object);
  const Piece* find(const std::string& key) const;

  std::map<std::string, std::size_t> index;  ///< of the members
};

struct Piece::Member {
  std::string key;
  Piece value;
};

/// Where each value of a text comes from, by its JSON pointer.
using Origins = std::map<std::string, At>;

struct Written {
  std::string text;
  Origins origins;
};

/// The value as JSON text, indented by two; what fits on a line of 110 columns stands on one, but for the
/// outermost levels.
Written write_json(const Piece& root);

/// In double quotes, with what JSON needs escaped.
std::string quoted(std::string_view text);

}  // namespace fettlefund::form
