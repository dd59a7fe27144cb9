#include "lib/form/reading/gather.hpp"

#include <algorithm>
#include <set>

#include "lib/build/json/values.hpp"
#include "lib/form/naming.hpp"
#include "lib/form/reading/row_piece.hpp"
#include "lib/form/reading/values.hpp"
#include "lib/form/writing/guide.hpp"
#include "lib/form/writing/kinds_sheet.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::StoredCell;

/// The sections of a build file in the order in which they are written.
constexpr std::string_view sections[] = {"suppliers", "articles", "on_hand", "removals", "jobs", "fitted",
                                         "clashes",   "rules",    "silence", "cautions", "drive"};
constexpr std::string_view lists[] = {"on_hand", "clashes", "rules", "silence", "cautions"};

bool one_of(std::string_view word, const auto& words) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

class Gatherer {
 public:
  explicit Gatherer(const sheets::StoredBook& book) : book_(book) {}

  Gathered gather() {
    read_grids();
    name_entries();
    name_steps();
    find_tools();
    find_currency();
    start_root();
    const Surroundings around{currency_, book_.from_1904, names_};
    RowReader rows(around, out_.faults);
    for (std::size_t s = 0; s < out_.grids.size(); ++s) {
      const Grid& grid = out_.grids[s];
      if (grid.header_row < 0) continue;
      const int sheet = static_cast<int>(s);
      if (grid.spec->kind == Kind::fields)
        add_fields(rows, grid, sheet);
      else if (grid.spec->kind == Kind::entries)
        add_entries(rows, grid, sheet);
      else
        add_items(rows, grid, sheet);
    }
    finish_root();
    return std::move(out_);
  }

 private:
  void fault(At at, bool error, std::string found, std::string expected) {
    out_.faults.push_back({at, error, std::move(found), std::move(expected), {}});
  }

  void read_grids() {
    for (const SheetSpec& spec : all_sheets()) {
      const int number = static_cast<int>(out_.grids.size());
      out_.grids.push_back(read_grid(spec, book_));
      const Grid& grid = out_.grids.back();
      if (grid.sheet == nullptr && spec.needed)
        fault({number, -1, 0, {}}, true, "no such sheet", fmt::format("the sheet {} of the form", spec.name));
      for (const GridFault& one : grid.faults)
        fault({number, one.row, one.column, {}}, one.error, one.found, one.expected);
    }
    for (const sheets::StoredSheet& sheet : book_.sheets) tell_stranger(sheet);
  }

  void tell_stranger(const sheets::StoredSheet& sheet) {
    const auto known = [&](const Grid& grid) { return grid.sheet == &sheet; };
    const std::string name = folded(sheet.name);
    if (sheet.hidden || sheet.cells.empty() || name == folded(guide_sheet) ||
        name == folded(kinds_sheet_name) || std::any_of(out_.grids.begin(), out_.grids.end(), known))
      return;
    fault({}, false, fmt::format("a sheet '{}'", sheet.name),
          "only sheets of the form; this one is not read");
  }

  /// Ids of the rows with a name. Those of jobs, removals and fitted parts differ from each other, so that
  /// wherever an id is shown it means one thing.
  void name_entries() {
    std::map<std::string, std::set<std::string>> taken;
    const auto domain = [](const SheetSpec& spec) {
      return std::string(one_of(spec.section, std::vector<std::string_view>{"jobs", "removals", "fitted"})
                             ? "work"
                             : spec.section);
    };
    named_.resize(out_.grids.size());
    for (std::size_t s = 0; s < named_.size(); ++s) {
      const Grid& grid = out_.grids[s];
      if (grid.spec->kind != Kind::entries) continue;
      for (const GridRow& row : grid.rows) named_[s].push_back(named_row(grid, row));
      keep_ids(named_[s]);
      for (const NamedRow& row : named_[s])
        if (!row.id.empty()) taken[domain(*grid.spec)].insert(row.id);
    }
    for (std::size_t s = 0; s < named_.size(); ++s) {
      const Grid& grid = out_.grids[s];
      if (grid.spec->kind != Kind::entries) continue;
      const std::string_view what = grid.spec->section == "jobs"       ? "job"
                                    : grid.spec->section == "articles" ? "thing"
                                                                       : "row";
      make_ids(named_[s], taken[domain(*grid.spec)], what);
      list_names(grid, static_cast<int>(s));
    }
  }

  static NamedRow named_row(const Grid& grid, const GridRow& row) {
    const StoredCell* name = row.find(grid.spec->columns.front().heading);
    return {row.row,
            name == nullptr ? "" : sheets::read_words(name).value.value_or(""),
            row.id,
            row.name_before,
            {}};
  }

  void list_names(const Grid& grid, int sheet) {
    NameList& list = names_[grid.spec->name];
    const std::string_view heading = grid.spec->columns.front().heading;
    std::map<std::string, int> rows;
    for (const NamedRow& row : named_[static_cast<std::size_t>(sheet)]) {
      if (row.name.empty()) continue;
      const auto [found, fresh] = rows.emplace(folded(row.name), row.row);
      if (fresh)
        list.add(row.name, row.id);
      else
        fault({sheet, row.row, column_of(grid, heading), heading}, true, "'" + row.name + "'",
              fmt::format("another name than that of row {}", found->second + 1));
    }
    for (const GridRow& row : grid.examples)
      if (const StoredCell* name = row.find(heading))
        list.add_example(sheets::read_words(name).value.value_or(""));
    list.close();
  }

  void name_steps() {
    for (std::size_t s = 0; s < out_.grids.size(); ++s) {
      const Grid& grid = out_.grids[s];
      if (grid.spec->name != steps_sheet) continue;
      std::vector<NamedRow> rows;
      for (const GridRow& row : grid.rows) {
        const StoredCell* cell = row.find(step_name_heading);
        if (cell == nullptr) continue;
        const std::string name = sheets::read_words(cell).value.value_or("");
        const std::string word = build::is_id(name) ? name : word_of(name);
        if (!names_[steps_sheet].id_of(word).empty())
          fault({static_cast<int>(s), row.row, column_of(grid, step_name_heading), step_name_heading}, true,
                "'" + name + "'", "a short name that no other step has");
        else if (!word.empty())
          names_[steps_sheet].add(name, word);
      }
      names_[steps_sheet].close();
    }
  }

  /// Amounts cannot be read without it. Whether it is right is told by the reader of builds.
  void find_currency() {
    const Grid& build = out_.grids.front();
    if (build.rows.empty()) return;
    const StoredCell* cell = build.rows[0].find("Currency");
    if (cell == nullptr) return;
    const auto known = budgets::find_currency(sheets::read_words(cell).value.value_or(""));
    if (known) currency_ = *known;
  }

  void start_root() {
    out_.root.at = sheet_at("Build");
    out_.root.member("fettlefund", {}, Piece::Kind::scalar).token = "1";
    const At nowhere;
    for (const std::string_view key : {"name", "about", "currency"})
      out_.root.member(std::string(key), nowhere, Piece::Kind::scalar);
    out_.root.member("money", sheet_at("Build"));
    out_.root.member("bench", sheet_at("Build"));
    for (const std::string_view key : sections)
      out_.root.member(std::string(key), key == "jobs" ? sheet_at("Jobs") : nowhere,
                       one_of(key, lists) ? Piece::Kind::list : Piece::Kind::object);
  }

  At sheet_at(std::string_view name) const {
    for (std::size_t s = 0; s < out_.grids.size(); ++s)
      if (out_.grids[s].spec->name == name) return {static_cast<int>(s), -1, 0, {}};
    return {};
  }

  /// What nobody filled in is left out, but for what every build must have.
  void finish_root() {
    for (const auto& path : sorted_) {
      Piece* list = &out_.root;
      for (const std::string& part : path) list = &list->member(part, {});
      std::sort(list->items.begin(), list->items.end(),
                [](const Piece& a, const Piece& b) { return a.token < b.token; });
    }
    auto& members = out_.root.members;
    std::erase_if(members, [](const auto& member) {
      const Piece& piece = member.value;
      return member.key != "money" && member.key != "bench" && member.key != "jobs" &&
             piece.members.empty() && piece.items.empty() && piece.token.empty();
    });
    out_.root.index.clear();
  }

  void add_fields(RowReader& rows, const Grid& grid, int sheet) {
    const bool filled = !grid.rows.empty() && !grid.rows[0].cells.empty();
    if (!filled && !grid.spec->needed) return;
    static const GridRow nothing;
    const RowPlace place{grid, sheet, filled ? grid.rows[0] : nothing};
    std::vector<Use> uses;
    for (const Column& column : grid.spec->columns)
      uses.push_back({column.heading, column.key, column.required});
    Piece& into = grid.spec->section.empty() ? out_.root
                                             : out_.root.member(std::string(grid.spec->section),
                                                                place.at(grid.spec->columns.front()));
    if (into.at.sheet < 0 && !grid.spec->section.empty()) into.at = place.at(grid.spec->columns.front());
    rows.fill(into, place, uses);
  }

  void add_entries(RowReader& rows, const Grid& grid, int sheet) {
    std::vector<Use> uses;
    for (const Column& column : grid.spec->columns)
      uses.push_back({column.heading, column.key, column.required});
    Piece& section = out_.root.member(std::string(grid.spec->section), {});
    for (std::size_t r = 0; r < grid.rows.size(); ++r) {
      const RowPlace place{grid, sheet, grid.rows[r]};
      const std::string& id = named_[static_cast<std::size_t>(sheet)][r].id;
      rows.fill(section.member(id, place.at(grid.spec->columns.front())), place, uses);
    }
  }

  void add_items(RowReader& rows, const Grid& grid, int sheet) {
    for (const GridRow& row : grid.rows) {
      const RowPlace place{grid, sheet, row};
      const auto choice = rows.choose(place, [&](const std::string& name) { return is_tool(name); });
      if (choice) add_item(rows, place, *choice);
    }
  }

  void add_item(RowReader& rows, const RowPlace& place, const Chosen& chosen) {
    const Variant& variant = *chosen.variant;
    Piece* into = &out_.root;
    const At at = place.at(*place.grid.spec->find(variant.uses.front().heading));
    for (std::size_t i = 0; i < chosen.path.size(); ++i) {
      const bool last = i + 1 == chosen.path.size();
      if (last && variant.pair && into->find(chosen.path[i]) != nullptr) {
        const std::vector<std::string> headings = headings_in(variant.path);
        const Column& column = *place.grid.spec->find(headings.back());
        return fault(place.at(column), true, sheets::shown_text(place.row.find(column.heading)),
                     "each of them once");
      }
      const auto kind = last && !variant.pair ? Piece::Kind::list : Piece::Kind::object;
      into = &into->member(chosen.path[i], at, kind);
    }
    if (into->at.sheet < 0) into->at = at;
    if (variant.sorted) sorted_.insert(chosen.path);
    Piece item;
    item.at = at;
    rows.fill(item, place, variant.uses);
    if (variant.uses.size() == 1 && variant.uses[0].key.empty()) {
      const Piece* value = item.find("");
      if (value == nullptr) return;
      item = Piece(*value);
    }
    if (variant.pair)
      *into = std::move(item);
    else
      into->items.push_back(std::move(item));
  }

  /// Whether the sheet of things calls it a tool.
  bool is_tool(const std::string& name) { return tools_.contains(names_["Things"].id_of(name)); }

  void find_tools() {
    for (std::size_t s = 0; s < out_.grids.size(); ++s) {
      const Grid& grid = out_.grids[s];
      if (grid.spec->section != "articles") continue;
      for (std::size_t r = 0; r < grid.rows.size(); ++r) {
        const StoredCell* kind = grid.rows[r].find("Kind");
        if (kind != nullptr && folded(kind->text) == "tool") tools_.insert(named_[s][r].id);
      }
    }
  }

  const sheets::StoredBook& book_;
  Gathered out_;
  Directory names_;
  std::vector<std::vector<NamedRow>> named_;  ///< by sheet
  std::set<std::string> tools_;
  budgets::Currency currency_{"", 4};
  std::set<std::vector<std::string>> sorted_;  ///< lists whose items stand in any order
};

}  // namespace

Gathered gather(const sheets::StoredBook& book) { return Gatherer(book).gather(); }

const StoredCell* cell_at(const Gathered& gathered, const At& at) {
  if (at.sheet < 0 || at.row < 0) return nullptr;
  const sheets::StoredSheet* sheet = gathered.grids[static_cast<std::size_t>(at.sheet)].sheet;
  if (sheet == nullptr) return nullptr;
  const auto found = sheet->cells.find({at.row, at.column});
  return found == sheet->cells.end() ? nullptr : &found->second;
}

}  // namespace fettlefund::form
