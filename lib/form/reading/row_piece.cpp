#include "lib/form/reading/row_piece.hpp"

#include <algorithm>
#include <map>

#include "lib/sheets/read_back/cell_reading.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::StoredCell;
using Parts = std::map<std::string, Piece>;  // of a value that several columns make up

/// "drive/front" -> the object "front" within.
Piece& object_of(Piece& object, std::string_view& key, At at) {
  Piece* into = &object;
  for (std::size_t cut = key.find('/'); cut != std::string_view::npos; cut = key.find('/')) {
    into = &into->member(std::string(key.substr(0, cut)), at);
    if (into->at.sheet < 0) into->at = at;
    key.remove_prefix(cut + 1);
  }
  return *into;
}

/// Low, likely and high: an object, or the likely value alone.
Piece spread(const Parts& parts, At at) {
  const auto likely = parts.find("likely");
  if (parts.size() == 1 && likely != parts.end()) return likely->second;
  Piece object;
  object.at = at;
  for (const std::string key : {"low", "likely", "high"})
    if (const auto part = parts.find(key); part != parts.end()) object.member(key, at) = part->second;
  return object;
}

/// Whether the path needs the column to say whose item it is.
bool is_owner(const SheetSpec& spec, const std::string& heading) {
  const Column* column = spec.find(heading);
  return column != nullptr && column->type == Type::one;
}

std::vector<std::string> owners_of(const SheetSpec& spec, const Variant& variant) {
  std::vector<std::string> owners = headings_in(variant.path);
  std::erase_if(owners, [&](const std::string& heading) { return !is_owner(spec, heading); });
  return owners;
}

std::vector<std::string> path_parts(std::string_view path) {
  std::vector<std::string> parts;
  while (!path.empty()) {
    const std::size_t end = std::min(path.find('/'), path.size());
    parts.emplace_back(path.substr(0, end));
    path.remove_prefix(std::min(end + 1, path.size()));
  }
  return parts;
}

}  // namespace

At RowPlace::at(const Column& column) const {
  if (grid.spec->kind == Kind::fields) {
    const auto found = grid.field_rows.find(column.heading);
    const auto values = grid.columns.find("Yours");
    return {sheet, found == grid.field_rows.end() ? grid.header_row : found->second,
            values == grid.columns.end() ? 0 : values->second, column.heading};
  }
  const auto found = grid.columns.find(column.heading);
  return {sheet, row.row, found == grid.columns.end() ? 0 : found->second, column.heading};
}

void RowReader::fault(At at, std::string found, std::string expected, std::string nearest) {
  faults_.push_back({at, true, std::move(found), std::move(expected), std::move(nearest)});
}

std::optional<Piece> RowReader::value(const RowPlace& place, const Column& column) {
  const StoredCell* cell = place.row.find(column.heading);
  if (cell == nullptr) return std::nullopt;
  Value value = read_value(around_, column, *cell, place.at(column));
  if (!value.piece) fault(place.at(column), sheets::shown_text(cell), value.expected, value.nearest);
  const bool no = value.piece && column.type == Type::tick && value.piece->token == "false";
  return no ? std::nullopt : std::move(value.piece);
}

void RowReader::tell_missing(const RowPlace& place, const std::vector<Use>& uses, const Use& use) {
  std::vector<std::string> headings;
  for (const Use& other : uses)
    if (other.key == use.key) headings.emplace_back(other.heading);
  if (headings.front() != use.heading) return;
  const Column& column = *place.grid.spec->find(use.heading);
  std::string expected = wanted_words(column, around_.currency);
  if (headings.size() > 1) expected = fmt::format("a name under {}", fmt::join(headings, " or "));
  fault(place.at(column), "nothing", expected);
}

void RowReader::fill(Piece& object, const RowPlace& place, const std::vector<Use>& uses) {
  std::map<std::string, std::pair<At, Parts>> groups;
  std::map<std::string_view, bool> seen;  // key -> a cell has it
  for (const Use& use : uses) seen[use.key] = seen[use.key] || place.row.find(use.heading) != nullptr;
  std::map<std::string_view, std::string_view> by_heading;
  for (const Use& use : uses) {
    const Column& column = *place.grid.spec->find(use.heading);
    if (use.required && !seen[use.key]) tell_missing(place, uses, use);
    if (place.row.find(use.heading) == nullptr) continue;
    const auto [first, fresh] = by_heading.emplace(use.key, use.heading);
    if (!fresh) {
      fault(place.at(column), sheets::shown_text(place.row.find(use.heading)),
            fmt::format("nothing: '{}' is filled in already", first->second));
      continue;
    }
    auto piece = value(place, column);
    if (!piece) continue;
    std::string_view key = use.key;
    const At at = place.at(column);
    Piece& into = object_of(object, key, at);
    const auto [group, part] = key_parts(key);
    const std::string path(use.key.substr(0, use.key.size() - (part.empty() ? 0 : part.size() + 1)));
    Piece& target = into.member(std::string(group), at);
    if (part.empty()) {
      target = std::move(*piece);
      continue;
    }
    Parts& parts = groups.emplace(path, std::pair(at, Parts{})).first->second.second;
    parts[std::string(part)] = std::move(*piece);
  }
  for (auto& [path, group] : groups) {
    auto& [at, parts] = group;
    std::string_view key = path;
    Piece& into = object_of(object, key, at);
    Piece& target = into.member(std::string(key), at);
    if (!parts.contains("0") && !parts.contains("1")) {
      target = spread(parts, at);
      continue;
    }
    // A range may have its upper end alone; a pair needs both.
    for (const Use& use : uses) {
      const auto [head, part] = key_parts(use.key);
      if (head != path || parts.contains(std::string(part)) || seen[use.key]) continue;
      if (part == "1" || path != "range")
        fault(place.at(*place.grid.spec->find(use.heading)), "nothing", "the other end of the range too");
    }
    Piece list = Piece::list(at);
    for (auto& [part, piece] : parts) list.items.push_back(std::move(piece));
    target = std::move(list);
  }
}

/// What the column of kinds says; nothing (and good) where the sheet has none.
std::optional<std::string> RowReader::word(const RowPlace& place, bool& good) {
  const Column* column = place.grid.spec->find(kind_heading);
  good = true;
  if (column == nullptr) return std::nullopt;
  const StoredCell* cell = place.row.find(kind_heading);
  good = false;
  if (cell == nullptr) {
    fault(place.at(*column), "nothing", wanted_words(*column, around_.currency));
    return std::nullopt;
  }
  if (!value(place, *column)) return std::nullopt;
  good = true;
  return folded(cell->text);
}

/// The kind of row whose owner is filled in.
const Variant* RowReader::by_owner(const RowPlace& place, const std::vector<const Variant*>& candidates) {
  const SheetSpec& spec = *place.grid.spec;
  std::vector<std::string> all, filled;
  for (const Variant* variant : candidates)
    for (const std::string& owner : owners_of(spec, *variant))
      if (std::find(all.begin(), all.end(), owner) == all.end()) all.push_back(owner);
  for (const std::string& owner : all)
    if (place.row.find(owner) != nullptr) filled.push_back(owner);
  for (const Variant* variant : candidates)
    if (owners_of(spec, *variant) == filled) return variant;
  if (filled.empty()) {
    fault(place.at(*spec.find(all.front())), "nothing",
          fmt::format("a name under {}", fmt::join(all, " or ")));
  } else {
    const Column& second = *spec.find(filled.back());
    fault(place.at(second), sheets::shown_text(place.row.find(second.heading)),
          fmt::format("nothing: '{}' is filled in already", filled.front()));
  }
  return nullptr;
}

void RowReader::tell_unused(const RowPlace& place, const Variant& variant) {
  const std::vector<std::string> owners = headings_in(variant.path);
  for (const Column& column : place.grid.spec->columns) {
    const auto is = [&](const auto& one) { return one == column.heading; };
    const bool used = column.heading == kind_heading || std::any_of(owners.begin(), owners.end(), is) ||
                      std::any_of(variant.uses.begin(), variant.uses.end(),
                                  [&](const Use& use) { return use.heading == column.heading; });
    const StoredCell* cell = place.row.find(column.heading);
    if (used || cell == nullptr) continue;
    fault(place.at(column), sheets::shown_text(cell),
          variant.word.empty() ? "nothing here" : fmt::format("nothing here beside '{}'", variant.word));
  }
}

std::optional<Chosen> RowReader::choose(const RowPlace& place,
                                        const std::function<bool(const std::string&)>& is_tool) {
  bool good = false;
  const auto kind = word(place, good);
  if (!good) return std::nullopt;
  std::vector<const Variant*> candidates;
  const StoredCell* thing = place.row.find("Thing");
  const bool tool = thing != nullptr && is_tool(sheets::read_words(thing).value.value_or(""));
  for (const Variant& variant : place.grid.spec->variants) {
    if (kind && folded(variant.word) != *kind) continue;
    const bool fits = variant.tools == Variant::Tools::any || (variant.tools == Variant::Tools::only) == tool;
    if (fits) candidates.push_back(&variant);
  }
  const Variant* variant = by_owner(place, candidates);
  if (variant == nullptr) return std::nullopt;
  tell_unused(place, *variant);
  Chosen chosen{variant, path_parts(variant->path)};
  for (std::string& part : chosen.path) {
    if (!part.starts_with('{')) continue;
    const Column& column = *place.grid.spec->find(part.substr(1, part.size() - 2));
    if (place.row.find(column.heading) == nullptr) {
      fault(place.at(column), "nothing", wanted_words(column, around_.currency));
      return std::nullopt;
    }
    const auto id = value(place, column);
    if (!id) return std::nullopt;
    part = id->token.substr(1, id->token.size() - 2);
  }
  return chosen;
}

}  // namespace fettlefund::form
