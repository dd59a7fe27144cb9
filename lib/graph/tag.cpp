#include "lib/graph/tag.hpp"

namespace fettlefund::graph {

namespace {

bool is_gap(char c) { return c == ' ' || c == '-' || c == '_' || c == '\t' || c == '\n' || c == '\r'; }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::string normal_tag(std::string_view tag) {
  std::string normal;
  bool gap = false;
  for (const char c : tag) {
    if (is_gap(c)) {
      gap = !normal.empty();
      continue;
    }
    if (gap) normal += ' ';
    gap = false;
    normal += lower(c);
  }
  return normal;
}

}  // namespace fettlefund::graph
