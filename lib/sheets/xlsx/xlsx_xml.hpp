#pragma once
#include <map>
#include <string>
#include <vector>

#include "lib/sheets/xlsx/xlsx.hpp"

/// The XML of single parts of a workbook. Names are compared without their namespace prefix. All throw
/// Unreadable, naming the part.
namespace fettlefund::sheets {

struct Link {
  std::string type, target;  ///< target as a part name without a leading slash
};

/// By id, of a part's relations; `folder` is that of the part ("xl/").
std::map<std::string, Link> read_links(const std::string& xml, const std::string& part,
                                       const std::string& folder);

struct SheetEntry {
  std::string name, link;
  bool hidden = false;
};
struct BookPart {
  bool from_1904 = false;
  std::vector<SheetEntry> sheets;
};
BookPart read_book_part(const std::string& xml, const std::string& part);

std::vector<std::string> read_shared_texts(const std::string& xml, const std::string& part);

struct NumberShown {
  bool day = false, time = false;
};
/// How each cell style of the book shows numbers, by the style's index.
std::vector<NumberShown> read_styles(const std::string& xml, const std::string& part);

/// Whether a format code (ISO/IEC 29500-1, 18.8.31) shows a number as a day, a clock time, or both.
NumberShown shown_by(const std::string& code);

/// The cells that have a comment.
std::vector<std::pair<int, int>> read_comments(const std::string& xml, const std::string& part);

/// What the cells of a book may still take. Texts that many cells share count for each of them.
struct Budget {
  std::size_t cells = most_cells, text_bytes = 64u << 20;
};

/// Fills the cells, and takes them off the budget.
void read_sheet_part(const std::string& xml, const std::string& part, const std::vector<std::string>& texts,
                     const std::vector<NumberShown>& styles, StoredSheet& sheet, Budget& budget);

}  // namespace fettlefund::sheets
