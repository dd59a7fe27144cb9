#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "lib/sheets/read_back/read_workbook.hpp"

/// Whatever the bytes, a workbook is read or refused. The first byte chooses: the bytes are a zip archive, or
/// they are the XML of one part of an otherwise sound book, which the checksums of an archive would keep from
/// the fuzzer.
namespace {

using fettlefund::sheets::StoredBook;
using fettlefund::sheets::Unreadable;

constexpr const char* kType = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/";

std::string sound_part(const std::string& name) {
  const std::string type = std::string("\" Type=\"") + kType;
  if (name == "_rels/.rels") {
    return "<Relationships><Relationship Id=\"a" + type +
           "officeDocument\" Target=\"book.xml\"/></Relationships>";
  }
  if (name == "_rels/book.xml.rels") {
    return "<Relationships><Relationship Id=\"s" + type +
           "worksheet\" Target=\"sheet.xml\"/><Relationship Id=\"t" + type +
           "sharedStrings\" Target=\"texts.xml\"/></Relationships>";
  }
  if (name == "book.xml") return "<workbook><sheets><sheet name=\"A\" r:id=\"s\"/></sheets></workbook>";
  if (name == "texts.xml") return "<sst><si><t>a</t></si><si><r><t>b</t></r></si></sst>";
  return "<worksheet><sheetData><row><c t=\"s\"><v>0</v></c></row></sheetData></worksheet>";
}

StoredBook read(unsigned choice, const std::string& bytes) {
  static const char* parts[] = {"sheet.xml", "texts.xml", "book.xml", "_rels/book.xml.rels", "_rels/.rels"};
  if (choice % 6 == 5) return fettlefund::sheets::read_xlsx(bytes);
  return fettlefund::sheets::read_xlsx_parts([&](const std::string& name) -> std::optional<std::string> {
    return name == parts[choice % 6] ? bytes : sound_part(name);
  });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
  try {
    const StoredBook book = read(data[0], bytes);
    for (const auto& sheet : book.sheets)
      for (const auto& [place, cell] : sheet.cells)
        if (place.first < 0 || place.second < 0 ||
            (cell.kind == fettlefund::sheets::StoredCell::Kind::blank && !cell.computed))
          std::abort();
    fettlefund::sheets::read_back(book);
  } catch (const Unreadable&) {
  }
  return 0;
}
