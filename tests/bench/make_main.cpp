#include <charconv>
#include <cstdio>
#include <string_view>

#include "tests/bench/families.hpp"

// Writes an instance of a family to standard output.

namespace {

int usage() {
  std::fputs("usage: staging_make FAMILY SEED, where FAMILY is one of", stderr);
  for (const auto& family : fettlefund::bench::families()) std::fprintf(stderr, " %s", family.name.c_str());
  std::fputs("\n", stderr);
  return 2;
}

}  // namespace

int main(int count, char** arguments) {
  using namespace fettlefund::bench;
  if (count != 3) return usage();
  const auto family = find_family(arguments[1]);
  const std::string_view text = arguments[2];
  std::uint64_t seed = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), seed);
  if (!family || fault != std::errc() || end != text.data() + text.size()) return usage();
  std::fputs(write_exchange(make_instance(*family, seed)).c_str(), stdout);
}
