#pragma once
#include <string>
#include <vector>

#include "lib/form/grid.hpp"
#include "lib/form/reading/piece.hpp"

/// A form's cells as one JSON value, before the reader of builds sees it.
namespace fettlefund::form {

struct Fault {
  At at;  ///< row below 0: the sheet as a whole
  bool error = true;
  std::string found, expected, nearest;
};

struct Gathered {
  Piece root;
  std::vector<Fault> faults;
  std::vector<Grid> grids;  ///< in the order of `all_sheets`; they point into the book
};

/// What the rows say. Wrong cells are told and left out; ranges, and whether it all goes together, are for
/// the reader of builds to say.
Gathered gather(const sheets::StoredBook& book);

/// The cell at that place, or null.
const sheets::StoredCell* cell_at(const Gathered& gathered, const At& at);

}  // namespace fettlefund::form
