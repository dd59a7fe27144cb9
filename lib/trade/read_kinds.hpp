#pragma once
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/trade/kinds.hpp"

namespace fettlefund::trade {

struct Knowledge {
  std::vector<Kind> kinds;                     ///< sorted by name
  std::vector<build::Diagnostic> diagnostics;  ///< all of them, pointing into the files
};

/// Reads files of knowledge, each a name and its JSON text (comments allowed): one with "goods" first, then
/// one a trade. README.md beside this header tells the keys. Told besides what is out of shape: a goods word
/// that nothing explains, a kind that stands twice, one without lines that does not say why, hours that do
/// not rise, a rule id that would be longer than an id may be.
Knowledge read_knowledge(const std::vector<std::pair<std::string_view, std::string_view>>& files);

}  // namespace fettlefund::trade
