#include "lib/report/text/drive.hpp"

#include <sstream>

#include "tests/lib/support/golden.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

const test::Golden drive_files("drive");

build::Build roadster() { return drive_files.build("roadster.build"); }

}  // namespace

TEST_CASE("the drive report of a small build is exactly as expected") {
  const auto build = roadster();
  const std::string text = report::drive_text(build, planning::drive_report(build));
  CHECK(text == drive_files.expected("roadster.txt", text));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("the drive report for programs is exactly as expected") {
  const auto build = roadster();
  const std::string text = report::drive_json(build, planning::drive_report(build));
  CHECK(text == drive_files.expected("roadster.json", text));
}

TEST_CASE("a build name cannot steer the terminal from a drive report") {
  auto build = roadster();
  build.name = "bad\033[31m name";
  CHECK(report::drive_text(build, planning::drive_report(build)).find('\033') == std::string::npos);
}
