#include "lib/sheets/read_back/settle.hpp"

#include "tests/lib/support/remembered.hpp"

#include <doctest/doctest.h>

// What of a workbook is recorded beside what the log holds already.

using namespace fettlefund;
using test::BuildText;
using test::cents;
using test::day;
using test::Remembered;

namespace {

/// Two brackets of 10.00 for one job. Paydays on the first of January to April 2027, bench on the fourth.
build::Build pair_of_brackets() {
  BuildText text;
  text.suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 2})";
  text.articles =
      R"("bracket": {"name": "Bracket", "kind": "part", "offers": [{"supplier": "shop", "price": 10}]})";
  text.jobs =
      R"("hang": {"name": "Hang it", "want": 5, "hours": 1, "uses": [{"article": "bracket", "amount": 2}]})";
  return text.read();
}

/// A workbook of that build, typed into, and what its handing back on 2027-01-03 comes to.
struct HandedBack {
  explicit HandedBack(std::vector<log::NewEntry> before, build::Build of = pair_of_brackets())
      : events(std::move(before)), build(std::move(of)), one(build, events, "2027-01-02") {}

  void type(const std::string& key, const std::string& heading, sheets::Value value) {
    one.book.type("Shopping", key, heading, std::move(value));
  }
  std::string answer(const build::Build& now) {
    const auto settled =
        sheets::settle(sheets::read_back(one.book.stored()), now, test::log_of(events), day("2027-01-03"));
    std::string all;
    for (const auto& proposed : settled.proposed)
      all += budgets::write_date(proposed.entry.date) + " " +
             log::in_words(proposed.entry.event, now.currency) + "\n";
    return all + test::told(settled.remarkable);
  }
  std::string answer() { return answer(build); }

  std::vector<log::NewEntry> events;
  build::Build build;
  Remembered one;
};

sheets::Value ticked() { return std::string("x"); }

const log::NewEntry one_bracket{day("2027-01-01"), log::Bought{"bracket@1", 1, test::cents(1000)}};

const std::string older =
    "  warning: the workbook is of an older plan: 1 log line was written since; what they hold is not "
    "recorded "
    "again\n";

}  // namespace

TEST_CASE("what the log held when the workbook was written is another purchase") {
  HandedBack handed({one_bracket});
  handed.type("bracket@1", "Tick", ticked());
  CHECK(handed.answer() == "2027-01-03 bought bracket@1, 1 pack, 10.00 EUR, arrives 2027-01-05\n");
}

TEST_CASE("a typed amount is that of what was bought since and corrects the sum of both purchases") {
  HandedBack handed({one_bracket});
  handed.type("bracket@1", "Paid", cents(1250));
  handed.events.push_back({day("2027-01-02"), log::Bought{"bracket@1", 1, cents(1000)}});
  CHECK(handed.answer() == "2027-01-03 paid for bracket@1: 22.50 EUR\n" + older);
}

TEST_CASE("two typed amounts that differ are asked about until one is decided") {
  HandedBack handed({});
  handed.type("bracket@1", "Paid", cents(1900));
  handed.events.push_back({day("2027-01-02"), log::Bought{"bracket@1", 2, cents(1800)}});
  CHECK(handed.answer().find("error: 19.00 paid here, 18.00 in entry 1 of the log; which is right?") !=
        std::string::npos);
  handed.events.push_back({day("2027-01-02"), log::Paid{"bracket@1", cents(1850)}});
  CHECK(handed.answer().find("warning: 19.00 paid here, 18.50 by the log; that stays\n") !=
        std::string::npos);
  CHECK(handed.answer().find("error") == std::string::npos);
}

TEST_CASE("a remark that the log holds is not recorded again") {
  HandedBack handed({});
  handed.type("bracket@1", "Your remark", std::string("the black ones"));
  CHECK(handed.answer() == "2027-01-03 remark about bracket@1: the black ones\n");
  handed.events.push_back({day("2027-01-02"), log::Remark{"bracket@1", "the black ones"}});
  CHECK(handed.answer() == older);
}

TEST_CASE("what is there on the day it is bought has no day of arrival") {
  HandedBack handed({});
  handed.type("bracket@1", "Tick", ticked());
  handed.type("bracket@1", "Bought on", day("2027-01-02"));
  handed.type("bracket@1", "Arrives", day("2027-01-02"));
  CHECK(handed.answer() == "2027-01-02 bought bracket@1, 2 packs, 20.00 EUR\n");
  handed.type("bracket@1", "Arrives", day("2027-01-01"));
  CHECK(handed.answer().find("error: it arrives on 2027-01-01, before it is bought on 2027-01-02\n") !=
        std::string::npos);
}

TEST_CASE("of several offers none of which has the planned price the slowest tells the arrival") {
  HandedBack handed({});
  handed.type("bracket@1", "Tick", ticked());
  build::Build dearer = handed.build;
  build::Offer offer = dearer.articles[0].offers[0];
  dearer.articles[0].offers.clear();
  const int lead_days[] = {4, 9, 6};
  for (const int days : lead_days) {
    offer.lead_days = days;
    offer.price.likely = cents(1000 + days);
    dearer.articles[0].offers.push_back(offer);
  }
  CHECK(handed.answer(dearer) == "2027-01-03 bought bracket@1, 2 packs, 20.00 EUR, arrives 2027-01-12\n");
  dearer.articles[0].offers[0].price.likely = cents(1000);
  CHECK(handed.answer(dearer) == "2027-01-03 bought bracket@1, 2 packs, 20.00 EUR, arrives 2027-01-07\n");
}

TEST_CASE("a workbook with amounts in another currency than that of the build is refused") {
  HandedBack handed({});
  handed.type("bracket@1", "Tick", ticked());
  build::Build pounds = handed.build;
  pounds.currency = budgets::find_currency("GBP").value();
  CHECK(handed.answer(pounds) ==
        "  error: the workbook's amounts are in EUR, the build's in GBP\n"
        "Shopping A6 error: not taken: the workbook's amounts are in EUR, the build's in GBP\n");
}

TEST_CASE("what is bought besides for a payday to come is paid on the day of recording") {
  HandedBack handed({});
  handed.type("besides:1", "Stage", std::int64_t{3});
  handed.type("besides:1", "Paid", cents(250));
  const std::string answer = handed.answer();
  CHECK(answer.starts_with("2027-01-03 bought besides:"));
  CHECK(answer.find("warning: the payday of stage 3 is 2027-03-01; it is taken as paid on 2027-01-03\n") !=
        std::string::npos);
}

namespace {

/// A lamp from a shop that delivers for nothing, a seat from one that charges 5.00 below 60.00.
build::Build lamp_and_seat_apart() {
  BuildText text;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5, "free_from": 60})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 30}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 40}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": ["lamp"]},
    "sit": {"name": "Fit the seat", "want": 4, "hours": 1, "uses": ["seat"]})";
  return text.read();
}

}  // namespace

TEST_CASE("goods from one supplier that are ticked do not ask for the delivery of another") {
  HandedBack handed({}, lamp_and_seat_apart());
  handed.type("lamp@1", "Tick", ticked());
  CHECK(handed.answer() == "2027-01-03 bought lamp@1, 1 pack, 30.00 EUR\n");
  handed.type("seat@1", "Tick", ticked());
  CHECK(handed.answer().find("goods from Post Parts are bought, but their delivery, 5.00 EUR,") !=
        std::string::npos);
}

TEST_CASE("goods from one supplier do not make the delivery of another free") {
  HandedBack handed({}, lamp_and_seat_apart());
  handed.type("delivery:post@1", "Tick", ticked());
  CHECK(handed.answer() == "2027-01-03 bought delivery:post@1, 1 pack, 5.00 EUR\n");
}
