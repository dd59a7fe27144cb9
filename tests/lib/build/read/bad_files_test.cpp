#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "lib/build/read/read.hpp"
#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;
namespace fs = std::filesystem;

namespace {

fs::path folder() { return golden() / "bad"; }

std::vector<fs::path> bad_files() {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder()))
    if (entry.path().extension() == ".build") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

// With FETTLEFUND_COLLECT set the expected texts are written anew, to be reviewed as a change.
TEST_CASE("every bad file is told exactly what is expected of it") {
  const bool collect = std::getenv("FETTLEFUND_COLLECT") != nullptr;
  const std::vector<fs::path> paths = bad_files();
  REQUIRE(paths.size() >= 40);
  for (const fs::path& path : paths) {
    CAPTURE(path.filename().string());
    const std::string text = told(read(content(path), path.filename().string()));
    fs::path expected = path;
    expected.replace_extension(".expected");
    if (collect) std::ofstream(expected, std::ios::binary) << text;
    CHECK(text == content(expected));
  }
}

TEST_CASE("a build is given exactly when nothing is an error") {
  for (const fs::path& path : bad_files()) {
    CAPTURE(path.filename().string());
    const Reading reading = read(content(path), path.filename().string());
    CHECK_FALSE(reading.diagnostics.empty());
    CHECK(reading.build.has_value() == !has_errors(reading.diagnostics));
  }
}

TEST_CASE("diagnostics stand in file order and point into the file") {
  for (const fs::path& path : bad_files()) {
    CAPTURE(path.filename().string());
    const Reading reading = read_file(path.string());
    std::pair<int, int> last{0, 0};
    for (const Diagnostic& diagnostic : reading.diagnostics) {
      const std::pair<int, int> here{diagnostic.place.line, diagnostic.place.column};
      CHECK(here.first >= 1);
      CHECK(here.second >= 1);
      CHECK(last <= here);
      last = here;
    }
  }
}
