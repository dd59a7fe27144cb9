// Bookkeeping where life is untidy: what has happened is always recorded, and nothing that was typed is lost.
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
BuildText lamp_seat_and_crimper() {
  BuildText text;
  text.suppliers = R"("shop": {"name": "Corner Shop"})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]},
    "crimper": {"name": "Crimper", "kind": "tool", "offers": [{"supplier": "shop", "price": 20}]})";
  text.jobs =
      R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}], "tools": ["crimper"]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]})";
  return text;
}

struct Books : RecordPlace {
  explicit Books(const std::string& build = lamp_seat_and_crimper().text()) { put("bike.build", build); }
};

}  // namespace

TEST_CASE("money that comes and goes besides is in the cash from its day on") {
  Books books;
  REQUIRE(books.record({"in", "180", "old exhaust sold", "--on", "2027-01-02"}) == 0);
  CHECK(books.out.starts_with("   1  2027-01-02  came in 180.00 EUR: old exhaust sold\n"));
  REQUIRE(books.record({"out", "30.50", "ferry", "--on", "2027-01-03"}) == 0);
  CHECK(books.out.starts_with("   2  2027-01-03  went out 30.50 EUR: ferry\n"));
  // 100.00 in hand and 100.00 on the first payday, 180.00 more, 30.50 less.
  REQUIRE(books.run({"plan", "bike.build"}) == 0);
  CHECK(books.told("Cash is 349.50 EUR"));
  CHECK(books.record({"in", "-5", "x"}) == 2);
  CHECK(books.record({"in", "0", "x"}) == 2);
}

TEST_CASE("half a change of chain is named, planned to its end and stops no books") {
  BuildText text;
  text.jobs = R"("front": {"name": "Front sprocket", "want": 5, "hours": 1, "mates": {"chain-size": "520"}},
    "chain": {"name": "New chain", "want": 5, "hours": 1, "mates": {"chain-size": "520"}})";
  text.more = R"(, "fitted": {
    "old-front": {"name": "old sprocket", "mates": {"chain-size": "525"}, "replaced_by": ["front"]},
    "old-chain": {"name": "old chain", "mates": {"chain-size": "525"}, "replaced_by": ["chain"]}})";
  Books books(text.text());
  REQUIRE(books.record({"fitted", "front", "--on", "2027-01-04"}) == 0);
  CHECK(books.run({"plan", "bike.build"}) == 0);
  CHECK(books.told("Front sprocket (chain-size 520) and old chain (chain-size 525) are on the"));
  CHECK(books.told("New chain resolves it"));
  CHECK(books.record({"in", "5", "bottle deposit"}) == 0);
}
