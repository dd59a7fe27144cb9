#include <filesystem>

#include "tests/cli/support/ran.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using test::Ran;

namespace {

Ran compared(std::vector<std::string> args) {
  args.insert(args.begin(), {"compare", "-"});
  return test::run(args, test::golden_text("why/skiff.build"));
}

}  // namespace

TEST_CASE("compare prints a column for each --with and exits with 0") {
  const Ran ran = compared({"--with", "amount=80,hours=5", "--with", "drop:gilding"});
  CHECK(ran.code == 0);
  CHECK(ran.err == "");
  CHECK(ran.out.find("  B  amount=80, hours=5\n  C  drop:gilding\n") != std::string::npos);
}

TEST_CASE("compare over amounts tells each of them, as JSON too") {
  const auto json = nlohmann::json::parse(compared({"--amounts", "40..70/10", "--json"}).out);
  REQUIRE(json["amounts"].size() == 4);
  CHECK(json["amounts"][3]["amount"] == "70.00");
  CHECK(json["changes"][0]["amount"] == "43.55");
}

TEST_CASE("compare over amounts writes a workbook where one is asked for") {
  const auto path = std::filesystem::temp_directory_path() / "fettlefund-compare-test.xlsx";
  const Ran ran = compared({"--amounts", "40..70/10", "-o", path.string()});
  CHECK(ran.code == 0);
  CHECK(std::filesystem::file_size(path) > 2000);
  std::filesystem::remove(path);
}

TEST_CASE("compare refuses what it cannot read with 2") {
  CHECK(compared({}).code == 2);
  CHECK(compared({"--with", "amount=80", "--amounts", "40..70/10"}).code == 2);
  CHECK(compared({"--with", "a", "--with", "b", "--with", "c", "--with", "d"}).code == 2);
  CHECK(compared({"--with", "colour=red"}).err.find("no such change") != std::string::npos);
  CHECK(compared({"--with", "hours=1"}).err.find("does not make a build to plan") != std::string::npos);
  for (const char* amounts :
       {"40..70", "70..40/10", "-10..40/10", "40..70/0", "x..70/10", "0..1000/1", "40/10..70"}) {
    CAPTURE(amounts);
    CHECK(compared({"--amounts=" + std::string(amounts)}).code == 2);
  }
  CHECK(compared({"--with", "amount=99999999999999"}).code == 2);
}
