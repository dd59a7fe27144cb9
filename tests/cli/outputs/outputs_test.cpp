#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "cli/run.hpp"
#include "tests/cli/support/ran.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::contents;
namespace fs = std::filesystem;

namespace {

/// A folder with a small build in it, gone again at the end.
class Bench {
 public:
  Bench() {
    std::string name = (fs::temp_directory_path() / "fettlefund-outputs-XXXXXX").string();
    folder_ = ::mkdtemp(name.data());
    test::BuildText build;
    build.jobs = R"("one": {"name": "the one job", "want": 5, "hours": 1})";
    std::ofstream(file("my.build"), std::ios::binary) << build.text();
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;
  ~Bench() { fs::remove_all(folder_); }
  std::string file(const std::string& name) const { return (folder_ / name).string(); }

  int run(const std::vector<std::string>& args, const std::string& input = "") {
    std::istringstream in(input);
    std::ostringstream told, complained;
    const int code = cli::run(args, in, told, complained, {});
    out = told.str();
    err = complained.str();
    return code;
  }

  std::string out, err;

 private:
  fs::path folder_;
};

}  // namespace

TEST_CASE("calendar shopping and picture write beside the build file and say where") {
  Bench bench;
  const std::pair<const char*, const char*> commands[] = {
      {"calendar", "my.ics"}, {"shopping", "my.csv"}, {"picture", "my.svg"}};
  for (const auto& entry : commands) {
    CAPTURE(entry.first);
    const std::string name = entry.second;
    CHECK(bench.run({entry.first, bench.file("my.build")}) == 0);
    CHECK(bench.out == "Wrote " + bench.file(name) + ".\n");
    const std::string written = contents(bench.file(name));
    CHECK_FALSE(written.empty());
    CHECK(bench.run({entry.first, bench.file("my.build"), "-o", "-"}) == 0);
    CHECK(bench.out == written);
  }
}

TEST_CASE("a page that somebody changed by hand is kept beside the one that is written over it") {
  Bench bench;
  const std::string page = bench.file("my.html"), old = bench.file("my.old-1.html");
  CHECK(bench.run({"page", bench.file("my.build")}) == 0);
  const std::string written = contents(page);
  CHECK(bench.run({"page", bench.file("my.build")}) == 0);
  CHECK(bench.out == "Wrote " + page + ".\n");
  CHECK_FALSE(fs::exists(old));
  // Another plan is no change by hand.
  test::BuildText build;
  build.jobs = R"("two": {"name": "the other job", "want": 5, "hours": 1})";
  std::ofstream(bench.file("my.build"), std::ios::binary) << build.text();
  CHECK(bench.run({"page", bench.file("my.build")}) == 0);
  CHECK(bench.out == "Wrote " + page + ".\n");
  CHECK(contents(page) != written);
  for (const std::string& by_hand :
       {written + "<p>mind the left leg</p>", written.substr(1), std::string("<p>")}) {
    std::ofstream(page, std::ios::binary) << by_hand;
    CHECK(bench.run({"page", bench.file("my.build")}) == 0);
    CHECK(bench.out ==
          page + " is not as it was written; that page is kept in " + old + ".\nWrote " + page + ".\n");
    CHECK(contents(old) == by_hand);
    fs::remove(old);
  }
}

TEST_CASE("a build from standard input needs a name for what is written") {
  Bench bench;
  const std::string build = contents(bench.file("my.build"));
  CHECK(bench.run({"calendar", "-"}, build) == 2);
  CHECK(bench.err.find("needs -o FILE") != std::string::npos);
  CHECK(bench.run({"calendar", "-", "-o", bench.file("given.ics")}, build) == 0);
  CHECK(contents(bench.file("given.ics")).starts_with("BEGIN:VCALENDAR\r\n"));
}

TEST_CASE("one stage of the plan is shown where there is such a stage") {
  Bench bench;
  CHECK(bench.run({"plan", bench.file("my.build"), "--stage", "4"}) == 0);
  CHECK(bench.run({"plan", bench.file("my.build"), "--stage", "5"}) == 2);
  CHECK(bench.out == "");
  CHECK(bench.err == "fettlefund: the plan has no stage 5; it has stages 1 to 4\n");
}

TEST_CASE("a calendar of a larger revision has it in every event") {
  Bench bench;
  CHECK(bench.run({"calendar", bench.file("my.build"), "--revision", "4", "-o", "-"}) == 0);
  CHECK(bench.out.find("SEQUENCE:4\r\n") != std::string::npos);
  CHECK(bench.out.find("SEQUENCE:0\r\n") == std::string::npos);
  CHECK(bench.run({"calendar", bench.file("my.build"), "--revision", "-1"}) == 2);
}

TEST_CASE("the drive command asks for a drive train where the build has none") {
  Bench bench;
  CHECK(bench.run({"drive", bench.file("my.build")}) == 2);
  CHECK(bench.err.find("no drive train is described; add \"drive\" to the build file") != std::string::npos);
}

TEST_CASE("the drive command prints figures as text or JSON") {
  Bench bench;
  const std::string build = std::string(FETTLEFUND_SOURCE_DIR) + "/tests/golden/drive/roadster.build";
  CHECK(bench.run({"drive", build}) == 0);
  CHECK(bench.out.starts_with("Invented roadster: the drive train, chain size 520\n"));
  CHECK(bench.run({"drive", "--json", build}) == 0);
  CHECK(bench.out.starts_with("{\n  \"report\": 1,\n"));
  CHECK(bench.run({"drive", build, "-o", bench.file("drive.txt")}) == 0);
  CHECK(bench.out.empty());
  CHECK(contents(bench.file("drive.txt")).find("final ratio") != std::string::npos);
}

TEST_CASE("an output that cannot be written fails and leaves no litter") {
  Bench bench;
  CHECK(bench.run({"shopping", bench.file("my.build"), "-o", bench.file("none/my.csv")}) == 2);
  CHECK(bench.err.find("cannot write") != std::string::npos);
}
