#include "lib/form/tables/spec.hpp"

#include <algorithm>
#include <stdexcept>

namespace fettlefund::form {

const Column* SheetSpec::find(std::string_view heading) const {
  const auto found = std::find_if(columns.begin(), columns.end(),
                                  [&](const Column& column) { return column.heading == heading; });
  return found == columns.end() ? nullptr : &*found;
}

const std::vector<SheetSpec>& all_sheets() {
  static const std::vector<SheetSpec> sheets = [] {
    std::vector<SheetSpec> all;
    for (const auto& part : {money_sheets(), goods_sheets(), work_sheets(), machine_sheets()})
      all.insert(all.end(), part.begin(), part.end());
    return all;
  }();
  return sheets;
}

const SheetSpec& sheet_spec(std::string_view name) {
  for (const SheetSpec& spec : all_sheets())
    if (spec.name == name) return spec;
  throw std::logic_error("no sheet of the form: " + std::string(name));
}

std::vector<std::string> split_words(std::string_view words) {
  std::vector<std::string> parts;
  while (!words.empty()) {
    const std::size_t end = std::min(words.find("; "), words.size());
    parts.emplace_back(words.substr(0, end));
    words.remove_prefix(std::min(end + 2, words.size()));
  }
  return parts;
}

std::vector<std::string> headings_in(std::string_view path) {
  std::vector<std::string> headings;
  for (std::size_t at = path.find('{'); at != std::string_view::npos; at = path.find('{', at + 1))
    headings.emplace_back(path.substr(at + 1, path.find('}', at) - at - 1));
  return headings;
}

std::pair<std::string_view, std::string_view> key_parts(std::string_view key) {
  const std::size_t dot = key.find('.');
  if (dot == std::string_view::npos) return {key, {}};
  return {key.substr(0, dot), key.substr(dot + 1)};
}

}  // namespace fettlefund::form
