#include "lib/sheets/xlsx/xlsx.hpp"

#include <algorithm>
#include <cctype>
#include <set>

#include "lib/sheets/xlsx/xlsx_xml.hpp"
#include "lib/text/ascii.hpp"

namespace fettlefund::sheets {
namespace {

std::string folder_of(const std::string& part) {
  const std::size_t slash = part.rfind('/');
  return slash == std::string::npos ? "" : part.substr(0, slash + 1);
}

std::string links_of(const std::string& part) {
  const std::string folder = folder_of(part);
  return folder + "_rels/" + part.substr(folder.size()) + ".rels";
}

class Reader {
 public:
  explicit Reader(const PartSource& source) : source_(source) {}

  StoredBook read() {
    const std::string main = main_part();
    const BookPart part = read_book_part(needed(main), main);
    links_ = read_links(needed(links_of(main)), links_of(main), folder_of(main));
    read_texts();
    StoredBook book;
    book.from_1904 = part.from_1904;
    std::set<std::string> names;
    for (const SheetEntry& entry : part.sheets) {
      if (!names.insert(text::lower(entry.name)).second)
        throw Unreadable("it has two sheets named " + entry.name);
      add(book, entry);
    }
    return book;
  }

 private:
  std::string needed(const std::string& name) const {
    std::optional<std::string> text = source_(name);
    if (!text) throw Unreadable("its part " + name + " is missing");
    return std::move(*text);
  }

  std::string main_part() const {
    const std::optional<std::string> root = source_("_rels/.rels");
    if (!root) throw Unreadable("it is no xlsx workbook (its part _rels/.rels is missing); save it as xlsx");
    for (const auto& [id, link] : read_links(*root, "_rels/.rels", "")) {
      if (link.type.ends_with("/officeDocument")) return link.target;
    }
    throw Unreadable("it names no workbook");
  }

  void read_texts() {
    for (const auto& [id, link] : links_) {
      if (!link.type.ends_with("/sharedStrings")) continue;
      texts_ = read_shared_texts(needed(link.target), link.target);
    }
    for (const auto& [id, link] : links_)
      if (link.type.ends_with("/styles")) styles_ = read_styles(needed(link.target), link.target);
  }

  void add_comments(StoredSheet& sheet, const std::string& part) {
    const std::optional<std::string> links = source_(links_of(part));
    if (!links) return;
    for (const auto& [id, link] : read_links(*links, links_of(part), folder_of(part)))
      if (link.type.ends_with("/comments")) sheet.comments = read_comments(needed(link.target), link.target);
  }

  void add(StoredBook& book, const SheetEntry& entry) {
    const auto link = links_.find(entry.link);
    if (link == links_.end()) throw Unreadable("its sheet " + entry.name + " has no part");
    StoredSheet& sheet = book.sheets.emplace_back();
    sheet.name = entry.name;
    sheet.hidden = entry.hidden;
    if (!link->second.type.ends_with("/worksheet")) return;  // a sheet that is a chart has no cells
    if (!used_.insert(text::lower(link->second.target)).second)
      throw Unreadable("two of its sheets are the same part");
    read_sheet_part(needed(link->second.target), link->second.target, texts_, styles_, sheet, budget_);
    add_comments(sheet, link->second.target);
  }

  const PartSource& source_;
  std::map<std::string, Link> links_;
  std::vector<std::string> texts_;
  std::vector<NumberShown> styles_;
  std::set<std::string> used_;
  Budget budget_;
};

}  // namespace

StoredBook read_xlsx_parts(const PartSource& source) { return Reader(source).read(); }

StoredBook read_xlsx(std::string bytes) {
  const Archive archive(std::move(bytes));
  return read_xlsx_parts([&](const std::string& name) { return archive.part(name); });
}

}  // namespace fettlefund::sheets
