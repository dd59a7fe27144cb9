#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace fettlefund::goods {

/// The known word nearest to `word` by single-letter edits (and swaps of neighbours), if it takes at most
/// `edits_at_most` of them and fewer than half the word's letters; of equally near ones the first. Else
/// empty.
std::string nearest(std::string_view word, const std::vector<std::string>& known, int edits_at_most = 3);

}  // namespace fettlefund::goods
