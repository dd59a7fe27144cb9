#include "lib/trade/document.hpp"

#include <map>

#include "lib/goods/packs.hpp"
#include "lib/trade/kinds.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace fettlefund::trade {
namespace {

constexpr const char* opening =
    "# Kinds of work, trade by trade\n\n"
    "Written by the tests from the JSON files beside this page: change those, not this. All of it is common "
    "practice, no source. Amounts are\nusual ones for one job, hours are without what comes off. The maker's "
    "manual, local codes and licensed practice decide.\n";

std::string hours(std::int64_t minutes) { return goods::write_quantity(minutes * 1000 / 60); }

std::string lines(const Kind& kind, bool spoilt) {
  std::string text;
  for (const Line& line : kind.lines) {
    if (line.spoilt != spoilt) continue;
    text += fmt::format("{}{} ({})", text.empty() ? "" : "; ", line.name,
                        goods::write_amount(line.amount, line.unit));
  }
  if (text.empty() && !spoilt && !kind.none_because.empty()) return "none: " + kind.none_because;
  return text.empty() ? "-" : text;
}

std::string joined(const std::vector<std::string>& texts) {
  return texts.empty() ? "-" : fmt::format("{}", fmt::join(texts, "; "));
}

std::string texts_of(const std::vector<Remark>& remarks) {
  std::vector<std::string> texts;
  for (const Remark& remark : remarks) texts.push_back(remark.text);
  return joined(texts);
}

std::string row(const Kind& kind) {
  std::string care = joined(kind.cautions);
  if (!kind.mind.empty()) care += "; " + texts_of(kind.mind);
  return fmt::format("| **{}** ({}) | {} to {}, likely {} | {} | {} | {} | {} | {} | {} | {} |\n", kind.name,
                     fmt::join(kind.words, ", "), hours(kind.hours.low), hours(kind.hours.high),
                     hours(kind.hours.likely), joined(kind.comes_off), lines(kind, false), lines(kind, true),
                     joined(kind.tools), kind.second_person.empty() ? "-" : kind.second_person,
                     texts_of(kind.checks), care);
}

/// Every word with the kinds that go by it.
std::string word_table() {
  std::map<std::string, std::vector<std::string>> kinds_by_word;
  for (const Kind& kind : kinds())
    for (const std::string& word : kind.words) kinds_by_word[word].push_back(kind.name);
  std::string text =
      "\n## Words\nWhat each word leads to, besides the kinds of that very name.\n\n| word | kinds "
      "|\n|---|---|\n";
  for (const auto& [word, names] : kinds_by_word)
    text += fmt::format("| {} | {} |\n", word, fmt::join(names, ", "));
  return text;
}

}  // namespace

std::string document() {
  std::string text = opening;
  for (const char* trade : {"common", "motorcycle", "van", "bicycle", "boat"}) {
    text += fmt::format("\n## {}\n", trade == std::string("common") ? "every trade" : trade);
    text +=
        "| kind (words) | hours | comes off | easily forgotten | spoilt each time | tools | second person | "
        "check afterwards | care |\n|---|---|---|---|---|---|---|---|---|\n";
    for (const Kind& kind : kinds())
      if (kind.trade == trade) text += row(kind);
    std::vector<std::string> borrowed;
    for (const Kind& kind : kinds())
      if (kind.trade != "common" && kind.trade != trade && known_to(kind, trade))
        borrowed.push_back(kind.name);
    if (!borrowed.empty()) text += fmt::format("\nFrom other trades: {}.\n", fmt::join(borrowed, ", "));
  }
  return text + word_table();
}

}  // namespace fettlefund::trade
