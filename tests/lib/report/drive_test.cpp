#include "lib/report/drive.hpp"

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "lib/build/read.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

const std::string folder = std::string(FETTLEFUND_SOURCE_DIR) + "/tests/golden/drive/";

std::string contents(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The expected file, or with FETTLEFUND_RENEW=1 in the environment the text itself, written there.
std::string expected(const std::string& name, const std::string& text) {
  if (std::getenv("FETTLEFUND_RENEW")) std::ofstream(folder + name, std::ios::binary) << text;
  return contents(folder + name);
}

build::Build roadster() {
  const build::Reading reading = build::read(contents(folder + "roadster.build"), "roadster.build");
  REQUIRE(reading.build);
  return *reading.build;
}

}  // namespace

TEST_CASE("the drive report of a small build is exactly as expected") {
  const auto build = roadster();
  const std::string text = report::drive_text(build, planning::drive_report(build));
  CHECK(text == expected("roadster.txt", text));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("the drive report for programs is exactly as expected") {
  const auto build = roadster();
  const std::string text = report::drive_json(build, planning::drive_report(build));
  CHECK(text == expected("roadster.json", text));
}

TEST_CASE("a build name cannot steer the terminal from a drive report") {
  auto build = roadster();
  build.name = "bad\033[31m name";
  CHECK(report::drive_text(build, planning::drive_report(build)).find('\033') == std::string::npos);
}
