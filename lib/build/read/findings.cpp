#include "lib/build/read/findings.hpp"

#include <algorithm>

#include "lib/build/read/read.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

/// More than this many wrong things are counted, not kept.
constexpr std::size_t most_kept = 20'000;

constexpr std::size_t longest_excerpt = 40;

}  // namespace

std::string excerpt(std::string_view text, const Span& at) {
  if (at.begin >= text.size()) return "the end of the file";
  if (at.end == at.begin) return {};
  if (text[at.begin] == '{' && at.end - at.begin > 1) return "an object";
  if (text[at.begin] == '[' && at.end - at.begin > 1) return "a list";
  return text::shortened(text.substr(at.begin, at.end - at.begin), longest_excerpt);
}

void Findings::add(Entry entry) {
  if (settled_.contains(entry.at.begin)) return;
  has_errors_ = has_errors_ || entry.severity == Severity::error;
  if (entries_.size() < most_kept)
    entries_.push_back(std::move(entry));
  else
    ++dropped_;
}

void Findings::error(const Span& at, std::string expected, std::string nearest) {
  add({Severity::error, at, std::move(expected), std::move(nearest), true, {}, nullptr});
}

void Findings::warning(const Span& at, std::string expected) {
  add({Severity::warning, at, std::move(expected), {}, true, {}, nullptr});
}

void Findings::missing(const Span& at, std::string expected) {
  add({Severity::error, at, std::move(expected), {}, false, {}, nullptr});
}

void Findings::unknown(const Span& at, std::string expected, std::string word, const text::Names& names) {
  add({Severity::error, at, std::move(expected), {}, true, std::move(word), &names});
}

Diagnostic Findings::tell(const Entry& entry, const Node& root) const {
  Diagnostic told;
  told.severity = entry.severity;
  told.file = file_;
  told.place = entry.at.place;
  told.pointer = pointer_to(root, entry.at.begin);
  if (keys_.contains(entry.at.begin)) told.pointer.resize(told.pointer.rfind('/'));
  if (entry.show_found) told.found = excerpt(text_, entry.at);
  told.expected = entry.expected;
  told.nearest = entry.nearest;
  if (entry.names != nullptr) told.nearest = text::nearest_name(entry.word, *entry.names);
  return told;
}

Diagnostic Findings::tell_rest(const std::vector<Entry>& sorted) const {
  Diagnostic rest;
  rest.severity = has_errors_ ? Severity::error : Severity::warning;
  rest.file = file_;
  rest.place = sorted[max_diagnostics].at.place;
  rest.found = fmt::format("{} more things wrong from here on", sorted.size() - max_diagnostics + dropped_);
  return rest;
}

std::vector<Diagnostic> Findings::told(const Node& root) const {
  std::vector<Entry> sorted = entries_;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Entry& a, const Entry& b) { return a.at.begin < b.at.begin; });
  const auto same = [](const Entry& a, const Entry& b) {
    return a.at.begin == b.at.begin && a.expected == b.expected;
  };
  sorted.erase(std::unique(sorted.begin(), sorted.end(), same), sorted.end());  // read twice while mending
  std::vector<Diagnostic> result;
  const std::size_t count = std::min<std::size_t>(sorted.size(), max_diagnostics);
  for (std::size_t i = 0; i < count; ++i) result.push_back(tell(sorted[i], root));
  if (sorted.size() > count) result.push_back(tell_rest(sorted));
  return result;
}

}  // namespace fettlefund::build
