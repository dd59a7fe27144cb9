// An order is a thing of its own, and the past stays as it was recorded.
#include <sstream>

#include "tests/cli/support/handed_workbook.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;
using test::RecordPlace;
using test::TypedWorkbook;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth. The
/// first payday buys lamp and seat from Post Parts, 80.00 together, free of delivery from 75.00 on.
BuildText one_parcel() {
  BuildText text;
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 9, "free_from": 75, "lead_days": 2})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "post", "price": 40}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 40}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]})";
  return text;
}

struct Ordering : RecordPlace {
  explicit Ordering(const BuildText& text = one_parcel()) { put("bike.build", text.text()); }
  /// Whether the plan says so, wherever its lines break.
  bool plan_says(const std::string& sentence) {
    CHECK(run({"plan", "bike.build"}) == 0);
    std::istringstream words(out);
    std::string word, all;
    while (words >> word) all += word + " ";
    return all.find(sentence) != std::string::npos;
  }
  TypedWorkbook workbook(const std::string& day) { return test::handed_workbook(day); }
  int from(const TypedWorkbook& book, const std::string& on) {
    book.save("typed.xlsx");
    return record({"--from", "typed.xlsx", "--on", on});
  }
};

sheets::Value tick() { return std::string("x"); }
sheets::Money minor(std::int64_t minor) { return sheets::Money::of_minor(minor); }

}  // namespace

TEST_CASE("bought line by line an order keeps its free delivery") {
  Ordering place;
  CHECK(place.record({"bought", "lamp", "--on", "2027-01-01"}) == 0);
  CHECK(place.plan_says("Post Parts, order of 2027-01-01"));
  CHECK(place.plan_says("cash on 2027-01-01 160.00"));
  CHECK(place.out.find("9.00") == std::string::npos);
  CHECK(place.record({"bought", "seat", "--on", "2027-01-01"}) == 0);
  CHECK(place.out ==
        "   2  2027-01-01  bought seat@1, 1 pack, 40.00 EUR, arrives 2027-01-03\nRecorded in bike.record.\n");
  CHECK(place.plan_says("cash on 2027-01-01 120.00"));
}

TEST_CASE("delivery that is paid is not paid again for the rest of the order") {
  BuildText text = one_parcel();
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 9, "lead_days": 2})";
  Ordering place(text);
  CHECK(place.record({"bought", "lamp", "delivery:post@1", "--on", "2027-01-01"}) == 0);
  CHECK(place.plan_says("[ ] 1 Seat"));
  CHECK(place.out.find("9.00") == std::string::npos);
  // On another day it would be another order.
  CHECK(place.run({"plan", "bike.build", "--from", "2027-01-02"}) == 0);
  CHECK(place.out.find("9.00") != std::string::npos);
}

TEST_CASE("a whole order, a whole stage and real prices are recorded in one command") {
  BuildText text = one_parcel();
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 9, "lead_days": 2})";
  Ordering place(text);
  CHECK(place.record({"bought", "order:post@1", "--on", "2027-01-01", "--dry-run"}) == 0);
  CHECK(place.out ==
        "      2027-01-01  bought lamp@1, 1 pack, 40.00 EUR, arrives 2027-01-03\n"
        "      2027-01-01  bought seat@1, 1 pack, 40.00 EUR, arrives 2027-01-03\n"
        "      2027-01-01  bought delivery:post@1, 1 pack, 9.00 EUR\n"
        "Would be recorded in bike.record; nothing was written.\n");
  CHECK(place.record({"bought", "order:posd@1"}) == 2);
  CHECK(place.err ==
        "fettlefund: 'order:posd@1' is not an order or a stage that the plan still buys for; did you mean "
        "'order:post@1'?\n");
  CHECK(place.record({"bought", "lamp=38.50", "seat=41", "--on", "2027-01-01"}) == 0);
  CHECK(place.out.starts_with(
      "Delivery is not in it; when it is paid: record bike.build bought delivery:post@1\n"
      "   1  2027-01-01  bought lamp@1, 1 pack, 38.50 EUR, arrives 2027-01-03\n"
      "   2  2027-01-01  bought seat@1, 1 pack, 41.00 EUR, arrives 2027-01-03\n"));
  CHECK(place.record({"bought", "lamp=x"}) == 2);
  CHECK(place.err == "fettlefund: 'x' is no amount of EUR like 129.95\n");
}

TEST_CASE("one purchase told by the command line and by a workbook under another key counts once") {
  BuildText text = one_parcel();
  text.keep_back = "170.00";  // one thing a payday
  Ordering place(text);
  TypedWorkbook book = place.workbook("");
  CHECK(place.record({"bought", "seat@3", "--on", "2027-01-01", "--paid", "40"}) == 0);
  book.type("Shopping", "seat@2", "Tick", tick());
  CHECK(place.from(book, "2027-02-01") == 0);
  CHECK(place.err.find("taken as what entry 1 of the log tells (seat@3 on 2027-01-01)") != std::string::npos);
  CHECK(place.out.find("Nothing new to record") != std::string::npos);
}

TEST_CASE("what is recorded under another key and needed no more is not bought again by mistake") {
  Ordering place;
  CHECK(place.record({"bought", "seat@1", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"bought", "seat@2", "--on", "2027-01-01"}) == 2);
  CHECK(place.err.find("seat@1 is recorded as bought by entry 1; --again records more of it") !=
        std::string::npos);
  CHECK(place.record({"bought", "seat@2", "--on", "2027-01-01", "--again"}) == 0);
}

TEST_CASE("goods that are ticked without their delivery are told") {
  BuildText text = one_parcel();
  text.suppliers = R"("post": {"name": "Post Parts", "delivery": 9, "lead_days": 2})";
  Ordering place(text);
  TypedWorkbook book = place.workbook("");
  book.type("Shopping", "seat@1", "Tick", tick());
  CHECK(place.from(book, "2027-01-01") == 0);
  CHECK(place.err.find(
            "goods from Post Parts are bought, but their delivery, 9.00 EUR, is neither ticked nor "
            "paid, so it is not recorded; if there was none, type 0 under Paid") != std::string::npos);
  book.type("Shopping", "delivery:post@1", "Paid", minor(0));
  CHECK(place.from(book, "2027-01-01") == 0);
  CHECK(place.err.find("their delivery") == std::string::npos);
}

TEST_CASE("what is bought later than planned arrives later") {
  Ordering place;
  TypedWorkbook book = place.workbook("");
  book.type("Shopping", "seat@1", "Tick", tick());
  book.type("Shopping", "seat@1", "Bought on", budgets::make_date(2027, 1, 20));
  CHECK(place.from(book, "2027-01-25") == 0);
  CHECK(place.out.find("bought seat@1, 1 pack, 40.00 EUR, arrives 2027-01-22") != std::string::npos);
}

TEST_CASE("an open order stands in the workbook with its own terms") {
  Ordering place;
  CHECK(place.record({"bought", "lamp", "--on", "2027-01-01"}) == 0);
  TypedWorkbook book = place.workbook("2027-01-01");
  book.type("Shopping", "seat@1", "Tick", tick());
  book.type("Shopping", "delivery:post@1", "Tick", tick());
  CHECK(place.from(book, "2027-01-01") == 0);
  CHECK(place.out.find("bought delivery:post@1, 1 pack, 0.00 EUR") != std::string::npos);
}

TEST_CASE("a changed amount of the build changes no payday that is recorded") {
  BuildText text = one_parcel();
  Ordering place(text);
  CHECK(place.record({"bought", "lamp", "--on", "2027-01-01"}) == 0);
  CHECK(place.plan_says("cash on 2027-01-01 160.00"));
  text.amount = "300.00";
  text.opening = "50.00";
  place.put("bike.build", text.text());
  CHECK(place.plan_says("cash on 2027-01-01 160.00"));
  CHECK(place.plan_says("came to 200.00 EUR when that was recorded"));
  // The next payday brings what the build says by then; what is recorded after it keeps that.
  CHECK(place.record({"counted", "455", "--on", "2027-02-01"}) == 0);
  CHECK(place.record({"remark", "still there", "--on", "2027-03-02"}) == 0);
  CHECK(place.plan_says("cash on 2027-03-02 755.00"));
  text.amount = "10.00";
  place.put("bike.build", text.text());
  CHECK(place.plan_says("cash on 2027-03-02 755.00"));
}

TEST_CASE("a must missed on its last bench day is late that day as on the next") {
  BuildText text = one_parcel();
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "must": true, "by": "2027-02-10",
      "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]})";
  Ordering place(text);
  // Nothing was bought, and what is ordered on the bench day comes two days later.
  for (const char* day : {"2027-02-04", "2027-02-05"}) {
    CHECK(place.run({"plan", "bike.build", "--from", day}) == 0);
    CHECK(place.out.find("Fit the lamp is late: it was to be done by 2027-02-10") != std::string::npos);
  }
  // The day before it is impossible rather than late: it might still be had.
  CHECK(place.run({"plan", "bike.build", "--from", "2027-02-03"}) == 3);
}

TEST_CASE("a must is late when the last bench date before its day has no time") {
  BuildText text = one_parcel();
  text.bench =
      R"("hours": 10, "days_after_payday": 3, "bother": 0, "stages": [{"stage": 2, "hours": 0, "why": "away"}])";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "must": true, "by": "2027-02-10",
      "uses": [{"article": "lamp"}]})";
  Ordering place(text);
  for (const char* day : {"2027-01-05", "2027-02-03", "2027-02-05"}) {
    CHECK(place.run({"plan", "bike.build", "--from", day}) == 0);
    CHECK(place.out.find("Fit the lamp is late") != std::string::npos);
  }
}

TEST_CASE("of a stage whose lines are recorded but bought again it is told which") {
  BuildText text = one_parcel();
  text.jobs = R"("light": {"name": "Fit the lamps", "want": 5, "hours": 1,
    "uses": [{"article": "lamp", "amount": 2}]})";
  Ordering place(text);
  CHECK(place.record({"bought", "lamp@1", "--packs", "1", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"bought", "delivery:post@1", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"bought", "stage:1", "--on", "2027-01-01"}) == 2);
  CHECK(place.err.find("lamp@1 is recorded as bought by entry 1; --again records more of it") !=
        std::string::npos);
  CHECK(place.record({"bought", "stage:1", "--again", "--on", "2027-01-01"}) == 0);
  CHECK(place.out.find("bought lamp@1, 1 pack, 40.00 EUR") != std::string::npos);
}
