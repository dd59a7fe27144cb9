#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace fettlefund::outside {

/// What a general integer-programming program said.
struct Optimum {
  bool possible = false;
  std::int64_t objective = 0;  ///< if possible
};

/// The programs among "cbc" and "glpsol" that are installed.
std::vector<std::string> optimisers();

/// Minimises the integer program (CPLEX LP format, all costs integers) with that program. Nothing if it did
/// not finish or its answer cannot be read.
std::optional<Optimum> minimise(const std::string& program, const std::string& lp);

}  // namespace fettlefund::outside
