#pragma once
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/json/tree.hpp"
#include "lib/text/nearest.hpp"

namespace fettlefund::build {

/// Collects what is wrong with a text while it is read. Entries stay small: pointers and nearest names are
/// worked out at the end, and only for those that are told.
class Findings {
 public:
  Findings(std::string file, std::string_view text) : file_(std::move(file)), text_(text) {}

  /// The stretch itself is wrong.
  void error(const Span& at, std::string expected, std::string nearest = {});
  void warning(const Span& at, std::string expected);
  /// Something is missing at the stretch, which is itself as it should be.
  void missing(const Span& at, std::string expected);
  /// `word`, which stands at the stretch, is not one of `names`. These must outlive the findings.
  void unknown(const Span& at, std::string expected, std::string word, const text::Names& names);

  /// Nothing more is told of what begins at this byte: that it is wrong has been said.
  void settle(std::uint32_t begin) { settled_.insert(begin); }
  /// What was mended at this byte stands in for a key: pointers stop before it.
  void settle_key(std::uint32_t begin) { keys_.insert(begin); }
  /// The text could not be read to its end: nothing further can be said of it.
  void stop() { stopped_ = true; }

  bool has_errors() const { return has_errors_; }
  bool stopped() const { return stopped_; }

  /// All of them in file order, at most max_diagnostics and one line that says how many more there are.
  std::vector<Diagnostic> told(const Node& root) const;

 private:
  struct Entry {
    Severity severity = Severity::error;
    Span at;
    std::string expected;
    std::string nearest;
    bool show_found = true;
    std::string word;
    const text::Names* names = nullptr;
  };
  void add(Entry entry);
  Diagnostic tell(const Entry& entry, const Node& root) const;
  Diagnostic tell_rest(const std::vector<Entry>& sorted) const;

  std::string file_;
  std::string_view text_;
  std::vector<Entry> entries_;
  std::size_t dropped_ = 0;
  bool has_errors_ = false;
  bool stopped_ = false;
  std::set<std::uint32_t> settled_, keys_;
};

/// The text of a stretch as people are shown it: "an object" or "a list" for those, else at most 40 bytes,
/// cut at a character boundary, control characters replaced by '?'.
std::string excerpt(std::string_view text, const Span& at);

}  // namespace fettlefund::build
