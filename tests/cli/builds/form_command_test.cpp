#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/cli/support/ran.hpp"
#include "tests/cli/support/workplace.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::contents;
using test::Ran;
using test::run;
using test::Workplace;
namespace fs = std::filesystem;

namespace {}  // namespace

TEST_CASE("an empty form is written once and told to be filled in") {
  const Workplace place;
  const std::string form = "a.xlsx";
  const Ran first = run({"form", form});
  CHECK(first.code == 0);
  CHECK(first.out ==
        "Wrote " + form + ". Fill it in with a spreadsheet program, then: fettlefund check " + form + "\n");
  const std::string bytes = contents(form);
  const Ran again = run({"form", form});
  CHECK(again.code == 2);
  CHECK(again.err == "fettlefund: cannot write " + form + ": it exists already\n");
  CHECK(contents(form) == bytes);
  CHECK(run({"plan", form}).code == 2);
}

TEST_CASE("a form takes the place of its build in every command whatever it is called") {
  const Workplace place;
  const std::string build = "bike.build", form = "form.xlsx", odd = "odd.build";
  REQUIRE(run({"start", "bike"}).code == 0);
  REQUIRE(run({"form", form, "--from", build}).code == 0);
  fs::copy_file(form, odd);
  for (const char* command : {"plan", "risk", "shopping", "calendar", "picture", "ids"}) {
    std::vector<std::string> args = {command, build};
    const std::string name = command;
    if (name == "shopping" || name == "calendar" || name == "picture") args.insert(args.end(), {"-o", "-"});
    const Ran text = run(args);
    args[1] = odd;
    const Ran book = run(args);
    CHECK(book.code == text.code);
    CHECK(book.out == text.out);
  }
  CHECK(run({"plan", "-"}, contents(form)).out == run({"plan", build}).out);
}

TEST_CASE("a starter of every trade plans alike as text and as form") {
  const Workplace place;
  for (const std::string trade : {"motorcycle", "van", "bicycle", "boat"}) {
    CAPTURE(trade);
    REQUIRE(run({"start", trade, "--trade", trade, "--on", "2027-01-01"}).code == 0);
    const Ran form = run({"start", trade, "--trade", trade, "--on", "2027-01-01", "--form"});
    CHECK(form.code == 0);
    CHECK(form.err.empty());
    CHECK(form.out ==
          "Wrote " + trade + ".xlsx. Change it into your own, then: fettlefund plan " + trade + ".xlsx\n");
    CHECK(run({"check", trade + ".xlsx"}).out == run({"check", trade + ".build"}).out);
    CHECK(run({"plan", trade + ".xlsx"}).out == run({"plan", trade + ".build"}).out);
  }
  const Ran again = run({"start", "van.xlsx", "--form"});
  CHECK(again.code == 2);
  CHECK(again.err == "fettlefund: cannot write van.xlsx: it exists already\n");
}

TEST_CASE("a form becomes a build file and a build file that stands there stays") {
  const Workplace place;
  const std::string build = "bike.build", form = "form.xlsx", to = "to.build";
  REQUIRE(run({"start", "bike"}).code == 0);
  REQUIRE(run({"form", form, "--from", build}).code == 0);
  const Ran ran = run({"form", form, "--to", to});
  CHECK(ran.code == 0);
  CHECK(ran.out == "Wrote " + to + ". The form and this file plan alike.\n");
  CHECK(run({"plan", "--json", to}).out == run({"plan", "--json", build}).out);
  CHECK(run({"form", form, "--to", to}).code == 2);
  CHECK(run({"form", build, "--to", "b.build"}).code == 2);
  CHECK(!fs::exists("b.build"));
}

TEST_CASE("the log of a form stands beside it as that of a build file does") {
  const Workplace place;
  REQUIRE(run({"start", "bike"}).code == 0);
  REQUIRE(run({"form", "bike.xlsx", "--from", "bike.build"}).code == 0);
  CHECK(run({"record", "bike.xlsx", "remark", "the seal weeps", "--on", "2027-01-02"}).code == 0);
  CHECK(fs::exists(fs::path("bike.record")));
  CHECK(run({"record", "bike.build", "list"}).out.find("the seal weeps") != std::string::npos);
}

TEST_CASE("the plan of a form is another workbook than the form") {
  const Workplace place;
  const std::string form = "bike.xlsx";
  REQUIRE(run({"start", "bike"}).code == 0);
  REQUIRE(run({"form", form, "--from", "bike.build"}).code == 0);
  const std::string bytes = contents(form);
  CHECK(run({"sheet", form}).code == 0);
  CHECK(fs::exists("bike-plan.xlsx"));
  const Ran over = run({"sheet", form, "-o", form});
  CHECK(over.code == 2);
  CHECK(over.err == "fettlefund: " + form + " is the form itself; name another file with -o\n");
  CHECK(contents(form) == bytes);
}
