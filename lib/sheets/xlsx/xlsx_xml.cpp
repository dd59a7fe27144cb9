#include "lib/sheets/xlsx/xlsx_xml.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>

#include "lib/sheets/book/references.hpp"
#include "lib/sheets/book/text_guard.hpp"
#include "lib/text/utf8.hpp"

#include <pugixml.hpp>

namespace fettlefund::sheets {
namespace {

constexpr std::ptrdiff_t kMostTags = 2'000'000;
constexpr std::size_t kMostSheets = 200;

std::string_view local(std::string_view name) {
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

/// Calls `use` for each child element of that name.
template <class Use>
void each(const pugi::xml_node& node, std::string_view name, const Use& use) {
  for (const pugi::xml_node& child : node.children())
    if (child.type() == pugi::node_element && local(child.name()) == name) use(child);
}

pugi::xml_node first(const pugi::xml_node& node, std::string_view name) {
  for (const pugi::xml_node& child : node.children())
    if (child.type() == pugi::node_element && local(child.name()) == name) return child;
  return {};
}

/// What stands directly in the element.
std::string content(const pugi::xml_node& node) {
  std::string text;
  for (const pugi::xml_node& child : node.children())
    if (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata) text += child.value();
  return text;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(" \t\r\n");
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(" \t\r\n") - begin + 1);
}

/// A part as a document.
class Part {
 public:
  Part(const std::string& xml, const std::string& name, std::string_view root_name) : name_(name) {
    if (std::count(xml.begin(), xml.end(), '<') > kMostTags) fail("it has too many elements");
    const unsigned flags = pugi::parse_default | pugi::parse_ws_pcdata | pugi::parse_doctype;
    const pugi::xml_parse_result result = document_.load_buffer(xml.data(), xml.size(), flags);
    if (!result) fail(result.description());
    for (const pugi::xml_node& node : document_.children())
      if (node.type() == pugi::node_doctype) fail("a document type is not expected");
    root_ = document_.document_element();
    if (local(root_.name()) != root_name) fail("it is not what it should be");
  }

  const pugi::xml_node& root() const { return root_; }
  [[noreturn]] void fail(const std::string& why) const {
    throw Unreadable("its part " + name_ + " cannot be read: " + why);
  }
  std::string sound(std::string text) const {
    if (!valid_text(text)) fail("a text is not valid");
    return text;
  }

 private:
  std::string name_;
  pugi::xml_document document_;
  pugi::xml_node root_;
};

/// The character that "_xHHHH_" at `at` stands for; nothing if there is no such escape. Halves of characters
/// beyond U+FFFF stay as they are written.
std::optional<char32_t> escape_at(std::string_view text, std::size_t at) {
  if (text.size() - at < 7 || text.substr(at, 2) != "_x" || text[at + 6] != '_') return std::nullopt;
  unsigned value = 0;
  const auto [end, fault] = std::from_chars(text.data() + at + 2, text.data() + at + 6, value, 16);
  const bool half = value >= 0xD800 && value <= 0xDFFF;
  if (fault != std::errc() || end != text.data() + at + 6 || half || value >= 0xFFFE) return std::nullopt;
  return value;
}

std::string unescaped(const std::string& text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::optional<char32_t> character = escape_at(text, at);
    out += character ? text::encoded(*character) : std::string(1, text[at]);
    at += character ? 7 : 1;
  }
  return out;
}

/// The text of a string item: its own, or its runs; what only helps to pronounce it is left out.
std::string item_text(const pugi::xml_node& item) {
  std::string text;
  for (const pugi::xml_node& child : item.children()) {
    if (local(child.name()) == "t") text += content(child);
    if (local(child.name()) == "r") each(child, "t", [&](const pugi::xml_node& t) { text += content(t); });
  }
  return unescaped(text);
}

std::optional<double> number_of(std::string_view text) {
  text = trimmed(text);
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<int> whole_of(std::string_view text, int least, int most) {
  int value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || value < least || value > most)
    return std::nullopt;
  return value;
}

/// "B7" to row 6, column 1.
std::optional<std::pair<int, int>> place_of(std::string_view text) {
  int column = 0;
  std::size_t at = 0;
  for (; at < text.size() && at < 3 && text[at] >= 'A' && text[at] <= 'Z'; ++at)
    column = column * 26 + (text[at] - 'A' + 1);
  const auto row = whole_of(text.substr(at), 1, most_rows);
  if (at == 0 || !row || column > most_columns) return std::nullopt;
  return std::pair(*row - 1, column - 1);
}

/// Cells of one sheet, row by row.
class SheetPart {
 public:
  SheetPart(const Part& part, const std::vector<std::string>& texts, const std::vector<NumberShown>& styles,
            StoredSheet& sheet, Budget& budget)
      : part_(part), texts_(texts), styles_(styles), sheet_(sheet), budget_(budget) {}

  void read() {
    each(first(part_.root(), "sheetData"), "row", [&](const pugi::xml_node& row) {
      ++row_;
      if (const pugi::xml_attribute r = row.attribute("r")) {
        const auto number = whole_of(trimmed(r.value()), 1, most_rows);
        if (!number || *number - 1 < row_) part_.fail("a row has no sound number");
        row_ = *number - 1;
      }
      column_ = -1;
      each(row, "c", [&](const pugi::xml_node& cell) { add(cell); });
    });
  }

 private:
  [[noreturn]] void fail(const std::string& why) const {
    part_.fail("cell " + reference(row_, column_) + " " + why);
  }

  void add(const pugi::xml_node& node) {
    ++column_;
    if (const pugi::xml_attribute r = node.attribute("r")) {
      const auto place = place_of(trimmed(r.value()));
      if (!place || place->first != row_ || place->second < column_) part_.fail("a cell has no sound place");
      column_ = place->second;
    }
    if (row_ >= most_rows || column_ >= most_columns) part_.fail("it has too many rows or columns");
    StoredCell cell = value_of(node);
    if (cell.kind == StoredCell::Kind::blank && !cell.computed) return;
    if (budget_.cells == 0 || budget_.text_bytes < cell.text.size())
      part_.fail("the book has too much in it");
    --budget_.cells;
    budget_.text_bytes -= cell.text.size();
    sheet_.cells.emplace(std::pair(row_, column_), std::move(cell));
  }

  StoredCell value_of(const pugi::xml_node& node) const {
    StoredCell cell;
    if (const pugi::xml_node formula = first(node, "f")) {
      cell.computed = true;
      cell.formula = part_.sound(content(formula));
    }
    const std::string_view type = node.attribute("t").as_string("n");
    const pugi::xml_node stored = first(node, "v");
    if (type == "inlineStr") {
      set_text(cell, item_text(first(node, "is")));
    } else if (stored) {
      set(cell, type, content(stored));
    } else if (type != "n" && type != "s" && type != "str" && type != "b" && type != "e" && type != "d") {
      fail("is of an unknown type");
    }
    const auto style = static_cast<std::size_t>(node.attribute("s").as_uint());
    if (cell.kind == StoredCell::Kind::number && style < styles_.size()) {
      cell.as_day = styles_[style].day;
      cell.as_time = styles_[style].time;
    }
    return cell;
  }

  void set_text(StoredCell& cell, std::string text) const {
    cell.text = part_.sound(std::move(text));
    if (!cell.text.empty()) cell.kind = StoredCell::Kind::text;
  }

  void set(StoredCell& cell, std::string_view type, const std::string& stored) const {
    if (type == "s") return set_text(cell, shared(stored));
    if (type == "str") return set_text(cell, unescaped(stored));
    if (type == "n" && trimmed(stored).empty()) return;
    if (type == "n" || type == "b") {
      const std::string_view word = trimmed(stored);
      const auto number = number_of(word == "true" ? "1" : word == "false" ? "0" : word);
      if (!number || (type == "b" && *number != 0 && *number != 1)) fail("holds no sound number");
      cell.number = *number;
      cell.kind = type == "b" ? StoredCell::Kind::boolean : StoredCell::Kind::number;
      return;
    }
    if (type != "e" && type != "d") fail("is of an unknown type");
    cell.text = part_.sound(std::string(trimmed(stored)));
    cell.kind = type == "e" ? StoredCell::Kind::error : StoredCell::Kind::iso_date;
  }

  std::string shared(const std::string& stored) const {
    const auto index = whole_of(trimmed(stored), 0, 100'000'000);
    if (!index || static_cast<std::size_t>(*index) >= texts_.size()) fail("names no text of the book");
    return texts_[static_cast<std::size_t>(*index)];
  }

  const Part& part_;
  const std::vector<std::string>& texts_;
  const std::vector<NumberShown>& styles_;
  StoredSheet& sheet_;
  Budget& budget_;
  int row_ = -1, column_ = -1;
};

/// `target` as a part name: from the root, or beside the part that names it.
std::string resolved(const std::string& target, const std::string& folder) {
  if (target.starts_with('/')) return target.substr(1);
  std::string path = folder;
  std::string_view rest = target;
  for (; rest.starts_with("../"); rest.remove_prefix(3)) {
    const std::size_t slash = path.size() < 2 ? std::string::npos : path.rfind('/', path.size() - 2);
    path.resize(slash == std::string::npos ? 0 : slash + 1);
  }
  while (rest.starts_with("./")) rest.remove_prefix(2);
  return path + std::string(rest);
}

bool is_true(std::string_view word) { return word == "1" || word == "true"; }

}  // namespace

std::map<std::string, Link> read_links(const std::string& xml, const std::string& part,
                                       const std::string& folder) {
  const Part document(xml, part, "Relationships");
  std::map<std::string, Link> links;
  each(document.root(), "Relationship", [&](const pugi::xml_node& node) {
    if (std::string_view(node.attribute("TargetMode").value()) == "External") return;
    Link link{node.attribute("Type").value(), resolved(node.attribute("Target").value(), folder)};
    if (!links.emplace(node.attribute("Id").value(), std::move(link)).second)
      document.fail("it has two relations of one id");
  });
  return links;
}

BookPart read_book_part(const std::string& xml, const std::string& part) {
  const Part document(xml, part, "workbook");
  BookPart book;
  book.from_1904 = is_true(first(document.root(), "workbookPr").attribute("date1904").value());
  each(first(document.root(), "sheets"), "sheet", [&](const pugi::xml_node& node) {
    SheetEntry entry;
    entry.name = document.sound(node.attribute("name").value());
    const std::string_view state = node.attribute("state").as_string("visible");
    entry.hidden = state != "visible";
    for (const pugi::xml_attribute& attribute : node.attributes())
      if (std::string_view(attribute.name()).ends_with(":id")) entry.link = attribute.value();
    if (entry.name.empty() || entry.link.empty()) document.fail("a sheet has no name or no part");
    book.sheets.push_back(std::move(entry));
  });
  if (book.sheets.empty() || book.sheets.size() > kMostSheets) document.fail("it has no sheets, or too many");
  return book;
}

std::vector<std::string> read_shared_texts(const std::string& xml, const std::string& part) {
  const Part document(xml, part, "sst");
  std::vector<std::string> texts;
  each(document.root(), "si",
       [&](const pugi::xml_node& item) { texts.push_back(document.sound(item_text(item))); });
  return texts;
}

void read_sheet_part(const std::string& xml, const std::string& part, const std::vector<std::string>& texts,
                     const std::vector<NumberShown>& styles, StoredSheet& sheet, Budget& budget) {
  const Part document(xml, part, "worksheet");
  SheetPart(document, texts, styles, sheet, budget).read();
}

NumberShown shown_by(const std::string& code) {
  NumberShown shown;
  for (std::size_t at = 0; at < code.size() && code[at] != ';'; ++at) {
    const char c = code[at];
    if (c == '\\' || c == '_' || c == '*') {
      ++at;
    } else if (c == '"') {
      at = std::min(code.find('"', at + 1), code.size());
    } else if (c == '[') {
      const std::size_t end = std::min(code.find(']', at), code.size());
      const std::string inner = code.substr(at + 1, end - at - 1);
      shown.time |= !inner.empty() && inner.find_first_not_of("hHmMsS") == std::string::npos;
      at = end;
    } else if (code.compare(at, 7, "General") == 0) {
      at += 6;
    } else {
      shown.day |= std::string_view("dDyY").find(c) != std::string_view::npos;
      shown.time |= std::string_view("hHsS").find(c) != std::string_view::npos;
    }
  }
  const bool months = !shown.day && !shown.time && code.find("mmm") != std::string::npos;
  shown.day |= months && code.find('"') == std::string::npos;
  return shown;
}

std::vector<NumberShown> read_styles(const std::string& xml, const std::string& part) {
  const Part document(xml, part, "styleSheet");
  std::map<int, NumberShown> by_format;
  for (const int day : {14, 15, 16, 17, 22}) by_format[day].day = true;  // ISO/IEC 29500-1, 18.8.30
  for (const int time : {18, 19, 20, 21, 22, 45, 46, 47}) by_format[time].time = true;
  each(first(document.root(), "numFmts"), "numFmt", [&](const pugi::xml_node& node) {
    by_format[node.attribute("numFmtId").as_int()] = shown_by(node.attribute("formatCode").value());
  });
  std::vector<NumberShown> styles;
  each(first(document.root(), "cellXfs"), "xf", [&](const pugi::xml_node& node) {
    const auto known = by_format.find(node.attribute("numFmtId").as_int());
    styles.push_back(known == by_format.end() ? NumberShown{} : known->second);
  });
  return styles;
}

std::vector<std::pair<int, int>> read_comments(const std::string& xml, const std::string& part) {
  const Part document(xml, part, "comments");
  std::vector<std::pair<int, int>> places;
  each(first(document.root(), "commentList"), "comment", [&](const pugi::xml_node& node) {
    const auto place = place_of(trimmed(node.attribute("ref").value()));
    if (!place) document.fail("a comment has no sound place");
    places.push_back(*place);
  });
  return places;
}

}  // namespace fettlefund::sheets
