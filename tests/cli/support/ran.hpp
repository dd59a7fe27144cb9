#pragma once
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.hpp"

namespace fettlefund::test {

/// What a command line did.
struct Ran {
  int code = -1;
  std::string out, err;
};

inline Ran run(const std::vector<std::string>& args, const std::string& input = "",
               const cli::Surroundings& around = {}) {
  std::istringstream in(input);
  std::ostringstream out, err;
  const int code = cli::run(args, in, out, err, around);
  return {code, out.str(), err.str()};
}

inline std::string contents(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The text of a file below tests/golden.
inline std::string golden_text(const std::string& name) {
  return contents(std::string(FETTLEFUND_SOURCE_DIR) + "/tests/golden/" + name);
}

}  // namespace fettlefund::test
