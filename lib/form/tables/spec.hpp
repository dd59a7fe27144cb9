#pragma once
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// What stands where in a form workbook, as data: a new key of the build file is a new row of one of these
/// tables. Reading and writing a form, the restrictions on its cells and its formulas all follow from them.
namespace fettlefund::form {

/// How a cell is read and what it becomes in the build's text.
enum class Type {
  line,
  text,    ///< line breaks allowed
  word,    ///< an id; other texts are made into one
  choice,  ///< one of `choices`
  tick,    ///< x
  money,   ///< may be negative
  hours,
  amount,  ///< of an article
  whole,
  percent,
  real,
  day,
  one,          ///< a name that stands on the sheet `from`
  many,         ///< several of them
  one_or_word,  ///< such a name, or else a word
  words,        ///< several texts, with semicolons, commas or line breaks between them
  lines,        ///< as words, but commas belong to the texts
  reals
};

/// Values of `Column::required`.
inline constexpr bool needed = true;
inline constexpr bool optional = false;

/// A column of a table, or a row of a sheet of single fields.
struct Column {
  std::string_view heading;
  std::string_view key;  ///< where it goes within its entry: "price.likely" is a part of a value, "/" leads
                         ///< into objects. Of a sheet with kinds of rows, `Variant` says so instead.
  Type type = Type::line;
  bool required = false;
  double width = 12;  ///< in characters
  std::string_view explanation{};
  std::string_view example{};  ///< as a person would type it
  std::string_view from{};     ///< sheet of the names
  std::string_view choices{};  ///< with semicolons between them
};

/// Which key a column fills in one kind of row.
struct Use {
  std::string_view heading, key;
  bool required = false;
};

/// One kind of row of a sheet of items.
struct Variant {
  std::string_view word;  ///< in the column `kind`; empty where the sheet has none
  std::string_view path;  ///< of the list: "articles/{Thing}/offers"; braces name a column
  std::vector<Use> uses;  ///< one without a key: the item is that value alone
  enum class Tools { any, only, none } tools = Tools::any;  ///< what the column Thing names
  bool pair = false;    ///< the path leads to a member of an object, not to a list
  bool sorted = false;  ///< order of rows does not matter
};

enum class Kind {
  fields,   ///< one value a row
  entries,  ///< a section of entries with ids; the first column is the name
  items     ///< lists, anywhere in the build
};

struct SheetSpec {
  std::string_view name;
  Kind kind = Kind::entries;
  std::string_view section;  ///< of entries; of fields: what the keys are in
  std::string_view what;     ///< one row, in words: "a job"
  std::string_view about;
  std::vector<Column> columns;
  std::vector<Variant> variants{};
  bool needed = false;  ///< a form without it is none

  const Column* find(std::string_view heading) const;
};

/// In the order of the workbook.
const std::vector<SheetSpec>& all_sheets();
const SheetSpec& sheet_spec(std::string_view name);  ///< std::logic_error if there is none

/// The heading of the column that says which kind of row it is.
inline constexpr std::string_view kind_heading = "What it is";
inline constexpr std::string_view missing_heading = "Still missing";
inline constexpr std::string_view step_name_heading = "Short name";
inline constexpr std::string_view steps_sheet = "Steps";

/// "part; tool" -> {"part", "tool"}.
std::vector<std::string> split_words(std::string_view words);

/// The headings in braces of a path.
std::vector<std::string> headings_in(std::string_view path);

/// Of "price.likely" the group "price" and the part "likely"; the part is empty where there is none.
std::pair<std::string_view, std::string_view> key_parts(std::string_view key);

/// One file of tables each.
std::vector<SheetSpec> money_sheets();
std::vector<SheetSpec> goods_sheets();
std::vector<SheetSpec> work_sheets();
std::vector<SheetSpec> machine_sheets();

}  // namespace fettlefund::form
