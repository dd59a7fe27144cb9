#include "lib/form/naming.hpp"

#include <algorithm>

#include "lib/build/json/values.hpp"
#include "lib/form/grid.hpp"

namespace fettlefund::form {
namespace {

/// U+00C0 to U+00FF in plain letters.
constexpr std::string_view latin[64] = {
    "a", "a", "a", "a", "ae", "a", "ae", "c", "e", "e", "e", "e", "i",  "i", "i",  "i",
    "d", "n", "o", "o", "o",  "o", "oe", "",  "o", "u", "u", "u", "ue", "y", "th", "ss",
    "a", "a", "a", "a", "ae", "a", "ae", "c", "e", "e", "e", "e", "i",  "i", "i",  "i",
    "d", "n", "o", "o", "o",  "o", "oe", "",  "o", "u", "u", "u", "ue", "y", "th", "y"};

std::string plain_letters(std::string_view name) {
  std::string out;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const auto byte = static_cast<unsigned char>(name[i]);
    const auto next = i + 1 < name.size() ? static_cast<unsigned char>(name[i + 1]) : 0u;
    if (byte == 0xC3 && next >= 0x80 && next < 0xC0)
      out += latin[next - 0x80], ++i;
    else
      out += name[i];
  }
  return folded(out);
}

std::string trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t begin = text.find_first_not_of(blanks);
  if (begin == std::string_view::npos) return "";
  return std::string(text.substr(begin, text.find_last_not_of(blanks) - begin + 1));
}

/// A part in quotes that begins at `at`; `at` is then behind it.
std::string quoted_part(std::string_view text, std::size_t& at) {
  std::string part;
  for (++at; at < text.size(); ++at) {
    if (text[at] == '"' && text.substr(at + 1, 1) == "\"")
      ++at;
    else if (text[at] == '"')
      break;
    part += text[at];
  }
  ++at;
  return part;
}

bool needs_quotes(const std::string& part, bool commas) {
  return part.find_first_of(commas ? ";,\n" : ";\n") != std::string::npos || part.starts_with('"') ||
         trimmed(part) != part;
}

}  // namespace

std::string word_of(std::string_view name) {
  std::string word;
  for (const char c : plain_letters(name)) {
    const bool keeps = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (keeps)
      word += c;
    else if (!word.empty() && word.back() != '-')
      word += '-';
  }
  if (word.size() > build::longest_id) {
    const std::size_t cut = word.rfind('-', build::longest_id);
    word.resize(cut != std::string::npos && cut > build::longest_id / 2 ? cut : build::longest_id);
  }
  while (word.ends_with('-')) word.pop_back();
  return word;
}

void keep_ids(std::vector<NamedRow>& rows) {
  std::map<std::string, std::string> by_name;
  for (const NamedRow& row : rows)
    if (build::is_id(row.id_before)) by_name.emplace(folded(row.name_before), row.id_before);
  std::set<std::string> claimed;
  for (NamedRow& row : rows) {
    const auto found = by_name.find(folded(row.name));
    if (found != by_name.end() && claimed.insert(found->second).second) row.id = found->second;
  }
  for (NamedRow& row : rows)
    if (row.id.empty() && build::is_id(row.id_before) && claimed.insert(row.id_before).second)
      row.id = row.id_before;
}

void make_ids(std::vector<NamedRow>& rows, std::set<std::string>& taken, std::string_view fallback) {
  for (NamedRow& row : rows) {
    if (!row.id.empty()) continue;
    std::string word = word_of(row.name);
    if (word.empty()) word = fallback;
    row.id = word;
    for (int number = 2; !taken.insert(row.id).second; ++number) {
      const std::string tail = "-" + std::to_string(number);
      row.id = word.substr(0, build::longest_id - tail.size()) + tail;
    }
  }
}

void NameList::add(const std::string& name, const std::string& id) {
  ids_.emplace(folded(name), id);
  known_ids_.insert(id);
  names_.push_back(name);
}

void NameList::add_example(const std::string& name) { examples_.insert(folded(name)); }

void NameList::close() { near_ = text::Names(names_); }

std::string NameList::id_of(std::string_view name) const {
  const auto found = ids_.find(folded(name));
  if (found != ids_.end()) return found->second;
  const std::string id = trimmed(name);
  return known_ids_.contains(id) ? id : "";
}

bool NameList::is_example(std::string_view name) const { return examples_.contains(folded(name)); }

std::vector<std::string> split_list(std::string_view text, bool commas) {
  const std::string_view marks = commas ? ";\n," : ";\n";
  std::vector<std::string> parts;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = text.find_first_not_of(" \t\r", at);
    if (begin == std::string_view::npos) break;
    at = begin;
    std::string part;
    if (text[at] == '"') part = quoted_part(text, at);
    const std::size_t end = std::min(text.find_first_of(marks, std::min(at, text.size())), text.size());
    if (at <= end && at > begin) {
      part += trimmed(text.substr(std::min(at, end), end - std::min(at, end)));
    } else {
      part = trimmed(text.substr(at, end - at));
    }
    if (!part.empty()) parts.push_back(part);
    at = end + 1;
  }
  return parts;
}

std::string join_list(const std::vector<std::string>& parts, bool commas) {
  std::string out;
  for (const std::string& part : parts) {
    if (!out.empty()) out += "; ";
    if (!needs_quotes(part, commas)) {
      out += part;
      continue;
    }
    out += '"';
    for (const char c : part) out += c == '"' ? "\"\"" : std::string(1, c);
    out += '"';
  }
  return out;
}

}  // namespace fettlefund::form
