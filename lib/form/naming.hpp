#pragma once
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "lib/text/nearest.hpp"

/// Ids are made from names: the people who fill in a form never type one.
namespace fettlefund::form {

/// A name as an id: ASCII letters in lower case, digits, one hyphen for anything between them, at most 40;
/// letters with accents lose them. "" where nothing is left.
std::string word_of(std::string_view name);

/// A row with a name. `id_before` and `name_before` are what the form was written with, or empty.
struct NamedRow {
  int row = 0;
  std::string name;
  std::string id_before, name_before;
  std::string id;  ///< the outcome
};

/// The ids of the rows of one sheet that were there before: an id follows its name, even where the hidden
/// cells did not move along with it; a row with a new name keeps the id beside it unless another row has it.
void keep_ids(std::vector<NamedRow>& rows);

/// Gives ids to the others, made from their names (`fallback` where nothing of the name can be used), with a
/// number behind them where `taken` holds them already.
void make_ids(std::vector<NamedRow>& rows, std::set<std::string>& taken, std::string_view fallback);

/// The names of one sheet.
class NameList {
 public:
  void add(const std::string& name, const std::string& id);
  void add_example(const std::string& name);
  void close();  ///< when all are there

  /// The id of that name, or of that id; empty if there is none.
  std::string id_of(std::string_view name) const;
  bool is_example(std::string_view name) const;
  std::string nearest(std::string_view name) const { return text::nearest_name(name, near_); }

 private:
  std::map<std::string, std::string, std::less<>> ids_;
  std::set<std::string> known_ids_;
  std::set<std::string, std::less<>> examples_;
  std::vector<std::string> names_;
  text::Names near_;
};

/// The parts of a cell that lists several texts: semicolons and line breaks stand between them, commas too if
/// asked for. A part in double quotes may hold any of these, and "" is then one quote.
std::vector<std::string> split_list(std::string_view text, bool commas);

/// The inverse: quotes where they are needed.
std::string join_list(const std::vector<std::string>& parts, bool commas);

}  // namespace fettlefund::form
