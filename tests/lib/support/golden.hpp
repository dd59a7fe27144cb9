#pragma once
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "lib/build/read/read.hpp"

#include <doctest/doctest.h>

namespace fettlefund::test {

/// Files of tests/golden/FOLDER that a report is held to.
class Golden {
 public:
  explicit Golden(const std::string& folder)
      : folder_(std::string(FETTLEFUND_SOURCE_DIR) + "/tests/golden/" + folder + "/") {}

  std::string contents(const std::string& name) const {
    std::ifstream file(folder_ + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }

  /// The expected file, or with FETTLEFUND_RENEW=1 in the environment the text itself, written there.
  std::string expected(const std::string& name, const std::string& text) const {
    if (std::getenv("FETTLEFUND_RENEW")) std::ofstream(folder_ + name, std::ios::binary) << text;
    return contents(name);
  }

  /// A build file of the folder without mistakes.
  build::Build build(const std::string& name) const {
    const build::Reading reading = build::read(contents(name), name);
    REQUIRE(reading.build);
    return *reading.build;
  }

 private:
  std::string folder_;
};

}  // namespace fettlefund::test
