#include "lib/sheets/xlsx/xlsx.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>

#include "lib/sheets/xlsx/archive.hpp"
#include "lib/sheets/xlsx/xlsx_xml.hpp"

#include <doctest/doctest.h>
#include <unistd.h>
#include <zip.h>

using namespace fettlefund;
using sheets::StoredBook;
using sheets::StoredCell;
using sheets::Unreadable;
using Kind = StoredCell::Kind;
using Parts = std::map<std::string, std::string>;

namespace {

constexpr const char* kOffice = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/";

/// A book of one sheet "A", with these rows and shared texts.
Parts parts_of(const std::string& rows, const std::string& texts = "", const std::string& more = "") {
  const std::string type = std::string(" Type=\"") + kOffice;
  return {{"_rels/.rels", "<Relationships><Relationship Id=\"r1\"" + type +
                              "officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"},
          {"xl/workbook.xml",
           "<workbook>" + more + "<sheets><sheet name=\"A\" sheetId=\"1\" r:id=\"s\"/></sheets></workbook>"},
          {"xl/_rels/workbook.xml.rels",
           "<Relationships><Relationship Id=\"s\"" + type +
               "worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"t\"" + type +
               "sharedStrings\" Target=\"sharedStrings.xml\"/></Relationships>"},
          {"xl/worksheets/sheet1.xml", "<worksheet><sheetData>" + rows + "</sheetData></worksheet>"},
          {"xl/sharedStrings.xml", "<sst>" + texts + "</sst>"}};
}

StoredBook read(const Parts& parts) {
  return sheets::read_xlsx_parts([&](const std::string& name) -> std::optional<std::string> {
    const auto found = parts.find(name);
    return found == parts.end() ? std::nullopt : std::optional(found->second);
  });
}

StoredCell cell_of(const std::string& cell, const std::string& texts = "") {
  const StoredBook book = read(parts_of("<row>" + cell + "</row>", texts));
  const auto& cells = book.sheets.at(0).cells;
  return cells.empty() ? StoredCell{} : cells.begin()->second;
}

std::string fault_of(const Parts& parts) {
  try {
    read(parts);
  } catch (const Unreadable& fault) {
    return fault.what();
  }
  return "";
}

std::string fault_of_cell(const std::string& cell) {
  return fault_of(parts_of("<row r=\"1\">" + cell + "</row>"));
}

/// The parts as a zip file in memory.
std::string zipped(const Parts& parts) {
  zip_error_t fault;
  zip_source_t* source = zip_source_buffer_create(nullptr, 0, 0, &fault);
  zip_t* archive = zip_open_from_source(source, ZIP_TRUNCATE, &fault);
  REQUIRE(archive != nullptr);
  zip_source_keep(source);
  for (const auto& [name, text] : parts)
    zip_file_add(archive, name.c_str(), zip_source_buffer(archive, text.data(), text.size(), 0),
                 ZIP_FL_ENC_UTF_8);
  REQUIRE(zip_close(archive) == 0);
  zip_source_open(source);
  zip_source_seek(source, 0, SEEK_END);
  std::string bytes(static_cast<std::size_t>(zip_source_tell(source)), '\0');
  zip_source_seek(source, 0, SEEK_SET);
  REQUIRE(zip_source_read(source, bytes.data(), bytes.size()) == static_cast<zip_int64_t>(bytes.size()));
  zip_source_close(source);
  zip_source_free(source);
  return bytes;
}

}  // namespace

// The kinds of ISO/IEC 29500-1 (2016), 18.18.11 (ST_CellType).
TEST_CASE("every kind of cell is read as what it is") {
  CHECK(cell_of("<c><v>13.95</v></c>").number == 13.95);
  CHECK(cell_of("<c t=\"n\"><v> 1e2 </v></c>").number == 100);
  CHECK(cell_of("<c t=\"b\"><v>1</v></c>").kind == Kind::boolean);
  CHECK(cell_of("<c t=\"e\"><v>#DIV/0!</v></c>").text == "#DIV/0!");
  CHECK(cell_of("<c t=\"d\"><v>2026-02-01</v></c>").kind == Kind::iso_date);
  CHECK(cell_of("<c t=\"str\"><f>A1</f><v>x</v></c>").text == "x");
  CHECK(cell_of("<c t=\"inlineStr\"><is><t>in</t><r><t> line</t></r></is></c>").text == "in line");
  CHECK(cell_of("<c t=\"s\"><v>1</v></c>", "<si><t>a</t></si><si><t>b</t></si>").text == "b");
  CHECK(cell_of("<c><f>1+1</f><v>2</v></c>").formula == "1+1");
  CHECK(cell_of("<c><f>1+1</f></c>").computed);
  CHECK(cell_of("<c><f>1+1</f></c>").kind == Kind::blank);
  CHECK(cell_of("<c s=\"4\"/>") == StoredCell{});
}

TEST_CASE("shared texts keep runs, blanks and escapes, and leave out how they are spoken") {
  const auto text = [](const std::string& item) {
    return cell_of("<c t=\"s\"><v>0</v></c>", "<si>" + item + "</si>").text;
  };
  CHECK(text("<r><rPr><b/></rPr><t>bold</t></r><r><t xml:space=\"preserve\"> not</t></r>") == "bold not");
  CHECK(text("<t>\xE5\xBD\xB9</t><rPh sb=\"0\" eb=\"1\"><t>yaku</t></rPh><phoneticPr/>") == "\xE5\xBD\xB9");
  CHECK(text("<t xml:space=\"preserve\">  </t>") == "  ");
  CHECK(text("<t>a_x000A_b_x005F_x0041_</t>") == "a\nb_x0041_");
  CHECK(text("<t>&lt;&amp;&#233;<![CDATA[<b>]]></t>") == "<&\xC3\xA9<b>");
  CHECK(text("<t>_xD83D__x004_</t>") == "_xD83D__x004_");
}

TEST_CASE("rows and cells without places stand behind the one before") {
  const StoredBook book = read(parts_of(
      "<row><c><v>1</v></c><c><v>2</v></c></row><row r=\"4\"><c r=\"C4\"><v>3</v></c><c><v>4</v></c></row>"
      "<row><c><v>5</v></c></row>"));
  std::string places;
  for (const auto& [place, cell] : book.sheets[0].cells)
    places += std::to_string(place.first) + "," + std::to_string(place.second) + " ";
  CHECK(places == "0,0 0,1 3,2 3,3 4,0 ");
}

TEST_CASE("prefixes, absolute targets, hidden sheets and 1904 days are understood") {
  Parts parts = parts_of("<row><c><v>1</v></c></row>", "", "<workbookPr date1904=\"1\"/>");
  parts["xl/worksheets/sheet1.xml"] =
      "<x:worksheet "
      "xmlns:x=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><x:sheetData><x:row>"
      "<x:c><x:v>7</x:v></x:c></x:row></x:sheetData></x:worksheet>";
  std::string& rels = parts["xl/_rels/workbook.xml.rels"];
  rels.replace(rels.find("worksheets/"), 11, "/xl/worksheets/");
  std::string& book = parts["xl/workbook.xml"];
  book.replace(book.find("<sheet "), 7, "<sheet state=\"veryHidden\" ");
  const StoredBook read_book = read(parts);
  CHECK(read_book.from_1904);
  CHECK(read_book.sheets[0].hidden);
  CHECK(read_book.sheets[0].cells.begin()->second.number == 7);
}

TEST_CASE("nothing unsound is guessed at") {
  for (const char* cell : {"<c><v>abc</v></c>", "<c><v>1,5</v></c>", "<c><v>1e999</v></c>",
                           "<c><v>nan</v></c>", "<c><v>0x10</v></c>", "<c t=\"s\"><v>0</v></c>",
                           "<c t=\"s\"><v>-1</v></c>", "<c t=\"b\"><v>2</v></c>", "<c t=\"z\"><v>1</v></c>",
                           "<c r=\"A2\"><v>1</v></c>", "<c r=\"1A\"><v>1</v></c>",
                           "<c r=\"XFE1\"><v>1</v></c>", "<c r=\"B1\"><v>1</v></c><c r=\"B1\"><v>2</v></c>",
                           "<c r=\"B1\"><v>1</v></c><c r=\"A1\"><v>2</v></c>", "<c t=\"str\"><v>\xFF</v></c>",
                           "<c><v>1</v>", "<c><v>1</c></v>"}) {
    CAPTURE(cell);
    CHECK(fault_of_cell(cell) != "");
  }
  CHECK(fault_of(parts_of("<row r=\"0\"/>")) != "");
  CHECK(fault_of(parts_of("<row r=\"3\"/><row r=\"2\"/>")) != "");
  CHECK(fault_of(parts_of("<row r=\"1048577\"/>")) != "");
}

TEST_CASE("missing parts, two sheets of one name and document types are refused") {
  for (const auto& [name, text] : parts_of("")) {
    Parts parts = parts_of("");
    parts.erase(name);
    CHECK(fault_of(parts).find("missing") != std::string::npos);
    parts = parts_of("");
    parts[name] = "<!DOCTYPE a [<!ENTITY b \"c\">]>" + text;
    CHECK(fault_of(parts).find("document type") != std::string::npos);
    parts[name] = "";
    CHECK(fault_of(parts) != "");
    parts[name] = "<other/>";
    CHECK(fault_of(parts).find("not what it should be") != std::string::npos);
  }
  Parts twice = parts_of("");
  std::string& book = twice["xl/workbook.xml"];
  book.replace(book.find("</sheets>"), 9, "<sheet name=\"a\" r:id=\"s\"/></sheets>");
  CHECK(fault_of(twice) != "");
}

TEST_CASE("a book that would take too much memory is refused") {
  std::string many;
  for (int i = 0; i < 1000; ++i) many += "<c t=\"s\"><v>0</v></c>";
  CHECK(fault_of(parts_of("<row>" + many + "</row>", "<si><t>" + std::string(100'000, 'a') + "</t></si>")) !=
        "");
  std::string deep;
  for (int i = 0; i < 1'100'000; ++i) deep += "<a>";
  for (int i = 0; i < 1'100'000; ++i) deep += "</a>";
  CHECK(fault_of(parts_of(deep)).find("too many elements") != std::string::npos);
}

TEST_CASE("an archive is read whole or refused") {
  const std::string good = zipped(parts_of("<row><c><v>5</v></c></row>"));
  CHECK(sheets::read_xlsx(good).sheets[0].cells.begin()->second.number == 5);
  CHECK_THROWS_AS(sheets::read_xlsx(""), Unreadable);
  CHECK_THROWS_AS(sheets::read_xlsx("PK\x05\x06" + std::string(18, '\0')), Unreadable);
  CHECK_THROWS_AS(sheets::read_xlsx(good.substr(0, good.size() / 2)), Unreadable);
  Parts names = parts_of("");
  names["XL/workbook.xml"] = "<workbook/>";
  CHECK_THROWS_WITH_AS(sheets::read_xlsx(zipped(names)), "it has two parts named xl/workbook.xml",
                       Unreadable);
  Parts bomb = parts_of("");
  bomb["xl/sharedStrings.xml"] = std::string(sheets::most_part_bytes + 1, ' ');
  CHECK_THROWS_WITH_AS(sheets::read_xlsx(zipped(bomb)),
                       "its part xl/sharedStrings.xml would be too large unpacked", Unreadable);
  Parts many = parts_of("");
  for (std::size_t i = 0; i <= sheets::most_parts; ++i) many["extra/" + std::to_string(i)] = "";
  CHECK_THROWS_AS(sheets::read_xlsx(zipped(many)), Unreadable);
}

TEST_CASE("of a file all bytes are read, of one that is too large enough to refuse it") {
  std::string name = (std::filesystem::temp_directory_path() / "bytes-XXXXXX").string();
  const int file = mkstemp(name.data());
  REQUIRE(file >= 0);
  close(file);
  const auto read_of = [&](std::size_t size) {
    std::string bytes(size, '\0');
    for (std::size_t i = 0; i < size; ++i) bytes[i] = static_cast<char>(i % 251);
    std::ofstream(name, std::ios::binary) << bytes;
    const std::string read = sheets::file_bytes(name);
    CHECK(bytes.starts_with(read));
    return read.size();
  };
  for (const std::size_t size : {0u, 1u, 65'535u, 65'536u, 65'537u, 200'000u}) CHECK(read_of(size) == size);
  CHECK(read_of(sheets::most_file_bytes) == sheets::most_file_bytes);
  CHECK(read_of(sheets::most_file_bytes + 1) == sheets::most_file_bytes + 1);
  CHECK(read_of(3 * sheets::most_file_bytes) > sheets::most_file_bytes);
  CHECK_THROWS_WITH_AS(sheets::read_xlsx(sheets::file_bytes(name)), "it is larger than 16 MiB", Unreadable);
  std::filesystem::remove(name);
  CHECK_THROWS_WITH_AS(sheets::file_bytes(name), "it cannot be opened", Unreadable);
}

TEST_CASE("a changed byte of an archive changes no cell") {
  const StoredBook before = sheets::read_xlsx(
      zipped(parts_of("<row><c><v>5</v></c><c t=\"s\"><v>0</v></c></row>", "<si><t>some text</t></si>")));
  const std::string good =
      zipped(parts_of("<row><c><v>5</v></c><c t=\"s\"><v>0</v></c></row>", "<si><t>some text</t></si>"));
  int refused = 0;
  for (std::size_t at = 0; at < good.size(); ++at) {
    std::string bad = good;
    bad[at] = static_cast<char>(bad[at] ^ (1 << (at % 8)));
    try {
      const StoredBook now = sheets::read_xlsx(bad);
      CHECK(now.sheets[0].cells == before.sheets[0].cells);
    } catch (const Unreadable&) {
      ++refused;
    }
  }
  CHECK(refused > 300);
}

// Format codes of ISO/IEC 29500-1 (2016), 18.8.31.
TEST_CASE("a format code shows days, clock times or figures") {
  const auto shown = [](const std::string& code) {
    const sheets::NumberShown by = sheets::shown_by(code);
    return std::string(by.day ? "day" : "") + (by.time ? "time" : "");
  };
  for (const char* day : {"yyyy\\-mm\\-dd", "d/m/yy", "[$-409]mmmm\\ d;@", "mmm\\-yy", "DD.MM.YYYY"})
    CHECK(shown(day) == "day");
  for (const char* time : {"h:mm", "[h]:mm:ss", "hh:mm AM/PM", "mm:ss", "[mm]:ss"})
    CHECK(shown(time) == "time");
  CHECK(shown("yyyy-mm-dd hh:mm") == "daytime");
  for (const char* figure : {"General", "0.00", "#,##0.00;[Red]-#,##0.00", "0.00\" hd\"", "0.0\\h",
                             "0.00E+00", "_-* #,##0.00\\ [$EUR]_-", "@", ""})
    CHECK(shown(figure) == "");
}
