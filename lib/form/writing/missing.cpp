#include "lib/form/writing/missing.hpp"

#include <algorithm>

#include "lib/sheets/book/references.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

void add_new(std::vector<std::string>& words, const std::string& word) {
  if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
}

/// Adds the word to the need for these columns.
void need(std::vector<Need>& needs, const std::vector<std::string>& headings, std::string_view word) {
  auto found =
      std::find_if(needs.begin(), needs.end(), [&](const Need& one) { return one.headings == headings; });
  if (found == needs.end()) found = needs.insert(needs.end(), Need{headings, {}});
  if (!word.empty()) add_new(found->words, std::string(word));
}

/// The columns that may say whose a row of that kind is; none where one of its kinds needs no owner.
std::vector<std::string> owners_of(const SheetSpec& spec, std::string_view word) {
  std::vector<std::string> owners;
  for (const Variant& variant : spec.variants) {
    if (variant.word != word) continue;
    const std::vector<std::string> own = headings_in(variant.path);
    if (own.empty()) return {};
    for (const std::string& heading : own)
      if (spec.find(heading)->type == Type::one) add_new(owners, heading);
  }
  return owners;
}

std::vector<std::string> columns_of(const Variant& variant, std::string_view key) {
  std::vector<std::string> headings;
  for (const Use& use : variant.uses)
    if (use.key == key) headings.emplace_back(use.heading);
  return headings;
}

std::string cell_of(const Ground& ground, std::string_view heading, int row) {
  return "$" + sheets::column_letters(ground.columns.at(heading)) + std::to_string(row + 1);
}

std::string all_blank(const Ground& ground, const Need& need, int row) {
  std::string out;
  for (const std::string& heading : need.headings)
    out += (out.empty() ? "" : ",") + cell_of(ground, heading, row) + "=\"\"";
  return out;
}

/// ",OR(kind="a",kind="b")", or nothing where all kinds need it.
std::string of_kind(const Ground& ground, const Need& need, int row) {
  if (need.words.empty()) return "";
  std::string out;
  for (const std::string& word : need.words)
    out += (out.empty() ? "" : ",") + cell_of(ground, kind_heading, row) + "=\"" + word + "\"";
  return ",OR(" + out + ")";
}

std::string row_filled(const Ground& ground, int row) {
  return fmt::format("COUNTA(${}{}:${}{})>0", sheets::column_letters(ground.first), row + 1,
                     sheets::column_letters(ground.last), row + 1);
}

/// Names that stand on no other sheet, and names that stand twice.
std::string name_faults(const SheetSpec& spec, const Ground& ground, int row) {
  std::string out;
  for (const Column& column : spec.columns) {
    const auto names = ground.names.find(column.from);
    if (column.type != Type::one || names == ground.names.end()) continue;
    const std::string cell = cell_of(ground, column.heading, row);
    out += fmt::format("&IF(AND({}<>\"\",SUMPRODUCT(--({}={}))=0),\"{}: no such name; \",\"\")", cell,
                       names->second, cell, column.heading);
  }
  if (spec.kind != Kind::entries) return out;
  const std::string cell = cell_of(ground, spec.columns.front().heading, row);
  return out + fmt::format("&IF(AND({}<>\"\",SUMPRODUCT(--({}={}))>1),\"the name stands twice; \",\"\")",
                           cell, ground.names.at(spec.name), cell);
}

}  // namespace

std::vector<Need> needs_of(const SheetSpec& spec) {
  std::vector<Need> needs;
  for (const Column& column : spec.columns)
    if (column.required && (spec.variants.empty() || column.heading == kind_heading))
      need(needs, {std::string(column.heading)}, "");
  for (const Variant& variant : spec.variants) {
    const std::vector<std::string> owners = owners_of(spec, variant.word);
    if (!owners.empty()) need(needs, owners, variant.word);
    for (const std::string& heading : headings_in(variant.path))
      if (spec.find(heading)->type != Type::one) need(needs, {heading}, variant.word);
    for (const Use& use : variant.uses)
      if (use.required) need(needs, columns_of(variant, use.key), variant.word);
  }
  return needs;
}

std::string missing_formula(const SheetSpec& spec, const Ground& ground, int row) {
  std::string parts = "\"\"";
  for (const Need& need : needs_of(spec))
    parts += fmt::format("&IF(AND({}{}),\"{}; \",\"\")", all_blank(ground, need, row),
                         of_kind(ground, need, row), fmt::join(need.headings, " or "));
  return fmt::format("IF({},{}{},\"\")", row_filled(ground, row), parts, name_faults(spec, ground, row));
}

std::string lack_formula(const SheetSpec& spec, const Ground& ground, std::string_view heading, int row) {
  std::string any;
  for (const Need& need : needs_of(spec)) {
    if (std::find(need.headings.begin(), need.headings.end(), heading) == need.headings.end()) continue;
    any += fmt::format("{}AND({}{})", any.empty() ? "" : ",", all_blank(ground, need, row),
                       of_kind(ground, need, row));
  }
  return any.empty() ? "" : fmt::format("AND({},OR({}))", row_filled(ground, row), any);
}

}  // namespace fettlefund::form
