#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/exchange/exchange.hpp"

namespace fettlefund::bench {

using namespace exchange;  // the families are written in it

/// A family of random instances; what they have in common is stated in README.md.
struct Family {
  std::string name;  ///< for example "medium_n"
  int tasks = 0;
  int stages = 0;
  bool hours_bind = true;
};

const std::vector<Family>& families();
std::optional<Family> find_family(std::string_view name);

/// Everything in the file. Throws exchange::ExchangeFault if it cannot be read.
std::string read_file(const std::string& path);

/// The instance of a family with this seed; the same on every platform.
Exchange make_instance(const Family& family, std::uint64_t seed);

}  // namespace fettlefund::bench
