#include "lib/trade/lookup.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include "lib/text/nearest.hpp"

namespace fettlefund::trade {
namespace {

using Stems = std::set<std::string>;

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
}

/// A word without its plural ending; short words stay as they are.
std::string stem(std::string word) {
  const auto ends = [&](std::string_view end) { return word.size() > end.size() + 2 && word.ends_with(end); };
  if (ends("ies")) return word.substr(0, word.size() - 3) + "y";
  if (ends("ches") || ends("shes") || ends("xes")) return word.substr(0, word.size() - 2);
  if (ends("s") && !ends("ss")) word.pop_back();
  return word;
}

std::vector<std::string> stems_in(std::string_view text) {
  std::vector<std::string> stems;
  std::string word;
  for (const char c : std::string(text) + " ") {
    const char small = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (is_letter(small)) {
      word += small;
    } else if (!word.empty()) {
      stems.push_back(stem(word));
      word.clear();
    }
  }
  return stems;
}

/// A name or word of a kind, cut into stems.
struct Phrase {
  const Kind* kind;
  std::string text;
  std::vector<std::string> stems;
  bool name;
};

const std::vector<Phrase>& phrases() {
  static const std::vector<Phrase> all = [] {
    std::vector<Phrase> made;
    for (const Kind& kind : kinds()) {
      made.push_back({&kind, kind.name, stems_in(kind.name), true});
      for (const std::string& word : kind.words) made.push_back({&kind, word, stems_in(word), false});
    }
    return made;
  }();
  return all;
}

void add_once(std::vector<const Kind*>& kinds, const Kind* kind) {
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
}

std::vector<const Kind*> kinds_where(const std::function<bool(const Phrase&)>& fits) {
  std::vector<const Kind*> found;
  for (const Phrase& phrase : phrases())
    if (fits(phrase)) add_once(found, phrase.kind);
  return found;
}

Found found_exactly(const std::vector<std::string>& wanted) {
  Found found;
  for (const Phrase& phrase : phrases()) {
    if (!phrase.name || phrase.stems != wanted) continue;
    found.kinds.push_back(phrase.kind);
    found.by_name = true;
  }
  for (const Kind* kind : kinds_where([&](const Phrase& phrase) { return phrase.stems == wanted; }))
    add_once(found.kinds, kind);
  return found;
}

std::string nearest_phrase(std::string_view word) {
  std::vector<std::string> texts;
  for (const Phrase& phrase : phrases()) texts.push_back(phrase.text);
  return text::nearest_name(word, text::Names(std::move(texts)));
}

bool holds_all(const Stems& all, const std::vector<std::string>& some) {
  return std::all_of(some.begin(), some.end(), [&](const std::string& stem) { return all.contains(stem); });
}

}  // namespace

Found find_kinds(std::string_view word) {
  const std::vector<std::string> wanted = stems_in(word);
  if (wanted.empty()) return {};
  Found found = found_exactly(wanted);
  if (!found.kinds.empty()) return found;
  found.kinds = kinds_where([&](const Phrase& phrase) {
    return holds_all(Stems(phrase.stems.begin(), phrase.stems.end()), wanted);
  });
  if (!found.kinds.empty()) return found;
  found.nearest = nearest_phrase(word);
  if (!found.nearest.empty()) found.kinds = found_exactly(stems_in(found.nearest)).kinds;
  return found;
}

std::vector<const Kind*> suggest_kinds(const std::vector<std::string>& texts, std::size_t most,
                                       std::string_view trade) {
  std::vector<Stems> said;
  for (const std::string& text : texts) {
    const auto stems = stems_in(text);
    said.emplace_back(stems.begin(), stems.end());
  }
  std::map<const Kind*, std::size_t> best;
  for (const Phrase& phrase : phrases()) {
    const bool fits = trade.empty() || phrase.kind->trade == "common" || known_to(*phrase.kind, trade);
    if (phrase.stems.empty() || !fits) continue;
    for (std::size_t i = 0; i < said.size(); ++i) {
      if (!holds_all(said[i], phrase.stems)) continue;
      const std::size_t score = (said.size() - i) * 4 + phrase.stems.size() * 8 + (phrase.name ? 1 : 0);
      best[phrase.kind] = std::max(best[phrase.kind], score);
      break;
    }
  }
  std::size_t top = 0;
  for (const auto& [kind, score] : best) top = std::max(top, score);
  std::vector<const Kind*> suggested;
  for (const Kind& kind : kinds()) {
    const auto found = best.find(&kind);
    if (found != best.end() && found->second + 1 >= top && suggested.size() < most)
      suggested.push_back(&kind);
  }
  std::stable_sort(suggested.begin(), suggested.end(),
                   [&](const Kind* a, const Kind* b) { return best[a] > best[b]; });
  return suggested;
}

std::string names_of(const std::vector<const Kind*>& kinds, std::size_t most) {
  std::string text;
  const std::size_t count = std::min(most, kinds.size());
  const bool more = kinds.size() > most;
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0) text += i + 1 == count && !more ? " or " : ", ";
    text += "\"" + kinds[i]->name + "\"";
  }
  return more ? text + " or others" : text;
}

}  // namespace fettlefund::trade
