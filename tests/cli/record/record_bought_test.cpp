#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
BuildText lamp_seat_and_press() {
  BuildText text;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5, "lead_days": 9})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "bulb": {"name": "Bulb", "kind": "part", "offers": [{"supplier": "post", "price": 4},
      {"supplier": "shop", "price": 6}]},
    "rack": {"name": "Rack", "kind": "part", "offers": [{"supplier": "post", "price": 30}]},
    "press": {"name": "Press", "kind": "tool", "offers": [{"supplier": "shop", "price": 20}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "tools": ["press"],
      "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]})";
  return text;
}

/// The same with a must that no money of the build pays in time.
std::string impossible_start() {
  BuildText text = lamp_seat_and_press();
  text.jobs +=
      R"(, "haste": {"name": "Fit ten seats", "want": 9, "must": true, "by": "2027-01-04", "hours": 1,
    "uses": [{"article": "seat", "amount": 10}]})";
  return text.text();
}

struct Buying : RecordPlace {
  explicit Buying(const std::string& build) { put("bike.build", build); }
  bool plan_says(const std::string& sentence) {
    CHECK(run({"plan", "bike.build"}) == 0);
    return out.find(sentence) != std::string::npos;
  }
};

const std::string no_plan =
    "note: bike.build has no plan now, so that packs, prices and arrivals are as its offers say; `plan` "
    "tells "
    "why\n";

}  // namespace

TEST_CASE("what is recorded goes by the plan of the effort that is asked for") {
  Buying books(lamp_seat_and_press().text());
  for (const char* level : {"quick", "thorough"}) {
    CHECK(books.record({"bought", "seat@1", "--effort", level, "--dry-run", "--on", "2027-01-01"}) == 0);
    CHECK(books.run({"record", "bike.build", "--effort", level, "bought", "seat@1", "--dry-run"}) == 0);
  }
  CHECK(books.record({"bought", "seat@1", "--effort", "slow"}) == 2);
}

TEST_CASE("a line of the plan as of the day is bought although that of the last entry has none") {
  BuildText text;
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 90, "until": "2027-01-31"}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": ["lamp"]},
    "more": {"name": "Fit another lamp", "want": 5, "hours": 1, "one_of": "last", "uses": ["lamp"]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "one_of": "last", "uses": ["seat"]})";
  Buying books(text.text());
  CHECK(books.record({"bought", "lamp@1", "--on", "2027-01-01"}) == 0);
  CHECK(books.plan_says("1 Seat"));
  CHECK_FALSE(books.told("1 Lamp"));
  CHECK(books.record({"bought", "lamp@2=58", "--on", "2027-01-02"}) == 2);  // no plan buys a second one then
  // Nobody ordered the seat while it could be had.
  CHECK(books.run({"plan", "bike.build", "--from", "2027-02-01"}) == 0);
  CHECK(books.told("1 Lamp"));
  CHECK(books.record({"bought", "lamp@2=58", "--on", "2027-02-01"}) == 0);
  CHECK(books.told("bought lamp@2, 1 pack, 58.00 EUR\n"));
}

TEST_CASE("a stage of the plan as of the day is bought although all is recorded of that of the last entry") {
  BuildText text;
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 20}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 60, "from": "2027-01-02"}]})";
  text.jobs =
      R"("pair": {"name": "Fit two lamps", "want": 9, "hours": 1, "uses": [{"article": "lamp", "amount": 2}]},
    "sit": {"name": "Fit the seat", "want": 5, "hours": 2, "uses": ["seat"]})";
  Buying books(text.text());
  CHECK(books.record({"bought", "lamp@1", "--packs", "1", "--on", "2027-01-01"}) == 0);
  CHECK(books.record({"bought", "stage:1", "--on", "2027-01-01"}) == 2);
  CHECK(books.err.starts_with(
      "fettlefund: lamp@1 is recorded as bought by entry 1; --again records more of it"));
  CHECK(books.record({"bought", "stage:1", "--on", "2027-01-02"}) == 0);
  CHECK(books.told("bought seat@1, 1 pack, 60.00 EUR\n"));
  CHECK_FALSE(books.told("bought lamp@1"));
}

TEST_CASE("a line of the plan as of the day is bought although that of the last entry is impossible") {
  BuildText text = lamp_seat_and_press();
  text.jobs +=
      R"(, "haste": {"name": "Fit ten bulbs", "want": 9, "must": true, "by": "2027-01-04", "hours": 1,
    "uses": [{"article": "bulb", "amount": 10}]})";
  Buying books(text.text());
  CHECK(books.record({"counted", "10", "--on", "2027-01-01"}) == 0);
  CHECK(books.run({"plan", "bike.build"}) == 3);
  CHECK(books.run({"plan", "bike.build", "--from", "2027-02-01"}) == 0);  // too late, and soon
  CHECK(books.told("10 Bulb"));
  CHECK(books.record({"deposit", "bulb@2", "5", "--rest", "40", "--rest-on", "2027-02-20", "--on",
                      "2027-02-01"}) == 0);
  CHECK(books.told("bought bulb@2, 10 packs"));
  CHECK(books.err.empty());
}

TEST_CASE("what was bought is recorded although the build has no plan") {
  Buying place(impossible_start());
  CHECK(place.run({"plan", "bike.build"}) == 3);
  CHECK(place.record({"bought", "lamp"}) == 0);
  CHECK(place.err == no_plan);
  CHECK(place.out == "   1  2027-01-02  bought lamp@1, 1 pack, 60.00 EUR\nRecorded in bike.record.\n");
  CHECK(place.record({"bought", "seat@2", "--packs", "3", "--paid", "440"}) == 0);
  CHECK(place.out == "   2  2027-01-02  bought seat@2, 3 packs, 440.00 EUR\nRecorded in bike.record.\n");
  CHECK(place.record({"bought", "lamp"}) == 2);
  CHECK(place.err.find("lamp@1 is recorded as bought by entry 1") != std::string::npos);
}

TEST_CASE("what was bought is recorded although every stage is over") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"remark", "the last evening", "--on", "2027-04-20"}) == 0);
  CHECK(place.record({"bought", "lamp", "--on", "2027-04-21"}) == 0);
  CHECK(place.out == "   2  2027-04-21  bought lamp@4, 1 pack, 60.00 EUR\nRecorded in bike.record.\n");
}

TEST_CASE("without a plan a price that could be one of several is asked for") {
  Buying place(impossible_start());
  CHECK(place.record({"bought", "bulb"}) == 2);
  CHECK(place.err == no_plan +
                         "fettlefund: 'bulb' is not on the current shopping list; with --paid it is recorded "
                         "all the same\n");
  CHECK(place.record({"bought", "bulb", "--paid", "6"}) == 0);
}

TEST_CASE("other packs than planned are recorded at their price") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "seat@1", "--packs", "3"}) == 0);
  CHECK(place.out.starts_with("   1  2027-01-02  bought seat@1, 3 packs, 450.00 EUR\n"));
}

TEST_CASE("an article that stands in two lines of the plan is not taken for either of them") {
  BuildText text;
  text.articles =
      R"("rack": {"name": "Rack", "kind": "part", "offers": [{"supplier": "shop", "price": 30}]})";
  text.jobs =
      R"("most": {"name": "Fit four racks", "want": 9, "hours": 1, "uses": [{"article": "rack", "amount": 4}]},
    "rest": {"name": "Fit three racks", "want": 5, "hours": 1, "uses": [{"article": "rack", "amount": 3}]})";
  Buying place(text.text());
  CHECK(place.plan_says("4 Rack"));
  CHECK(place.told("3 Rack"));
  CHECK(place.record({"bought", "rack", "--on", "2027-01-01"}) == 0);
  CHECK(place.out.starts_with("   1  2027-01-01  bought rack@1, 1 pack, 30.00 EUR\n"));
}

TEST_CASE("what is on no list is recorded for the stage whose bench time is next") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "rack", "--on", "2027-01-04", "--dry-run"}) == 0);
  CHECK(place.told("bought rack@1, 1 pack"));
  CHECK(place.record({"bought", "rack", "--on", "2027-01-05", "--dry-run"}) == 0);
  CHECK(place.told("bought rack@2, 1 pack"));
  CHECK(place.record({"bought", "rack", "--on", "2027-02-05", "--dry-run"}) == 0);
  CHECK(place.told("bought rack@3, 1 pack"));
}

TEST_CASE("what is on no list and has several offers arrives by the slowest of them") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "bulb", "--paid", "6"}) == 0);
  CHECK(place.out.starts_with("   1  2027-01-02  bought bulb@1, 1 pack, 6.00 EUR, arrives 2027-01-11\n"));
}

TEST_CASE("what is on no list arrives when its offers say") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "rack"}) == 0);
  CHECK(place.err == "");
  CHECK(place.out.starts_with("   1  2027-01-02  bought rack@1, 1 pack, 30.00 EUR, arrives 2027-01-11\n"));
  CHECK(place.record({"bought", "bulb", "--paid", "4", "--arrives", "2027-01-03"}) == 0);
  CHECK(place.out.starts_with("   2  2027-01-02  bought bulb@1, 1 pack, 4.00 EUR, arrives 2027-01-03\n"));
}

TEST_CASE("agreed on a day is the plan from that day on and says so") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"remark", "begun", "--on", "2027-01-02"}) == 0);
  CHECK(place.record({"agreed", "--on", "2027-02-10"}) == 0);
  CHECK(place.out.starts_with(
      "Agreed is the plan from 2027-02-10 on, as `plan bike.build --from 2027-02-10` shows it.\n"
      "   2  2027-02-10  agreed 2 jobs: "));
  CHECK(place.out.find("2027-01-04") == std::string::npos);
  CHECK(place.out.find("2027-02-04") == std::string::npos);
}

TEST_CASE("a day more than a year from the build is asked about") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"remark", "a slip", "--on", "2072-01-25"}) == 2);
  CHECK(place.err ==
        "fettlefund: 2072-01-25 is more than a year from the build's days, 2027-01-01 to 2027-04-30; --sure "
        "records it all the same\n");
  CHECK(place.record({"bought", "lamp", "--arrives", "2072-01-25"}) == 2);
  CHECK_FALSE(std::filesystem::exists("bike.record"));
  CHECK(place.record({"remark", "a time capsule", "--on", "2072-01-25", "--sure"}) == 0);
}

TEST_CASE("what is paid after a count moves the cash that was counted") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "lamp@1", "--paid", "20"}) == 0);  // a deposit
  CHECK(place.record({"counted", "180", "--on", "2027-01-03"}) == 0);
  CHECK(place.record({"paid", "lamp@1", "60", "--on", "2027-01-04"}) == 0);
  CHECK(place.plan_says("cash on 2027-01-04 140.00"));
  CHECK(place.record({"paid", "lamp@1", "50", "--on", "2027-01-04"}) == 0);  // a refund
  CHECK(place.plan_says("cash on 2027-01-04 150.00"));
}

TEST_CASE("a correction dated before the count leaves what was counted") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "lamp@1", "--paid", "20"}) == 0);
  CHECK(place.record({"counted", "140", "--on", "2027-01-03"}) == 0);
  CHECK(place.record({"paid", "lamp@1", "60", "--on", "2027-01-02"}) == 0);
  CHECK(place.plan_says("cash on 2027-01-03 140.00"));
}

TEST_CASE("four of five on their way do not keep the fifth from being bought, and are not bought again") {
  BuildText text = lamp_seat_and_press();
  text.jobs += R"(, "rails": {"name": "Fit the rails", "want": 8, "hours": 1,
    "uses": [{"article": "rack", "amount": 2}]})";
  Buying place(text.text());
  CHECK(place.record({"bought", "rack@1", "--packs", "1", "--arrives", "2027-02-20"}) == 0);
  CHECK(place.plan_says("Rack is on its way until 2027-02-20;"));
  CHECK(place.plan_says("[ ] 1 Rack"));
  CHECK_FALSE(place.plan_says("[ ] 2 Rack"));
  CHECK(place.record({"bought", "rack@1", "--packs", "1", "--again", "--arrives", "2027-02-20"}) == 0);
  CHECK(place.plan_says("no other is bought"));
  CHECK_FALSE(place.plan_says("] 1 Rack"));
}

TEST_CASE("risk goes on when a tool that has an offer is owned") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "press", "--on", "2027-01-01"}) == 0);
  CHECK(place.run({"risk", "bike.build", "--samples", "100"}) == 0);
}

TEST_CASE("changes are compared when a stage is over") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.run({"compare", "bike.build", "--from", "2027-02-10", "--with", "hours=8"}) == 0);
  CHECK(place.err == "");
  CHECK(place.run({"compare", "bike.build", "--from", "2027-02-10", "--with", "amount=9000000000000"}) == 2);
}

TEST_CASE("a fee and a hire that are not recorded are told with the line that records them") {
  BuildText text = lamp_seat_and_press();
  text.articles += R"(, "stand": {"name": "Stand", "kind": "tool", "hire": 8})";
  text.jobs +=
      R"(, "weld": {"name": "Have it welded", "want": 1, "hours": 1, "cost": 18, "tools": ["stand"]})";
  Buying place(text.text());
  CHECK(place.record({"fitted", "weld"}) == 0);
  CHECK(place.out ==
        "The fee of weld, 18.00 EUR, is not recorded; when it is paid: record bike.build bought fee:weld@1\n"
        "If stand was hired: record bike.build bought hire:stand@1\n"
        "   1  2027-01-02  fitted weld\nRecorded in bike.record.\n");
  CHECK(place.record({"bought", "fee:weld@1", "hire:stand@1"}) == 0);
  CHECK(place.plan_says("cash on 2027-01-02 174.00"));
}

TEST_CASE("undoing what was bought before a count says that the count stays") {
  Buying place(lamp_seat_and_press().text());
  CHECK(place.record({"bought", "lamp@1", "--on", "2027-01-02"}) == 0);
  CHECK(place.record({"counted", "140", "--on", "2027-01-03"}) == 0);
  CHECK(place.record({"undo", "1", "--on", "2027-01-04"}) == 0);
  CHECK(
      place.out ==
      "Cash was counted on 2027-01-03 with lamp@1 in it, so the count stays as it is. Where money came back "
      "instead: record bike.build paid lamp@1 0\n"
      "   3  2027-01-04  undid entry 1\nRecorded in bike.record.\n");
}
