// The ledger: deposits, refunds, things that go and work that is begun; and the year looked back on.
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth, 10 h.
BuildText lamp_bolt_and_seat() {
  BuildText text;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5, "lead_days": 2})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "bolt": {"name": "Bolt", "kind": "consumable", "offers": [{"supplier": "shop", "price": 2}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 4, "uses": [{"article": "lamp"},
      {"article": "bolt"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "cost": 7, "uses": [{"article": "seat"},
      {"article": "bolt"}]})";
  return text;
}

struct Ledger : RecordPlace {
  Ledger() { put("bike.build", lamp_bolt_and_seat().text()); }
  bool plan_says(const std::string& sentence) {
    CHECK(run({"plan", "bike.build"}) == 0);
    return told(sentence);
  }
};

}  // namespace

TEST_CASE("a deposit is paid on its day and the rest on its own") {
  Ledger books;
  CHECK(books.record({"deposit", "lamp@1", "20", "--on", "2027-01-01", "--rest-on", "2027-01-20"}) == 0);
  CHECK(books.out ==
        "   1  2027-01-01  bought lamp@1, 1 pack, 20.00 EUR, 40.00 EUR still to be paid on 2027-01-20\n"
        "Recorded in bike.record.\n");
  CHECK(books.plan_says("cash on 2027-01-01 180.00"));
  CHECK(books.told("Of lamp@1, 40.00 EUR are still to be paid, on 2027-01-20."));
  CHECK(books.record({"balance", "lamp@1", "41", "--on", "2027-01-21"}) == 0);
  CHECK(books.out.starts_with("   2  2027-01-21  paid the rest of lamp@1: 41.00 EUR\n"));
  CHECK(books.plan_says("cash on 2027-01-21 139.00"));
  CHECK_FALSE(books.told("still to be paid"));
  CHECK(books.record({"balance", "lamp@1", "--on", "2027-01-22"}) == 2);
  CHECK(books.err == "fettlefund: lamp@1 has nothing left to be paid; `paid` corrects an amount\n");
  CHECK(books.record({"deposit", "bolt@1", "500", "--on", "2027-01-22"}) == 2);
}

TEST_CASE("a deposit and its rest are one price in the year") {
  Ledger books;
  CHECK(books.record({"deposit", "lamp@1", "20", "--on", "2027-01-01", "--rest-on", "2027-01-20"}) == 0);
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("Paid for what was bought                 -20.00\n"));
  CHECK(books.run({"year", "bike.build", "--prices"}) == 0);
  CHECK(books.told("Every price paid"));  // 40.00 are still to be paid: it costs the 60.00 of its offer
  CHECK(books.record({"balance", "lamp@1", "41", "--on", "2027-01-21"}) == 0);
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("Paid for what was bought                 -61.00\n"));
  CHECK(books.told("Corner Shop                               60.00        61.00         1.00\n"));
  CHECK_FALSE(books.told("Went out besides"));
  CHECK(books.told("Cash on 2027-01-21                       139.00\n"));
  CHECK(books.run({"year", "bike.build", "--prices"}) == 0);
  CHECK(books.told("61.00"));
}

TEST_CASE("a refund comes on its own day after a count") {
  Ledger books;
  CHECK(books.record({"bought", "lamp@1", "--on", "2027-01-01"}) == 0);
  CHECK(books.record({"counted", "140", "--on", "2027-01-02"}) == 0);
  CHECK(books.record({"refund", "lamp@1", "12.50", "--on", "2027-01-10"}) == 0);
  CHECK(books.out.starts_with("   3  2027-01-10  came in 12.50 EUR: refund for lamp@1\n"));
  CHECK(books.plan_says("cash on 2027-01-10 152.50"));
  CHECK(books.record({"refund", "lamb@1", "1"}) == 2);
  CHECK(books.told("did you mean 'lamp@1'?"));
}

TEST_CASE("what is sent back is bought again and its money is there on its day") {
  Ledger books;
  CHECK(books.record({"bought", "lamp@1", "--on", "2027-01-01"}) == 0);
  CHECK(books.plan_says("cash on 2027-01-01 140.00"));
  CHECK_FALSE(books.told("] 1 Lamp"));
  CHECK(books.record({"sent-back", "lamp", "--back", "55", "--on", "2027-01-06"}) == 0);
  CHECK(books.out.starts_with("   2  2027-01-06  sent back 1 pack of lamp, 55.00 EUR came back\n"));
  CHECK(books.plan_says("cash on 2027-01-06 195.00"));
  CHECK(books.told("] 1 Lamp"));
  CHECK(books.record({"bought", "lamp@1", "--on", "2027-02-01"}) == 0);  // no second purchase by mistake
  CHECK(books.record({"lost", "lamb"}) == 2);
}

TEST_CASE("what never came is not waited for") {
  Ledger books;
  CHECK(books.record({"bought", "lamp@1", "--on", "2027-01-01", "--arrives", "2027-03-20"}) == 0);
  CHECK(books.plan_says("no other is bought before"));
  CHECK(books.record({"never-came", "lamp@1", "--on", "2027-02-01"}) == 0);
  CHECK(books.plan_says("] 1 Lamp"));
  CHECK_FALSE(books.told("on its way"));
}

TEST_CASE("a job that is begun has less left and its hours are gone from the stage") {
  Ledger books;
  CHECK(books.record({"begun", "light", "--hours", "3", "--on", "2027-01-02"}) == 0);
  CHECK(books.out.starts_with("   1  2027-01-02  begun light, 3 h so far this time\n"));
  CHECK(books.plan_says("Of the bench time of stage 1, 3 h are used already."));
  CHECK(books.record({"begun", "light", "--hours", "1", "--rest", "2.5", "--on", "2027-01-03"}) == 0);
  CHECK(books.plan_says("Of the bench time of stage 1, 4 h are used already."));
  CHECK(books.record({"begun", "light", "--on", "2027-01-03"}) == 2);
}

TEST_CASE("a job that is given up leaves the plan with the reason") {
  Ledger books;
  CHECK(books.record({"given-up", "light", "--on", "2027-01-02"}) == 0);
  CHECK(books.plan_says("it was given up on 2027-01-02"));
  CHECK_FALSE(books.told("] 1 Lamp"));
  CHECK(books.record({"fitted", "light", "--on", "2027-01-03"}) == 0);
  CHECK(books.record({"given-up", "light", "--on", "2027-01-03"}) == 2);
}

TEST_CASE("a year tells planned against paid by supplier, kind, stage and job after the last bench date") {
  Ledger books;
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("Nothing is recorded yet."));
  REQUIRE(books.record({"bought", "lamp=58", "--on", "2027-01-01"}) == 0);
  REQUIRE(books.record({"bought", "seat@2=149", "delivery:post@2=5", "fee:sit@2=8", "--on", "2027-02-01"}) ==
          0);
  REQUIRE(books.record({"in", "30", "old lamp sold", "--on", "2027-02-02"}) == 0);
  REQUIRE(books.record({"fitted", "sit", "--hours", "3", "--on", "2027-02-04"}) == 0);
  REQUIRE(books.record({"counted", "110", "--on", "2027-02-05"}) == 0);
  REQUIRE(books.record({"remark", "the end", "--on", "2027-06-01"}) == 0);
  CHECK(books.run({"plan", "bike.build"}) == 2);
  REQUIRE(books.run({"year", "bike.build"}) == 0);
  for (const char* line : {
           "test build: planned and paid up to 2027-06-01\n",
           // 100.00 and four paydays; 30.00 came; 58 + 149 + 5 + 8 paid; the count found 0.00 of difference
           "  Opening cash, income, dated money        500.00\n",
           "  Came in besides                           30.00\n",
           "  Paid for what was bought                -220.00\n",
           "  Found by counting on 2027-02-05            0.00\n",
           "  Cash on 2027-06-01                       310.00\n",
           "  Corner Shop                               60.00        58.00        -2.00\n",
           "  Post Parts                               155.00       154.00        -1.00\n",
           "  Parts                                    210.00       207.00        -3.00\n",
           "  Fees                                       7.00         8.00         1.00\n",
           "  Stage 2, payday 2027-02-01               162.00       162.00         0.00\n",
           "  Fit the seat                             157.00       157.00         0.00\n",
           "  Fit the seat                            2 h      3 h   2027-02-04\n",
           "  Fit the lamp                            4 h            not yet\n",
           "  Lamp from Corner Shop: 58.00 a pack, likely 60.00\n",
       }) {
    CAPTURE(line);
    CHECK(books.told(line));
  }
}

TEST_CASE("what several counts found together is not told as found by the last") {
  Ledger books;
  CHECK(books.record({"counted", "190", "--on", "2027-01-01"}) == 0);
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("  Found by counting on 2027-01-01          -10.00\n"));
  CHECK(books.record({"counted", "187", "--on", "2027-01-03"}) == 0);
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("  Found by 2 counts to 2027-01-03          -13.00\n"));
  CHECK(books.record({"undo", "2", "--on", "2027-01-03"}) == 0);
  CHECK(books.run({"year", "bike.build"}) == 0);
  CHECK(books.told("  Found by counting on 2027-01-01          -10.00\n"));
}
