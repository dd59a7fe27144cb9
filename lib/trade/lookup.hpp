#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "lib/trade/kinds.hpp"

namespace fettlefund::trade {

/// What a word leads to.
struct Found {
  std::vector<const Kind*> kinds;  ///< in the order of their names; the kind of that very name first
  bool by_name = false;            ///< the first is called so, not only known so
  std::string nearest;  ///< set where the word itself is unknown: the nearest one, which led to `kinds`
};

/// Looks a word up: the kind of that name and those that go by it; else those one of whose names or words
/// holds all its words; else those of the nearest spelling. Case, hyphens and plural endings do not matter.
Found find_kinds(std::string_view word);

/// What the words of a text (a job's name, its steps, its articles) suggest, best first, at most `most`;
/// texts are in falling order of weight. Empty: nothing does. With a trade only its own kinds
/// and those that every trade shares.
std::vector<const Kind*> suggest_kinds(const std::vector<std::string>& texts, std::size_t most,
                                       std::string_view trade = {});

/// "\"fork service\", \"fork springs\" or others", at most `most` of them.
std::string names_of(const std::vector<const Kind*>& kinds, std::size_t most);

}  // namespace fettlefund::trade
