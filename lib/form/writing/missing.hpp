#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "lib/form/tables/spec.hpp"

/// The formulas that say, while a form is filled in, what a row still lacks.
namespace fettlefund::form {

/// Something that a row needs: one of these columns filled in.
struct Need {
  std::vector<std::string> headings;
  std::vector<std::string> words;  ///< of the kinds of rows that need it; empty: all
};

std::vector<Need> needs_of(const SheetSpec& spec);

/// Where the columns are, and the names of the other sheets.
struct Ground {
  std::map<std::string_view, int> columns;
  std::map<std::string_view, std::string> names;  ///< by sheet: the range that holds them
  int first = 0, last = 0;                        ///< columns for typing
};

/// Without "=": a text, empty where nothing is missing or the row is empty. `row` counts from 0.
std::string missing_formula(const SheetSpec& spec, const Ground& ground, int row);

/// Without "=": true where the row has something, but not in this cell, which it needs. Empty: never.
std::string lack_formula(const SheetSpec& spec, const Ground& ground, std::string_view heading, int row);

}  // namespace fettlefund::form
