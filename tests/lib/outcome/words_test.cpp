#include "lib/outcome/words.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::planning;

TEST_CASE("hours are told exactly, in minutes where two decimals do not do") {
  CHECK(hours_text(0) == "0 h");
  CHECK(hours_text(90) == "1.5 h");
  CHECK(hours_text(75) == "1.25 h");
  CHECK(hours_text(3) == "0.05 h");
  CHECK(hours_text(600) == "10 h");
  CHECK(hours_text(80) == "1 h 20 min");
  CHECK(hours_text(20) == "20 min");
}

TEST_CASE("amounts lose the zeros they do not need") {
  CHECK(amount_text(1000) == "1");
  CHECK(amount_text(1500) == "1.5");
  CHECK(amount_text(125) == "0.125");
  CHECK(amount_text(20) == "0.02");
  CHECK(amount_text(100000) == "100");
  CHECK(amount_text(0) == "0");
}

TEST_CASE("lists read as a sentence does") {
  CHECK(list_text({}) == "");
  CHECK(list_text({"a"}) == "a");
  CHECK(list_text({"a", "b"}) == "a and b");
  CHECK(list_text({"a", "b", "c"}) == "a, b and c");
}

TEST_CASE("want-days become want-months of a twelfth of 365 and a quarter days") {
  CHECK(want_months_text(0) == "0.0");
  CHECK(want_months_text(487) == "16.0");  // 487 / 30.4375
  CHECK(want_months_text(486) == "15.9");
  CHECK(want_months_text(-486) == "-15.9");
  CHECK(want_months_text(-1) == "0.0");
  CHECK(want_months_text(30437500) == "1,000,000.0");
  CHECK(want_months_at_most_text(0) == "0.0");
  CHECK(want_months_at_most_text(487) == "16.0");
  CHECK(want_months_at_most_text(486) == "16.0");
  CHECK(want_months_at_most_text(1) == "0.1");
  CHECK(want_months_at_most_text(-486) == "-15.9");
}
