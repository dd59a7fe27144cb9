#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "cli/version.hpp"
#include "tests/cli/support/ran.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;
using test::contents;
using test::Ran;
using test::run;
using test::Workplace;
namespace fs = std::filesystem;

namespace {

void put(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

std::string good() {
  return BuildText{.jobs = R"("a": {"name": "a", "kind": "gear adjustment", "want": 1, "hours": 1})"}.text();
}
std::string impossible() {
  return BuildText{.jobs = R"("a": {"name": "engine", "must": true, "hours": 1, "cost": 900.00})"}.text();
}
std::string bad() { return BuildText{.jobs = R"("a": {"name": "a", "want": 11, "hours": 1})"}.text(); }

}  // namespace

TEST_CASE("check tells what a sound build holds") {
  const Ran ran = run({"check", "-"}, good());
  CHECK(ran.code == 0);
  CHECK(ran.out == "test build: no errors, 4 stages, 1 job, 0 removals, 0 articles, 0 warnings\n");
  CHECK(ran.err == "");
}

TEST_CASE("check hints at what nobody has told it, and no other command does") {
  const std::string vague = BuildText{.jobs = R"("a": {"name": "New tyre", "want": 1, "hours": 1})"}.text();
  const Ran ran = run({"check", "-"}, vague);
  CHECK(ran.code == 0);
  CHECK(ran.err.find("hint: /jobs/a: found neither kind nor tag, expected a \"kind\", perhaps ") !=
        std::string::npos);
  CHECK(ran.out.ends_with(" 0 warnings, 1 hint\n"));
  CHECK(run({"check", "--json", "-"}, vague).out.find("\"severity\": \"hint\"") != std::string::npos);
  CHECK(run({"plan", "-"}, vague).err == "");
}

TEST_CASE("check points at mistakes and exits with 2") {
  const Ran ran = run({"check", "-"}, bad());
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  CHECK(ran.err.find("standard input:") == 0);
  CHECK(ran.err.find("/jobs/a/want: found 11") != std::string::npos);
  CHECK(ran.err.find("-: 1 error, 0 warnings\n") != std::string::npos);
}

TEST_CASE("check as JSON reports mistakes on standard output") {
  const Ran ran = run({"check", "--json", "-"}, bad());
  CHECK(ran.code == 2);
  CHECK(ran.out.find("\"status\": \"bad-input\"") != std::string::npos);
  CHECK(ran.out.find("\"pointer\": \"/jobs/a/want\"") != std::string::npos);
}

TEST_CASE("plan prints the plan and exits with 0") {
  const Ran ran = run({"plan", "-"}, good());
  CHECK(ran.code == 0);
  CHECK(ran.out.find("test build\n4 stages") == 0);
  CHECK(ran.out.find("Proven best:") != std::string::npos);
  CHECK(ran.err == "");
}

TEST_CASE("a build that cannot be exits with 3 and says why on standard error") {
  const Ran ran = run({"plan", "-"}, impossible());
  CHECK(ran.code == 3);
  CHECK(ran.out == "");
  CHECK(ran.err.find("This has to be done and cannot be: engine.") != std::string::npos);
  CHECK(ran.err.find("The money is short by 400.00 EUR.") != std::string::npos);
  const Ran json = run({"plan", "--json", "-"}, impossible());
  CHECK(json.code == 3);
  CHECK(json.out.find("\"exit_code\": 3") != std::string::npos);
}

TEST_CASE("a search stopped before its first plan exits with 4 and one with a plan prints it") {
  const std::atomic<bool> stop{true};
  cli::Surroundings around;
  around.stop = &stop;
  const Ran ran = run({"plan", "-"}, good(), around);
  CHECK((ran.code == 0 || ran.code == 4));
  CHECK((ran.out != "") == (ran.code == 0));
  CHECK(ran.err.find("stopped") != std::string::npos);
}

TEST_CASE("usage errors exit with 2 and name the nearest word") {
  CHECK(run({"paln", "x"}).err ==
        "fettlefund: unknown command 'paln'; did you mean 'plan'?\nTry 'fettlefund --help'.\n");
  CHECK(run({"paln", "x"}).code == 2);
  CHECK(run({"plan", "--jsn", "x"}).err ==
        "fettlefund: unknown option '--jsn'; did you mean '--json'?\n"
        "Usage: fettlefund plan [OPTIONS] FILE\nTry 'fettlefund plan --help'.\n");
  CHECK(run({}).err == "fettlefund: a command is missing\nTry 'fettlefund --help'.\n");
  CHECK(run({"--versoin"}).err ==
        "fettlefund: unknown option '--versoin'; did you mean '--version'?\nTry 'fettlefund --help'.\n");
  CHECK(run({"plan"}).code == 2);
  CHECK(run({"plan", "a", "b"}).code == 2);
  CHECK(run({"plan", "--effort", "slow", "a"}).err ==
        "fettlefund: --effort: slow not in {quick,normal,thorough}\n"
        "Usage: fettlefund plan [OPTIONS] FILE\nTry 'fettlefund plan --help'.\n");
}

TEST_CASE("help and version exit with 0 on standard output") {
  const Ran help = run({"--help"});
  CHECK(help.code == 0);
  CHECK(help.out.find("fettlefund plan my-bike.build") != std::string::npos);
  CHECK(run({"plan", "--help"}).out.find("--effort LEVEL") != std::string::npos);
  const Ran version = run({"--version"});
  CHECK(version.code == 0);
  CHECK(version.out.starts_with("fettlefund 0."));
  CHECK(version.out == cli::version_text() + "\n");
}

TEST_CASE("the help of a command shows its own examples and no others") {
  const std::string why = run({"why", "--help"}).out;
  CHECK(why.find("fettlefund why my-bike.build new-tyre --stage 2") != std::string::npos);
  CHECK(why.find("fettlefund sheet") == std::string::npos);
  const std::string bought = run({"record", "x.build", "bought", "--help"}).out;
  CHECK(bought.find("Usage: fettlefund record FILE bought [OPTIONS] KEY...") != std::string::npos);
  CHECK(bought.find("fettlefund record my-bike.build bought tyre@2 --paid 61.50") != std::string::npos);
  CHECK(bought.find("fettlefund record my-bike.build counted") == std::string::npos);
}

TEST_CASE("a missing file is told by its name") {
  const Ran ran = run({"plan", "no-such.build"});
  CHECK(ran.code == 2);
  CHECK(ran.err.find("no-such.build") == 0);
}

TEST_CASE("start writes a build that plans and never writes over one") {
  const Workplace place;
  const Ran first = run({"start", "my-bike"});
  CHECK(first.code == 0);
  const std::string text = contents("my-bike.build");
  CHECK(run({"check", "my-bike.build"}).code == 0);
  CHECK(run({"plan", "my-bike.build"}).code == 0);
  const Ran again = run({"start", "my-bike"});
  CHECK(again.code == 2);
  CHECK(again.err == "fettlefund: cannot write my-bike.build: File exists\n");
  CHECK(contents("my-bike.build") == text);
  CHECK(run({"start", "../my-bike"}).code == 2);
  CHECK(place.entries() == 1);
}

TEST_CASE("start writes a build of each trade that plans at once and is dated from the day it is written") {
  for (const std::string trade : {"motorcycle", "van", "bicycle", "boat"}) {
    const Workplace place;
    CHECK(run({"start", "first", "--trade", trade, "--on", "2031-05-06"}).code == 0);
    CHECK(contents("first.build").find("\"2031-05-0") != std::string::npos);
    const Ran check = run({"check", "first.build"});
    CHECK(check.out.ends_with(" 0 warnings\n"));
    CHECK(check.err == "");
    const Ran plan = run({"plan", "first.build"});
    CHECK(plan.code == 0);
    CHECK(plan.out.find("Easily forgotten") != std::string::npos);
    CHECK(plan.out.find("Proven best") != std::string::npos);
  }
}

TEST_CASE("start takes the day of the clock where none is named") {
  const Workplace place;
  cli::Surroundings around;
  around.today = budgets::make_date(2029, 3, 4);
  CHECK(run({"start", "first"}, "", around).code == 0);
  CHECK(contents("first.build").find("\"from\": \"2029-03-04\"") != std::string::npos);
}

TEST_CASE("start takes the name with its ending and quotes one with a blank") {
  const Workplace place;
  CHECK(run({"start", "x.build"}).out ==
        "Wrote x.build. Change it into your own, then: fettlefund plan x.build\n");
  CHECK(run({"start", "my old bike"}).out ==
        "Wrote my old bike.build. Change it into your own, then: fettlefund plan 'my old bike.build'\n");
  CHECK(run({"start", ".build"}).code == 2);
  CHECK(place.entries() == 2);
}

TEST_CASE("start knows four trades") {
  const Ran ran = run({"start", "x", "--trade", "tram"});
  CHECK(ran.code == 2);
  CHECK(ran.err.find("tram") != std::string::npos);
}

TEST_CASE("plan writes its report to a file whole and prints nothing") {
  const Workplace place;
  const Ran ran = run({"plan", "-o", "plan.txt", "-"}, good());
  CHECK(ran.code == 0);
  CHECK(ran.out == "");
  CHECK(contents("plan.txt") == run({"plan", "-"}, good()).out);
  CHECK(place.entries() == 1);
}

TEST_CASE("sheet writes a workbook beside the build file") {
  const Workplace place;
  put("van.build", good());
  const Ran ran = run({"sheet", "van.build"});
  CHECK(ran.code == 0);
  CHECK(ran.out.find("Wrote van.xlsx.\nProven best:") == 0);
  CHECK(contents("van.xlsx").substr(0, 2) == "PK");
  CHECK(place.entries() == 2);
}

TEST_CASE("a failed run leaves the earlier file whole and no litter") {
  const Workplace place;
  put("van.xlsx", "earlier");
  CHECK(run({"sheet", "-o", "van.xlsx", "-"}, bad()).code == 2);
  CHECK(run({"sheet", "-o", "van.xlsx", "--replace", "-"}, impossible()).code == 3);
  CHECK(contents("van.xlsx") == "earlier");
  const Ran lost = run({"sheet", "-o", "no/such/van.xlsx", "-"}, good());
  CHECK(lost.code == 2);
  CHECK(lost.err == "fettlefund: cannot write no/such/van.xlsx: No such file or directory\n");
  CHECK(place.entries() == 1);
}

TEST_CASE("a workbook of a build from standard input needs a name") {
  CHECK(run({"sheet", "-"}, good()).err ==
        "fettlefund: a build from standard input needs -o FILE for its workbook\n");
}

TEST_CASE("colours follow the terminal, the option and NO_COLOR") {
  cli::Surroundings terminal;
  terminal.out_is_terminal = true;
  const auto coloured = [&](std::vector<std::string> more) {
    more.insert(more.begin(), "plan");
    more.push_back("-");
    return run(more, good(), terminal).out.find('\033') != std::string::npos;
  };
  CHECK(coloured({}));
  CHECK_FALSE(coloured({"--colour", "never"}));
  terminal.no_colour = true;
  CHECK_FALSE(coloured({}));
  CHECK(coloured({"--colour", "always"}));
  terminal = {};
  CHECK_FALSE(coloured({}));
}

TEST_CASE("a report that cannot be written is no success") {
  std::istringstream in(good());
  std::ostringstream out, err;
  out.setstate(std::ios::badbit);
  CHECK(cli::run({"plan", "-"}, in, out, err) == 2);
  CHECK(err.str() == "fettlefund: cannot write to standard output\n");
}
