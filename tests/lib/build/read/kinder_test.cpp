#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;

namespace {

const std::string two_goods =
    R"("articles": {"tyre": {"name": "Tyre", "kind": "part"}, "lever": {"name": "Lever", "kind": "tool"}},
)";

std::string said_of_job(const std::string& job_keys) {
  return told(read(small_build(two_goods, ", " + job_keys), "b"));
}

}  // namespace

TEST_CASE("an id alone uses one of an article") {
  const Reading reading = read(small_build(two_goods, R"(, "uses": ["tyre"])"), "b");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  REQUIRE(reading.build->jobs[0].uses.size() == 1);
  CHECK(reading.build->jobs[0].uses[0].article == "tyre");
  CHECK(reading.build->jobs[0].uses[0].amount == 1000);
}

TEST_CASE("an id alone is checked as one in an object is") {
  CHECK(said_of_job(R"("uses": ["tire"])") ==
        "b:6:73: error: /jobs/lamp/uses/0: found \"tire\", expected the id of a part or a consumable; did "
        "you mean "
        "tyre?\n");
  CHECK(said_of_job(R"("uses": ["lever"])") ==
        "b:6:73: error: /jobs/lamp/uses/0: found \"lever\", expected a part or a consumable; tools are named "
        "under "
        "\"tools\"\n");
  CHECK(said_of_job(R"("uses": ["tyre", {"article": "tyre"}])")
            .find("expected each article once; the amounts are added up") != std::string::npos);
}

TEST_CASE("a key that people mean by another word is told by its own") {
  for (const char* word : {"remove", "needs"})
    CHECK(said_of_job("\"" + std::string(word) + "\": []") ==
          "b:6:64: error: /jobs/lamp/" + std::string(word) + ": found \"" + word +
              "\", expected a key of a job; this one is called \"removals\"\n");
}

TEST_CASE("an unknown key is told which keys there are") {
  CHECK(said_of_job(R"("uses": [{"article": "tyre", "colour": 1}])") ==
        "b:6:93: error: /jobs/lamp/uses/0/colour: found \"colour\", expected a key of a use: amount, "
        "article\n");
}

TEST_CASE("the schema that an editor goes by may be named") {
  CHECK(told(read(small_build(R"("$schema": "build-file.schema.json",)"), "b")) == "");
}

TEST_CASE("the kind of a job is one that work lists, other words are told what they may mean") {
  const Reading reading = read(small_build("", R"(, "kind": "lamp")"), "b");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->jobs[0].kind == "lamp");
  CHECK(said_of_job(R"("kind": "antifreeze")") ==
        "b:6:72: error: /jobs/lamp/kind: found \"antifreeze\", expected the name of a kind of work, as "
        "`fettlefund "
        "work` lists them; did you mean coolant?\n");
  CHECK(said_of_job(R"("kind": "fork")") ==
        "b:6:72: error: /jobs/lamp/kind: found \"fork\", expected the name of a kind of work, as `fettlefund "
        "work` "
        "lists them; by that word go \"bicycle fork\" or \"fork service\"\n");
  CHECK(said_of_job(R"("kind": 7)") ==
        "b:6:72: error: /jobs/lamp/kind: found 7, expected the name of a kind of work, as `fettlefund work` "
        "lists "
        "them\n");
}

TEST_CASE("an article may say for which jobs it serves") {
  const auto with_for = [](const std::string& id) {
    return small_build(R"("articles": {"tyre": {"name": "Tyre", "kind": "part", "for": [")" + id +
                       R"("]}},)");
  };
  const Reading reading = read(with_for("lamp"), "b");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->articles[0].serves_for == std::vector<Id>{"lamp"});
  CHECK(told(read(with_for("lmap"), "b")).find("expected the id of a job or a removal; did you mean lamp?") !=
        std::string::npos);
}
