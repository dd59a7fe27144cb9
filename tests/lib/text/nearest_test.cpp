#include "lib/text/nearest.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::text;

TEST_CASE("a spelling distance counts insertions, deletions, replacements and swaps") {
  CHECK(spelling_distance("chain", "chain", 3) == 0);
  CHECK(spelling_distance("chain", "chains", 3) == 1);
  CHECK(spelling_distance("chain", "chin", 3) == 1);
  CHECK(spelling_distance("chain", "chaim", 3) == 1);
  CHECK(spelling_distance("chain", "hcain", 3) == 1);
  CHECK(spelling_distance("Chain", "cHAIN", 3) == 0);
  CHECK(spelling_distance("", "ab", 3) == 2);
  CHECK(spelling_distance("chain", "tank", 2) == 3);
  CHECK(spelling_distance(std::string(200, 'a'), std::string(200, 'a'), 5) == 6);
}

TEST_CASE("a spelling distance is the same both ways and zero only for equal words") {
  rc::check("both ways", [] {
    const auto word = rc::gen::container<std::string>(rc::gen::element('a', 'b', 'c'));
    const std::string a = *word, b = *word;
    RC_PRE(a.size() < 100 && b.size() < 100);
    const int distance = spelling_distance(a, b, 1000);
    RC_ASSERT(distance == spelling_distance(b, a, 1000));
    RC_ASSERT((distance == 0) == (a == b));
    RC_ASSERT(distance <= static_cast<int>(std::max(a.size(), b.size())));
  });
}

TEST_CASE("the nearest name is near, or there is none") {
  const Names names({"not_before", "note", "name", "want"});
  CHECK(nearest_name("not_befor", names) == "not_before");
  CHECK(nearest_name("nmae", names) == "name");
  CHECK(nearest_name("wants", names) == "want");
  CHECK(nearest_name("colour", names).empty());
  CHECK(nearest_name("", names).empty());
  CHECK(nearest_name("want", Names()).empty());
}

TEST_CASE("among equally near names the first in the sort order is told") {
  CHECK(nearest_name("lamq", Names({"lamp", "lamb"})) == "lamb");
}

TEST_CASE("names know each other apart") {
  const Names names({"b", "a", "b"});
  CHECK(names.all() == std::vector<std::string>{"a", "b"});
  CHECK(names.has("a"));
  CHECK_FALSE(names.has("c"));
}
