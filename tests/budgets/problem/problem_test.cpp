#include "budgets/problem/problem.hpp"

#include <functional>
#include <stdexcept>
#include <string>

#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

/// A problem with one of everything, valid.
ProblemData one_of_everything() {
  ProblemData data = plain_stages(3);
  data.suppliers = {{cents(5), cents(50)}};
  data.articles = {{1000, 30, {{500, Date{20040}}}, {{0, cents(7), 3, {}, {}}}}};
  data.tools = {{{1, 0, 0}, {{0, cents(20), 0, {}, {}}}, cents(4)}};
  data.removals = {{cents(0), 10, {}, {{0, 1000}}, {0}}, {cents(1), 20, {0}, {}, {}}};
  data.jobs = {plain_job(data, 3), plain_job(data, 4), plain_job(data, 5)};
  data.jobs[1].after = {0};
  data.jobs[1].removals = {1};
  data.jobs[2].needs = {{0, 250}};
  data.carriers = {{-1, {0}, {{1, 2}}}, {0, {}, {{1, 3}}}};
  data.clashes = {{0, 1, {2}}};
  data.one_of = {{0, 2}};
  data.together = {{0, 1}};
  return data;
}

std::string refusal_after(const std::function<void(ProblemData&)>& spoil) {
  ProblemData data = one_of_everything();
  spoil(data);
  return refusal(data);
}

}  // namespace

TEST_CASE("a problem with one of everything is accepted and every random problem too") {
  CHECK(refusal(one_of_everything()) == "accepted");
  for (int seed = 0; seed < random_cases(500); ++seed) {
    CAPTURE(seed);
    REQUIRE(refusal(random_problem(seed, 8, 5)) == "accepted");
  }
}

TEST_CASE("a broken field is refused with its name and index") {
  const struct {
    std::function<void(ProblemData&)> spoil;
    const char* message;
  } cases[] = {
      {[](ProblemData& d) { d.stages.clear(); }, "stages: there must be at least one"},
      {[](ProblemData& d) { d.stages[1].bench = Date{20029}; },
       "stages[1].bench: is before the stage's payday"},
      {[](ProblemData& d) { d.stages[1].payday = Date{20010}; },
       "stages[1].payday: is not after the bench date before"},
      {[](ProblemData& d) { d.stages[2].minutes = -1; },
       "stages[2].minutes: -1 is outside 0 to 1000000000000"},
      {[](ProblemData& d) { d.allowance_bp = 10001; }, "allowance_bp: 10001 is outside 0 to 10000"},
      {[](ProblemData& d) { d.bother = -1; }, "bother: -1 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.jobs[1].worth.pop_back(); }, "jobs[1].worth: has 2 entries for 3 stages"},
      {[](ProblemData& d) { d.jobs[1].worth[2] = -4; },
       "jobs[1].worth[2]: -4 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.jobs[0].cost = cents(-1); },
       "jobs[0].cost: -1 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.jobs[0].removals = {2}; }, "jobs[0].removals[0]: 2 is outside 0 to 1"},
      {[](ProblemData& d) {
         d.jobs[1].after = {0, 9};
       },
       "jobs[1].after[1]: 9 is outside 0 to 2"},
      {[](ProblemData& d) { d.jobs[2].needs[0].article = 1; },
       "jobs[2].needs[0].article: 1 is outside 0 to 0"},
      {[](ProblemData& d) { d.jobs[2].needs[0].amount = 0; },
       "jobs[2].needs[0].amount: 0 is outside 1 to 1000000000000000"},
      {[](ProblemData& d) { d.jobs[2].tools = {-1}; }, "jobs[2].tools[0]: -1 is outside 0 to 0"},
      {[](ProblemData& d) { d.jobs[2].earliest = 4; }, "jobs[2].earliest: 4 is outside 0 to 3"},
      {[](ProblemData& d) { d.jobs[2].latest = 3; }, "jobs[2].latest: 3 is outside -1 to 2"},
      {[](ProblemData& d) { d.removals[1].needs = {5}; }, "removals[1].needs[0]: 5 is outside 0 to 1"},
      {[](ProblemData& d) { d.removals[0].one_use[0].article = 3; },
       "removals[0].one_use[0].article: 3 is outside 0 to 0"},
      {[](ProblemData& d) {
         d.stages[1].last = d.stages[1].bench + 2;
         d.stages[1].marks = {{d.stages[1].bench, 10}, {d.stages[1].bench + 2, 20}};
       },
       "stages[1].marks[1].day: is not before the stage's last day"},
      {[](ProblemData& d) { d.suppliers[0].delivery = cents(-5); },
       "suppliers[0].delivery: -5 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.suppliers[0].free_from = cents(-2); },
       "suppliers[0].free_from: -2 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.articles[0].pack = 0; },
       "articles[0].pack: 0 is outside 1 to 1000000000000000"},
      {[](ProblemData& d) { d.articles[0].keeping_days = -1; },
       "articles[0].keeping_days: -1 is outside 0 to 1000000"},
      {[](ProblemData& d) { d.articles[0].on_hand[0].amount = 0; },
       "articles[0].on_hand[0].amount: 0 is outside 1 to 1000000000000000"},
      {[](ProblemData& d) { d.articles[0].offers[0].supplier = 1; },
       "articles[0].offers[0].supplier: 1 is outside 0 to 0"},
      {[](ProblemData& d) { d.articles[0].offers[0].lead_days = -3; },
       "articles[0].offers[0].lead_days: -3 is outside 0 to 1000000"},
      {[](ProblemData& d) { d.tools[0].free = {1}; }, "tools[0].free: has 1 entries for 3 stages"},
      {[](ProblemData& d) { d.tools[0].hire = cents(-1); },
       "tools[0].hire: -1 is outside 0 to 100000000000000"},
      {[](ProblemData& d) { d.carriers[1].brought_by = 3; }, "carriers[1].brought_by: 3 is outside 0 to 2"},
      {[](ProblemData& d) { d.clashes[0].b = 0; }, "clashes[0].b: is the same carrier as a"},
      {[](ProblemData& d) {
         d.jobs[1].any_tools = {{0}, {}};
       },
       "jobs[1].any_tools[1]: is empty"},
      {[](ProblemData& d) {
         d.renewals = {{{1, 0}, {{1}}}};
       },
       "renewals[0].worth: has not one entry a job"},
      {[](ProblemData& d) {
         d.one_of[0] = {1, 1};
       },
       "one_of[0]: job 1 is listed twice"},
      {[](ProblemData& d) {
         d.together[0] = {0, 8};
       },
       "together[0][1]: 8 is outside 0 to 2"},
      {[](ProblemData& d) { d.clashes[0].a = 0, d.carriers.clear(); },
       "clashes[0].a: 0 names something in an empty list"},
  };
  for (const auto& [spoil, message] : cases) CHECK(refusal_after(spoil) == message);
}

TEST_CASE("a cycle is refused and shown as a path") {
  CHECK(refusal_after([](ProblemData& d) { d.jobs[0].after = {2}, d.jobs[2].after = {1}; }) ==
        "jobs.after: cycle 0 -> 2 -> 1 -> 0");
  CHECK(refusal_after([](ProblemData& d) { d.jobs[2].after = {2}; }) == "jobs.after: cycle 2 -> 2");
  CHECK(refusal_after([](ProblemData& d) { d.removals[0].needs = {1}; }) ==
        "removals.needs: cycle 0 -> 1 -> 0");
}

TEST_CASE("amounts whose sums could leave the range are refused") {
  const auto most = std::int64_t{100'000'000'000'000};
  CHECK(refusal_after([&](ProblemData& d) { d.jobs[0].cost = d.jobs[1].cost = cents(most / 2 + 1); }) ==
        "money spent: could sum to more than 100000000000000");
  // A delivery and a pack more in each of three stages.
  CHECK(refusal_after([&](ProblemData& d) { d.suppliers[0].delivery = cents(most / 3); }) ==
        "money spent: could sum to more than 100000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.articles[0].offers[0].price = cents(most / 5); }) ==
        "money spent: could sum to more than 100000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.opening = cents(-most); }) ==
        "opening and cash_in: could sum to more than 100000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.jobs[0].worth[0] = d.jobs[1].worth[1] = most / 2 + 1; }) ==
        "worth and bother: could sum to more than 100000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.bother = most; }) ==
        "worth and bother: could sum to more than 100000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.removals[0].minutes = 400'000'000'000; }) ==
        "minutes: could sum to more than 1000000000000");
  CHECK(refusal_after([&](ProblemData& d) { d.jobs[2].needs[0].amount = 1'000'000'000'000'000; }) ==
        "articles: could sum to more than 1000000000000000");
}

TEST_CASE("what a job opens is closed over what removals need") {
  ProblemData data = one_of_everything();
  data.removals.push_back({cents(0), 1, {1}, {}, {}});
  data.jobs[0].removals = {2, 1};
  const Problem problem(data);
  CHECK(problem.opened_by(0) == std::vector{0, 1, 2});
  CHECK(problem.opened_by(1) == std::vector{0, 1});
  CHECK(problem.opened_by(2).empty());
}

TEST_CASE("a removal needed by one that another needs is opened with it") {
  ProblemData data = one_of_everything();
  data.removals.push_back({cents(0), 1, {1}, {}, {}});
  data.jobs[0].removals = {2};
  CHECK(Problem(data).opened_by(0) == std::vector{0, 1, 2});
}

TEST_CASE("the order points backwards and keeps indices among equals") {
  ProblemData data = one_of_everything();
  data.jobs[0].after = {2};
  const Problem problem(data);
  CHECK(problem.order() == std::vector{2, 0, 1});
  CHECK(problem.latest(0) == 2);
}

TEST_CASE("an offer is ordered on the latest payday that still brings it in time") {
  const ProblemData data = plain_stages(3);  // paydays 20000, 20030, 20060; bench 10 days later
  const auto stage = [&](int lead, std::optional<Date> from, std::optional<Date> until, int t) {
    return order_stage(data, Offer{0, cents(1), lead, from, until}, t);
  };
  CHECK(stage(10, {}, {}, 2) == 2);
  CHECK(stage(11, {}, {}, 2) == 1);
  CHECK(stage(40, {}, {}, 2) == 1);
  CHECK(stage(41, {}, {}, 2) == 0);
  CHECK(stage(71, {}, {}, 2) == -1);
  CHECK(stage(11, {}, {}, 0) == -1);
  CHECK(stage(0, {}, Date{20030}, 2) == 1);
  CHECK(stage(0, {}, Date{20029}, 2) == 0);
  CHECK(stage(0, {}, Date{19999}, 2) == -1);
  CHECK(stage(11, Date{20030}, {}, 2) == 1);
  CHECK(stage(11, Date{20031}, {}, 2) == -1);
  CHECK(stage(0, Date{20060}, {}, 2) == 2);
}

TEST_CASE("an offer can be ordered from its first day on, that day too") {
  const ProblemData data = plain_stages(3);
  const auto first = [&](int lead, std::optional<Date> from, int t) {
    return first_order_stage(data, Offer{0, cents(1), lead, from, {}}, t);
  };
  CHECK(first(0, {}, 2) == 0);
  CHECK(first(0, Date{20030}, 2) == 1);
  CHECK(first(0, Date{20031}, 2) == 2);
  CHECK(first(0, Date{20061}, 2) == -1);
  CHECK(first(11, Date{20030}, 2) == 1);
}

TEST_CASE("a renewal is worth what the best job of its first stage earns, whatever comes later") {
  const Renewal renewal{{0, 1, 2}, {{9, 8}, {5, 4}, {7, 6}}};
  CHECK(worth_of(renewal, {1, 0, 0}) == 7);
  CHECK(worth_of(renewal, {1, 0, -1}) == 5);
  CHECK(worth_of(renewal, {0, 1, 0}) == 9);
  CHECK(worth_of(renewal, {-1, 1, 1}) == 6);
  CHECK(worth_of(renewal, {-1, -1, -1}) == 0);
}

TEST_CASE("a supplier that is free from nothing on charges no delivery") {
  CHECK(charges_delivery({cents(5), {}}));
  CHECK(charges_delivery({cents(5), cents(1)}));
  CHECK_FALSE(charges_delivery({cents(5), cents(0)}));
  CHECK_FALSE(charges_delivery({cents(0), {}}));
}
