#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;

namespace {

const std::string plain = R"("a": {"name": "a", "want": 1, "hours": 1})";

/// What `check` says, without the place in the file (the last line break is cut).
std::string said(const BuildText& text) {
  const build::Build build = text.read();
  std::string all;
  for (build::Diagnostic one : planning::check(build)) {
    one.file.clear();
    one.place = {};
    if (!all.empty()) all += '\n';
    all += build::to_text(one).substr(2);  // ": " of the empty file name
  }
  return all;
}

}  // namespace

TEST_CASE("a sound build gives no diagnostics") { CHECK(said({.jobs = plain}) == ""); }

TEST_CASE("too few listed paydays are told with both numbers") {
  CHECK(said({.paydays = R"({"dates": ["2027-01-01", "2027-02-01", "2027-03-01"]})", .jobs = plain}) ==
        "error: /money/paydays: found 3 paydays, expected 4, as many as money/stages asks for");
}

TEST_CASE("a listed payday that is a holiday is told and used as listed") {
  CHECK(said({.paydays = R"({"dates": ["2027-01-01", "2027-02-01", "2027-03-01", "2027-04-01"],
                           "holidays": ["2027-03-01"]})",
              .jobs = plain}) ==
        "warning: /money/paydays/dates/2: found 2027-03-01, expected a day that is not among the holidays; "
        "it is "
        "used as listed");
  CHECK(said({.paydays = R"({"every_weeks": 4, "from": "2027-01-01", "holidays": ["2027-01-29"]})",
              .jobs = plain}) == "");
}

TEST_CASE("musts that contradict each other are told with names and reasons") {
  CHECK(said({.jobs = R"("a": {"name": "loud pipe", "must": true, "hours": 1, "one_of": "exhaust"},
                         "b": {"name": "quiet pipe", "must": true, "hours": 1, "one_of": "exhaust"})"}) ==
        "warning: /jobs/a/must: found 'a' and 'b', expected musts that can be done, whatever money and hours "
        "there are: loud pipe and quiet pipe are of one choice ('exhaust'): at most one of them is done");
  CHECK(said({.jobs = R"("a": {"name": "rack", "must": true, "hours": 1},
                         "b": {"name": "box", "must": true, "hours": 1})",
              .more = R"(, "clashes": [{"between": ["a", "b"], "why": "they want the same bolts"}])"}) ==
        "warning: /jobs/a/must: found 'a' and 'b', expected musts that can be done, whatever money and hours "
        "there are: rack and box clash: they want the same bolts. No job of the build takes one of the two "
        "off or makes them fit");
  CHECK(said({.jobs = R"("a": {"name": "rack", "must": true, "hours": 1, "by": "2027-02-04", "after": ["b"]},
                         "b": {"name": "box", "want": 1, "hours": 1, "not_before": "2027-03-01"})"}) ==
        "warning: /jobs/a/must: found 'a', expected musts that can be done, whatever money and hours "
        "there are: rack (by 2027-02-04) comes after box, which may not be done before 2027-03-01");
}

TEST_CASE("a must after a job that can never be done is told with what it waits for") {
  const std::string told = said({.jobs = R"("a": {"name": "rack", "must": true, "hours": 1, "after": ["b"]},
                         "b": {"name": "box", "want": 1, "hours": 1, "not_before": "2037-03-01"})"});
  CHECK(
      told.find("rack comes after box, which may not be done before 2037-03-01, after the last bench date") !=
      std::string::npos);
}

TEST_CASE("musts that an adapting job reconciles are not told") {
  CHECK(said({.jobs = R"("a": {"name": "rack", "must": true, "hours": 1},
                         "b": {"name": "box", "must": true, "hours": 1},
                         "c": {"name": "spacer", "want": 0, "hours": 1})",
              .more = R"(, "clashes": [{"between": ["a", "b"], "why": "same bolts", "unless": ["c"]}])"}) ==
        "");
}

TEST_CASE("a bench date on the next payday is told with the longest time that fits") {
  CHECK(said({.paydays = R"({"every_weeks": 2, "from": "2027-01-01"})",
              .bench = R"("hours": 1, "days_after_payday": 14)",
              .jobs = plain}) ==
        "error: /bench/days_after_payday: found 14, expected at most 13: the payday after 2027-01-01 is "
        "2027-01-15");
}

TEST_CASE("an amount after the end of the plan is told to be uncounted") {
  CHECK(said({.money_more = R"(, "extras": [{"date": "2027-04-30", "amount": 5.00, "what": "late"}])",
              .jobs = plain}) ==
        "warning: /money/extras/0/date: found 2027-04-30, expected a day before 2027-04-30, when the plan "
        "ends; this "
        "amount is not counted");
}

TEST_CASE("an amount on the last day of the plan is counted") {
  CHECK(said({.money_more = R"(, "extras": [{"date": "2027-04-29", "amount": 5.00, "what": "late"}])",
              .jobs = plain}) == "");
}

TEST_CASE("other hours are for a stage that there is") {
  build::Build build =
      BuildText{.bench = R"("hours": 10, "days_after_payday": 3, "stages": [{"stage": 4, "hours": 2}])",
                .jobs = plain}
          .read();
  CHECK(test::checked(build) == "");
  build.money.stages = 3;
  CHECK(test::checked(build) ==
        "test.build: error: /bench/stages/0/stage: found 4, expected a stage from 1 to 3\n");
}

TEST_CASE("a day to be done by before the first bench date is an error") {
  CHECK(said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "by": "2027-01-03"})"}) ==
        "error: /jobs/a/by: found 2027-01-03, expected a day from the first bench date, 2027-01-04");
}

TEST_CASE("a must whose earliest day is after the plan is an error, any other job a warning") {
  CHECK(said({.jobs = R"("a": {"name": "a", "must": true, "hours": 1, "not_before": "2027-04-05"})"}) ==
        "error: /jobs/a/not_before: found 2027-04-05, expected a day up to the last bench date, 2027-04-04");
  CHECK(said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "not_before": "2027-04-05"})"}) ==
        "warning: /jobs/a/not_before: found 2027-04-05, expected a day up to the last bench date, "
        "2027-04-04; the job "
        "is left out");
}

TEST_CASE("a window between two bench dates is an error") {
  CHECK(
      said(
          {.jobs =
               R"("a": {"name": "a", "want": 1, "hours": 1, "not_before": "2027-01-05", "by": "2027-02-03"})"}) ==
      "error: /jobs/a/by: found 2027-02-03, expected a bench date between not_before, 2027-01-05, and by");
}

TEST_CASE("a job that can never fit the bench hours counts what it opens, each removal once") {
  BuildText text{.removals = R"("tank": {"name": "tank", "hours_off": 1, "hours_on": 1},
                                "seat": {"name": "seat", "hours_off": 0.5, "hours_on": 0.5, "needs": ["tank"]})",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 7, "removals": ["seat", "tank"]})"};
  CHECK(said(text) == "");
  text.jobs = R"("a": {"name": "a", "want": 1, "hours": 7.05, "removals": ["seat", "tank"]})";
  CHECK(said(text) ==
        "error: /jobs/a/hours: found 10.05 h with what it opens, expected at most 10 h, the longest bench "
        "time of a "
        "stage it may be done in");
}

TEST_CASE("hours are looked for inside the window of the job") {
  CHECK(
      said({.bench =
                R"("hours": 10, "days_after_payday": 3, "stages": [{"stage": 1, "hours": 2, "why": "ill"}])",
            .jobs = R"("a": {"name": "a", "want": 1, "hours": 3, "by": "2027-01-31"})"}) ==
      "error: /jobs/a/hours: found 3 h, expected at most 2 h, the longest bench time of a stage it may be "
      "done in");
}

TEST_CASE("jobs done with each other have to fit one stage together") {
  CHECK(
      said(
          {.jobs =
               R"("a": {"name": "a", "want": 1, "hours": 6, "with": ["b"]}, "b": {"name": "b", "want": 1, "hours": 5})"}) ==
      "error: /jobs/a/hours: found 11 h with what is done with it and what they open, expected at most 10 h, "
      "the "
      "longest bench time of a stage it may be done in");
  CHECK(said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "with": ["b"], "by": "2027-01-31"},
                         "b": {"name": "b", "want": 1, "hours": 1, "not_before": "2027-02-01"})"}) ==
        "error: /jobs/a/with: expected a bench date that suits all jobs done with it");
}

TEST_CASE("an article without an offer needs enough stock") {
  BuildText text{
      .articles = R"("x": {"name": "x", "kind": "part", "unit": "m"})",
      .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "uses": [{"article": "x", "amount": 2.5}]})"};
  CHECK(said(text) ==
        "error: /articles/x: found no offer and none on hand, expected an offer, or 2.5 m on hand, as 'a' "
        "needs");
  text.more = R"(, "on_hand": [{"article": "x", "amount": 2.4}])";
  CHECK(said(text) ==
        "error: /articles/x: found no offer and only 2.4 m on hand, expected an offer, or 2.5 m on hand, as "
        "'a' needs");
  text.more = R"(, "on_hand": [{"article": "x", "amount": 2.5}])";
  CHECK(said(text) == "");
}

TEST_CASE("an article that never arrives in time is a warning") {
  CHECK(
      said(
          {.articles =
               R"("x": {"name": "x", "kind": "part", "offers": [{"supplier": "shop", "price": 1.00, "lead_days": 94}]})",
           .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "uses": [{"article": "x"}]})"}) ==
      "warning: /articles/x: found no offer that arrives by a bench date of the plan, expected a shorter "
      "lead time "
      "or other order days; 'a' is left out");
}

TEST_CASE("a tool that cannot be had is an error") {
  BuildText text{.articles = R"("t": {"name": "t", "kind": "tool"})",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "tools": ["t"]})"};
  CHECK(said(text) ==
        "error: /articles/t: found a tool that cannot be had, expected an offer, a hire price, a borrow "
        "range with a "
        "bench date in it, or an entry in on_hand");
  text.articles = R"("t": {"name": "t", "kind": "tool", "hire": 1.00})";
  CHECK(said(text) == "");
}

TEST_CASE("a torque that no wrench covers is a warning") {
  CHECK(said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1,
                         "torques": [{"on": "axle nut", "value": "100 Nm", "source": "the maker's manual"}]})"}) ==
        "warning: /jobs/a/torques: found 100 Nm on axle nut, expected a torque wrench in the build whose "
        "range covers "
        "it");
}

TEST_CASE("a job and its article have to agree on a mate") {
  CHECK(
      said(
          {.articles = R"("x": {"name": "x", "kind": "part", "mates": {"thread": "M10"},
                             "offers": [{"supplier": "shop", "price": 1.00}]})",
           .jobs =
               R"("a": {"name": "a", "want": 1, "hours": 1, "mates": {"thread": "M8"}, "uses": [{"article": "x"}]})"}) ==
      "error: /jobs/a/uses: found thread M10 of 'x', expected thread M8, as the job itself has");
}

TEST_CASE("things on the machine from the start have to agree") {
  CHECK(
      said(
          {.jobs = plain,
           .more =
               R"(, "fitted": {"p": {"name": "p", "mates": {"thread": "M8"}}, "q": {"name": "q", "mates": {"thread": "M10"}}})"}) ==
      "error: /fitted/q/mates: found thread M10, expected thread M8, as 'p' has; both are on the machine "
      "from the "
      "start");
}

TEST_CASE("things on the machine from the start must not clash") {
  CHECK(said({.jobs = plain, .more = R"(, "fitted": {"p": {"name": "p"}, "q": {"name": "q"}},
                         "clashes": [{"between": ["p", "q"], "why": "they touch"}])"}) ==
        "error: /clashes/0/between: found 'p' and 'q', expected things that are not both on the machine from "
        "the "
        "start");
}

TEST_CASE("a cycle of jobs is told as a path") {
  const std::string all = said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "after": ["b"]},
                                          "b": {"name": "b", "want": 1, "hours": 1, "after": ["a"]})"});
  CHECK(all.find("error: /jobs/a/after") == 0);
  CHECK(all.find("a needs b needs a") != std::string::npos);
}

TEST_CASE("a silenced rule that does not exist is told") {
  CHECK(said({.jobs = plain, .more = R"(, "silence": [{"rule": "no-such-rule", "because": "x"}])"})
            .find("/silence/0/rule: found \"no-such-rule\"") != std::string::npos);
}

TEST_CASE("amounts too large together to plan with are refused") {
  BuildText text{.amount = "9999999999.00",
                 .stages = "120",
                 .paydays = R"({"every_weeks": 4, "from": "2027-01-01"})",
                 .jobs = plain};
  CHECK(said(text).find("amounts, dates and hours small enough to plan with") != std::string::npos);
  text.amount = "999999999.00";
  CHECK(said(text) == "");
}

TEST_CASE("errors come before warnings and in file order") {
  const std::string all =
      said({.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "not_before": "2027-09-01"},
                                          "b": {"name": "b", "want": 1, "hours": 1, "by": "2026-01-01"},
                                          "c": {"name": "c", "want": 1, "hours": 50})"});
  CHECK(all.find("/jobs/b/by") < all.find("/jobs/c/hours"));
  CHECK(all.find("/jobs/c/hours") < all.find("/jobs/a/not_before"));
}
