#pragma once
#include <string>
#include <string_view>

namespace fettlefund::graph {

/// A tag as it is compared: ASCII letters in lower case, each run of blanks, hyphens and underscores one
/// blank, none at the ends. "Riveted-Chain" and "riveted chain" are the same tag.
std::string normal_tag(std::string_view tag);

}  // namespace fettlefund::graph
