#include "lib/progress/open_order.hpp"

#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

// What is ordered on a day at a supplier from whom something was bought that day already.

using namespace fettlefund;
using planning::Outcome;
using test::BuildText;
using test::cents;
using test::day;

namespace {

/// Delivery 5.00, free from 200.00; two jobs of a part each, 60.00 and 150.00, and 300.00 in hand.
build::Build with_delivery() {
  BuildText text;
  text.opening = "300.00";
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 5, "free_from": 200})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "post", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2, "uses": [{"article": "seat"}]})";
  return text.read();
}

/// What the seat's delivery costs on 2 January when the lamp was bought for `lamp` on the day `on`.
budgets::Money delivery_of_the_seat(const std::string& on, std::int64_t lamp, bool delivery_paid) {
  const build::Build build = with_delivery();
  std::vector<log::NewEntry> events{{day(on), log::Bought{"lamp@1", 1, cents(lamp)}}};
  if (delivery_paid) events.push_back({day(on), log::Bought{"delivery:post@1", 1, cents(500)}});
  const planning::Standing standing = test::stood(build, events, "2027-01-02");
  const Outcome outcome = test::replanned(standing);
  REQUIRE(outcome.stages[0].orders.size() == 1);
  return outcome.stages[0].orders[0].delivery;
}

}  // namespace

TEST_CASE("delivery that was paid today is paid for what is ordered today and not for what was yesterday") {
  CHECK(delivery_of_the_seat("2027-01-02", 6000, true) == cents(0));
  CHECK(delivery_of_the_seat("2027-01-01", 6000, true) == cents(500));
}

TEST_CASE("what was bought today counts towards free delivery of what is ordered today") {
  CHECK(delivery_of_the_seat("2027-01-02", 4999, false) == cents(500));
  CHECK(delivery_of_the_seat("2027-01-02", 5000, false) == cents(0));
  CHECK(delivery_of_the_seat("2027-01-01", 5000, false) == cents(500));
}

TEST_CASE("an order that has just reached the amount from which delivery is free has no charge left") {
  build::Build build = with_delivery();
  const auto history = planning::history_of(
      test::log_of({{day("2027-01-02"), log::Bought{"lamp@1", 1, cents(20000)}}}), day("2027-01-02"));
  planning::keep_orders_open(build, history, day("2027-01-02"), 1);
  REQUIRE(build.suppliers.size() == 2);
  CHECK(build.suppliers[1].id == "post@1");
  CHECK(build.suppliers[1].delivery == cents(0));
  CHECK_FALSE(build.suppliers[1].free_from);
}
