#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "budgets/values/money.hpp"
#include "lib/build/json/tree.hpp"
#include "lib/form/tables/spec.hpp"
#include "lib/sheets/book/cells.hpp"

/// The rows of a form for a build that is there already.
namespace fettlefund::form {

struct FormRow {
  std::string id;                                    ///< of an entry
  std::map<std::string_view, sheets::Value> values;  ///< by heading
};

struct Filled {
  std::vector<std::vector<FormRow>> sheets;  ///< in the order of `all_sheets`; of fields one row or none
  std::vector<std::string> unheld;           ///< what is left out or changed, one line each
};

/// `root` is the tree of a text that the reader of builds finds no error in.
Filled fill(const build::Node& root, const budgets::Currency& currency);

/// A single text as a cell of that type holds it: "5.90" as an amount of money, "2027-01-01" as a day. What
/// is none stays a text.
sheets::Value cell_value(Type type, const std::string& text, int digits);

}  // namespace fettlefund::form
