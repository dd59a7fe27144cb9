#include "lib/progress/past.hpp"

#include "lib/progress/replan.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::Past;
using planning::PastJob;
using planning::PastKind;
using test::BuildText;
using test::cents;
using test::day;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
build::Build lamp_and_seat(const std::string& amount = "100.00") {
  BuildText text;
  text.amount = amount;
  text.suppliers = R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2, "uses": [{"article": "seat"}]})";
  return text.read();
}

const planning::PastPurchase& purchase(const Past& past, const std::string& key) {
  for (const auto& one : past.purchases)
    if (one.key == key) return one;
  FAIL("no purchase " << key);
  return past.purchases.front();
}

}  // namespace

TEST_CASE("each stage gone by tells what came in and was planned and paid and left in it") {
  const build::Build build = lamp_and_seat();
  const log::Log log =
      test::log_of({{day("2027-01-01"), log::Bought{"lamp@1", 1, cents(6250), {}}},
                    {day("2027-01-03"), log::Moved{cents(1800), "old lamp sold"}},
                    {day("2027-01-04"), log::Fitted{"light", 90}},
                    {day("2027-01-05"), log::Bought{"seat@2", 1, cents(15000), day("2027-02-20")}},
                    {day("2027-02-01"), log::Bought{"delivery:post@2", 1, cents(500), {}}}});
  const Past past = planning::past_of(build, log, day("2027-02-02"));
  CHECK(past.opening == cents(10000));
  REQUIRE(past.stages.size() == 2);
  const auto& first = past.stages[0];
  CHECK(first.over);
  CHECK(first.money_in == cents(10000 + 1800));
  CHECK(first.planned == cents(6000));
  CHECK(first.paid == cents(6250));
  CHECK(first.left == cents(10000 + 10000 + 1800 - 6250));
  CHECK(first.minutes_planned == 60);
  CHECK(first.minutes_taken == 90);
  CHECK(first.minutes_limit == 600);
  CHECK(first.remarks == std::vector<std::string>{"old lamp sold: 18.00 on 2027-01-03."});
  const auto& second = past.stages[1];  // from the day after the first bench date on
  CHECK_FALSE(second.over);
  CHECK(second.planned == cents(15500));
  CHECK(second.paid == cents(15500));
  CHECK(second.left == cents(15550 + 10000 - 15500));
  CHECK(second.left ==
        planning::cash_on(build, planning::history_of(log, day("2027-02-02")), day("2027-02-02")));
  CHECK(purchase(past, "lamp@1").supplier == "Corner Shop");
  CHECK(purchase(past, "lamp@1").kind == PastKind::part);
  CHECK(purchase(past, "lamp@1").state == "");
  CHECK(purchase(past, "seat@2").state == "on its way, due 2027-02-20");
  CHECK(purchase(past, "delivery:post@2").supplier == "Post Parts");
  CHECK(purchase(past, "delivery:post@2").name == "Delivery");
  REQUIRE(past.jobs.size() == 1);
  CHECK(past.jobs[0].name == "Fit the lamp");
  CHECK(past.jobs[0].stage == 1);
}

TEST_CASE("a stage is under way on its bench date and over on the day after") {
  const build::Build build = lamp_and_seat();
  CHECK_FALSE(planning::past_of(build, test::log_of({}), day("2027-01-04")).stages[0].over);
  CHECK(planning::past_of(build, test::log_of({}), day("2027-01-05")).stages[0].over);
}

TEST_CASE("what came in stays as it was recorded when the build file is changed") {
  const log::Log log = test::log_of({{day("2027-01-02"), log::Remark{"", "begun"}, cents(20000)},
                                     {day("2027-02-02"), log::Remark{"", "going on"}, cents(30000)}});
  const Past past = planning::past_of(lamp_and_seat("250.00"), log, day("2027-02-02"));
  CHECK(past.stages[0].money_in == cents(10000));
  CHECK(past.stages[0].remarks == std::vector<std::string>{"begun"});
  CHECK(past.stages[1].money_in == cents(10000));
  CHECK(past.stages[1].left == cents(30000));
}

TEST_CASE("what counting found belongs to the stage of the count") {
  const build::Build build = lamp_and_seat();
  const log::Log log = test::log_of({{day("2027-01-02"), log::Counted{cents(19000)}},
                                     {day("2027-01-03"), log::Bought{"lamp@1", 1, cents(6000), {}}},
                                     {day("2027-02-02"), log::Counted{cents(23300)}},
                                     {day("2027-02-02"), log::Bought{"lamp@2", 1, cents(100), {}}},
                                     {day("2027-02-03"), log::Counted{cents(23200)}}});
  const Past past = planning::past_of(build, log, day("2027-02-04"));
  CHECK(past.stages[0].money_in == cents(10000 - 1000));
  CHECK(past.stages[0].left == cents(13000));
  CHECK(past.stages[0].remarks ==
        std::vector<std::string>{"Counted on 2027-01-02: 10.00 less than reckoned."});
  CHECK(past.stages[1].money_in == cents(10000 + 300));
  CHECK(past.stages[1].left == cents(23200));
  CHECK(past.stages[1].remarks == std::vector<std::string>{"Counted on 2027-02-02: 3.00 more than reckoned.",
                                                           "Counted on 2027-02-03: as reckoned."});
}

TEST_CASE("the states of what was bought and of jobs are told in words") {
  const build::Build build = lamp_and_seat();
  const log::Log log =
      test::log_of({{day("2027-01-01"), log::Bought{"lamp@1", 3, cents(18000), day("2027-01-03")}},
                    {day("2027-01-02"), log::Bought{"seat@1", 1, cents(5000), day("2027-03-01"), "post",
                                                    cents(10000), day("2027-02-20")}},
                    {day("2027-01-04"), log::Gone{"lamp", 2, "sent-back", cents(12000)}},
                    {day("2027-01-04"), log::Begun{"sit", 45, 75}},
                    {day("2027-01-04"), log::GivenUp{"light"}},
                    {day("2027-01-04"), log::Remark{"lamp@1", "cracked glass"}},
                    {day("2027-01-04"), log::Remark{"light", "too dear"}},
                    {day("2027-01-04"), log::Bought{"besides:3:abc", 1, cents(250), {}}},
                    {day("2027-01-04"), log::Remark{"besides:3:abc", "sandpaper, Corner Shop"}}});
  Past past = planning::past_of(build, log, day("2027-01-10"));
  CHECK(purchase(past, "lamp@1").state == "2 of 3 sent back; was due 2027-01-03, taken as arrived");
  CHECK(purchase(past, "lamp@1").remarks == std::vector<std::string>{"cracked glass"});
  CHECK(purchase(past, "seat@1").state ==
        "on its way, due 2027-03-01; 100.00 still to be paid on 2027-02-20");
  CHECK(purchase(past, "besides:3:abc").name == "sandpaper, Corner Shop");
  CHECK(purchase(past, "besides:3:abc").remarks.empty());
  CHECK(past.stages[0].remarks == std::vector<std::string>{"sent-back lamp: 120.00 on 2027-01-04."});
  REQUIRE(past.jobs.size() == 2);
  CHECK(past.jobs[0].state == PastJob::State::begun);
  CHECK(past.jobs[1].state == PastJob::State::given_up);
  CHECK(past.jobs[1].remarks == std::vector<std::string>{"too dear"});
  // the rest of the deposit is a payment of its own, of the same kind
  log::Log later = log;
  later.entries.push_back({10, day("2027-02-20"), log::Balance{"seat@1", cents(10000)}, {}});
  past = planning::past_of(build, later, day("2027-02-20"));
  CHECK(past.purchases.back().name == "Rest of Seat");
  CHECK(past.purchases.back().kind == PastKind::part);
  CHECK(past.purchases.back().paid == cents(10000));
  CHECK(past.stages.back().left ==
        planning::cash_on(build, planning::history_of(later, day("2027-02-20")), day("2027-02-20")));
}

TEST_CASE("what is gone is of the purchase that is named, and what has arrived is there from that day") {
  const build::Build build = lamp_and_seat();
  log::Log log = test::log_of({{day("2027-01-01"), log::Bought{"lamp@1", 1, cents(6000), {}}},
                               {day("2027-01-02"), log::Bought{"lamp@2", 1, cents(6000), day("2027-03-01")}},
                               {day("2027-01-03"), log::Gone{"lamp", 1, "broken", {}, "lamp@1"}},
                               {day("2027-01-20"), log::Arrives{"lamp@2", day("2027-01-20")}}});
  Past past = planning::past_of(build, log, day("2027-01-25"));
  CHECK(purchase(past, "lamp@1").state == "broken");
  CHECK(purchase(past, "lamp@1").packs_left == 0);
  CHECK(purchase(past, "lamp@2").state == "arrived 2027-01-20");
  CHECK(planning::history_of(log, day("2027-01-25")).bought[1].arrives == day("2027-01-20"));
  log.entries[2].event = log::Gone{"lamp", 1, "broken"};  // of what came last
  past = planning::past_of(build, log, day("2027-01-25"));
  CHECK(purchase(past, "lamp@1").state == "");
  CHECK(purchase(past, "lamp@2").state == "broken");
}
