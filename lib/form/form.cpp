#include "lib/form/form.hpp"

#include <algorithm>
#include <set>

#include "lib/form/reading/gather.hpp"
#include "lib/form/reading/row_piece.hpp"
#include "lib/form/writing/marker.hpp"
#include "lib/sheets/book/references.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"

#include <fmt/format.h>

namespace fettlefund::form {

struct Cells {
  sheets::StoredBook book;
  Gathered gathered;
  Origins origins;
  std::string file;
};

namespace {

using build::Diagnostic;

Reading refused(const std::string& file, std::string found, std::string expected) {
  Diagnostic diagnostic;
  diagnostic.file = file;
  diagnostic.found = std::move(found);
  diagnostic.expected = std::move(expected);
  Reading reading;
  reading.diagnostics.push_back(std::move(diagnostic));
  return reading;
}

/// "Jobs C7"; of a whole sheet "Jobs".
std::string cell_words(const At& at) {
  if (at.sheet < 0) return "";
  const std::string sheet(all_sheets()[static_cast<std::size_t>(at.sheet)].name);
  return at.row < 0 ? sheet : sheet + " " + sheets::reference(at.row, at.column);
}

Diagnostic told(const Fault& fault, const std::string& file) {
  Diagnostic diagnostic;
  diagnostic.severity = fault.error ? build::Severity::error : build::Severity::warning;
  diagnostic.file = file;
  diagnostic.cell = cell_words(fault.at);
  diagnostic.pointer = fault.at.heading;
  diagnostic.found = fault.found;
  diagnostic.expected = fault.expected;
  diagnostic.nearest = fault.nearest;
  return diagnostic;
}

std::string heading_in(const SheetSpec& spec, const std::string& key) {
  const auto is = [&](std::string_view has) { return has == key || has.ends_with("/" + key); };
  for (const Column& column : spec.columns)
    if (is(column.key)) return std::string(column.heading);
  for (const Variant& variant : spec.variants)
    for (const Use& use : variant.uses)
      if (is(use.key)) return std::string(use.heading);
  return "";
}

/// The heading of a key that is told at the place of `pointer`: looked for first among those of the same
/// value, then of the same sheet, then anywhere. Empty if it has none.
std::string heading_of(const std::string& key, const std::string& pointer, const At& at) {
  const std::size_t cut = pointer.rfind('/'), before = cut == 0 ? cut : pointer.rfind('/', cut - 1);
  const std::string last = cut == std::string::npos ? "" : pointer.substr(cut + 1);
  const std::string outer = before >= cut ? "" : pointer.substr(before + 1, cut - before - 1);
  std::vector<const SheetSpec*> specs;
  if (at.sheet >= 0) specs.push_back(&all_sheets()[static_cast<std::size_t>(at.sheet)]);
  for (const SheetSpec& spec : all_sheets()) specs.push_back(&spec);
  for (const SheetSpec* spec : specs)
    for (const std::string& wanted : {outer + "." + key, last + "." + key, key, key + ".likely", key + ".1"})
      if (const std::string heading = heading_in(*spec, wanted); !heading.empty()) return heading;
  if (key == "dates") return "payday on the sheet Dates";
  return key == "uses" || key == "one_use" || key == "tools" ? "Needs" : "";
}

/// Keys that the reader of builds names in double quotes become the headings that people see.
std::string in_headings(std::string expected, const std::string& pointer, const At& at) {
  if (expected == "a key \"paydays\"")
    return "one of the ways to tell the paydays, or paydays on the sheet Dates";
  constexpr std::string_view key_words = "a key \"";
  if (const std::size_t found = expected.find(key_words); found != std::string::npos)
    expected.replace(found, key_words.size(), "something under \"");
  if (expected.starts_with("one of the keys ")) expected.erase(7, 9);
  std::string out;
  for (std::size_t from = 0; from < expected.size();) {
    const std::size_t open = expected.find('"', from);
    const std::size_t close = open == std::string::npos ? open : expected.find('"', open + 1);
    if (close == std::string::npos) return out + expected.substr(from);
    const std::string heading = heading_of(expected.substr(open + 1, close - open - 1), pointer, at);
    out += expected.substr(from, open - from);
    out += heading.empty() ? expected.substr(open, close - open + 1) : "'" + heading + "'";
    from = close + 1;
  }
  return out;
}

/// The cell of the value at that pointer, or of the innermost around it that has one.
At origin_of(const Origins& origins, std::string pointer) {
  for (;;) {
    const auto found = origins.find(pointer);
    if (found != origins.end() && found->second.sheet >= 0) return found->second;
    const std::size_t cut = pointer.rfind('/');
    if (cut == std::string::npos) return {};
    pointer.resize(cut);
  }
}

Fault as_fault(const Cells& cells, const Diagnostic& diagnostic) {
  Fault fault;
  fault.at = origin_of(cells.origins, diagnostic.pointer);
  fault.error = diagnostic.severity == build::Severity::error;
  fault.found = diagnostic.found;
  const sheets::StoredCell* cell = cell_at(cells.gathered, fault.at);
  const bool own = cells.origins.contains(diagnostic.pointer);
  if (!fault.found.empty() && cell != nullptr && own) fault.found = sheets::shown_text(cell);
  fault.expected = in_headings(diagnostic.expected, diagnostic.pointer, fault.at);
  fault.nearest = diagnostic.nearest;
  return fault;
}

/// Where the cells have been told already, what the reader of builds says about the gap they left is not.
std::vector<Fault> besides(const std::vector<Fault>& told, std::vector<Fault> more) {
  std::set<std::pair<int, int>> rows;
  std::set<std::tuple<int, int, int>> cells;
  for (const Fault& fault : told) {
    if (!fault.error) continue;
    rows.emplace(fault.at.sheet, fault.at.row);
    cells.emplace(fault.at.sheet, fault.at.row, fault.at.column);
  }
  std::erase_if(more, [&](const Fault& fault) {
    const bool whole = fault.at.row < 0;
    const bool sheet_told = std::any_of(told.begin(), told.end(), [&](const Fault& one) {
      return one.error && one.at.sheet == fault.at.sheet;
    });
    if (fault.found.empty() && (whole ? sheet_told : rows.contains({fault.at.sheet, fault.at.row})))
      return true;
    return cells.contains({fault.at.sheet, fault.at.row, fault.at.column});
  });
  return more;
}

std::vector<Diagnostic> in_order(std::vector<Fault> faults, const std::string& file) {
  std::stable_sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) {
    return std::tuple(a.at.sheet, a.at.row, a.at.column) < std::tuple(b.at.sheet, b.at.row, b.at.column);
  });
  std::vector<Diagnostic> diagnostics;
  for (const Fault& fault : faults) {
    if (diagnostics.size() == build::max_diagnostics) {
      diagnostics.push_back(
          told({fault.at,
                fault.error,
                fmt::format("{} more things wrong from here on", faults.size() - diagnostics.size()),
                {},
                {}},
               file));
      diagnostics.back().pointer.clear();
      const bool errors =
          std::any_of(faults.begin(), faults.end(), [](const Fault& one) { return one.error; });
      if (errors) diagnostics.back().severity = build::Severity::error;
      break;
    }
    diagnostics.push_back(told(fault, file));
  }
  return diagnostics;
}

Reading read_book(sheets::StoredBook book, const std::string& file) {
  auto cells = std::make_shared<Cells>();
  cells->book = std::move(book);
  cells->file = file;
  cells->gathered = gather(cells->book);
  Written written = write_json(cells->gathered.root);
  cells->origins = std::move(written.origins);
  build::Reading inner = build::read(written.text, file);
  std::vector<Fault> faults = cells->gathered.faults, more;
  for (const Diagnostic& one : inner.diagnostics) more.push_back(as_fault(*cells, one));
  more = besides(faults, std::move(more));
  faults.insert(faults.end(), more.begin(), more.end());
  Reading reading;
  reading.diagnostics = in_order(std::move(faults), file);
  if (!build::has_errors(reading.diagnostics)) reading.build = std::move(inner.build);
  reading.text = std::move(written.text);
  reading.cells = std::move(cells);
  return reading;
}

std::string not_a_form(const sheets::StoredBook& book) {
  const bool plan = std::any_of(book.sheets.begin(), book.sheets.end(), [](const auto& sheet) {
    return sheet.hidden && sheet.name == "Plan record";
  });
  return plan ? "the workbook of a plan" : "a workbook that is no form";
}

}  // namespace

bool is_workbook(std::string_view bytes) {
  return bytes.starts_with("PK\x03\x04") || bytes.starts_with("PK\x05\x06") ||
         bytes.starts_with("\xD0\xCF\x11\xE0");
}

Reading read_form(std::string bytes, const std::string& file) {
  if (bytes.starts_with("\xD0\xCF\x11\xE0"))
    return refused(file, "a workbook of the older kind, or one with a password",
                   "one saved as xlsx without a password");
  try {
    sheets::StoredBook book = sheets::read_xlsx(std::move(bytes));
    if (!has_marker(book))
      return refused(file, not_a_form(book), "a build file, or a form that `fettlefund form` wrote");
    if (const int version = marked_version(book); version != form_version)
      return refused(file, fmt::format("a form of version {}", version),
                     fmt::format("one of version {}, the only one so far", form_version));
    return read_book(std::move(book), file);
  } catch (const sheets::Unreadable& fault) {
    return refused(file, "a workbook that cannot be read: " + std::string(fault.what()), "");
  }
}

Reading read_form_file(const std::string& path) {
  try {
    return read_form(sheets::file_bytes(path), path);
  } catch (const sheets::Unreadable& fault) {
    return refused(path, "a workbook that cannot be read: " + std::string(fault.what()), "");
  }
}

std::vector<Diagnostic> in_cells(const Reading& reading, std::vector<Diagnostic> diagnostics) {
  if (!reading.cells) return diagnostics;
  std::vector<Fault> faults;
  for (const Diagnostic& one : diagnostics) faults.push_back(as_fault(*reading.cells, one));
  return in_order(std::move(faults), reading.cells->file);
}

}  // namespace fettlefund::form
