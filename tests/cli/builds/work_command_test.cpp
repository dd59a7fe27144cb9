#include "tests/cli/support/ran.hpp"

#include <doctest/doctest.h>

using fettlefund::test::Ran;
using fettlefund::test::run;

TEST_CASE("work lists the kinds of every trade with the words they go by") {
  const Ran ran = run({"work"});
  CHECK(ran.code == 0);
  for (const char* heading : {"\nEvery trade\n", "\nMotorcycle\n", "\nVan\n", "\nBicycle\n", "\nBoat\n"})
    CHECK_MESSAGE(ran.out.find(heading) != std::string::npos, heading);
  CHECK(ran.out.find("  headset                     bicycle steering bearings, head set, bearings\n") !=
        std::string::npos);
}

TEST_CASE("work lists what one trade knows, shared kinds included") {
  const Ran ran = run({"work", "--trade", "boat"});
  CHECK(ran.out.find("\nBoat\n") != std::string::npos);
  CHECK(ran.out.find("\nVan\n") == std::string::npos);
  CHECK(ran.out.find("  antifouling ") != std::string::npos);
  CHECK(ran.out.find("  engine oil ") != std::string::npos);
  CHECK(ran.out.find("  headset ") == std::string::npos);
}

TEST_CASE("work shows one kind in full") {
  const Ran ran = run({"work", "wheel bearings"});
  CHECK(ran.code == 0);
  CHECK(ran.out.find("wheel bearings (motorcycle, van)\n") == 0);
  for (const char* part : {"Usually comes off\n", "Easily forgotten\n", "Spoilt each time\n", "Tools\n",
                           "Check afterwards\n", "Take care\n", "[wheel-bearings-circlip]",
                           "Hours, without what comes off: 1 to 4, likely 2\n", "Common practice, no source"})
    CHECK_MESSAGE(ran.out.find(part) != std::string::npos, part);
}

TEST_CASE("work finds a kind by another word and by a near spelling") {
  CHECK(run({"work", "antifreeze"}).out.find("coolant (") == 0);
  CHECK(run({"work", "antifuoling"})
            .out.find(
                "Nothing goes by \"antifuoling\"; the nearest is \"antifouling\".\n\nantifouling (boat)\n") ==
        0);
}

TEST_CASE("work lets choose where several kinds go by a word") {
  const Ran ran = run({"work", "fork oil"});
  CHECK(ran.code == 0);
  CHECK(ran.out.find("2 kinds of work go by \"fork oil\":\n  bicycle suspension") == 0);
  CHECK(ran.out.find("\n  fork service") != std::string::npos);
}

TEST_CASE("work says so where nothing goes by a word") {
  const Ran ran = run({"work", "xylophone"});
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  CHECK(ran.err == "fettlefund: no kind of work goes by 'xylophone'; `fettlefund work` lists them all\n");
}
