#include "lib/staging/stages.hpp"

#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::make_date;
using budgets::Money;
using planning::calendar_of;
using test::BuildText;

TEST_CASE("the plan ends on the payday after the last one by the rule") {
  const build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"}.read();
  const planning::Calendar calendar = calendar_of(build.money);
  REQUIRE(calendar.paydays.size() == 4);
  CHECK(calendar.paydays.back() == make_date(2027, 4, 1));
  CHECK(calendar.end == make_date(2027, 4, 30));  // 1 May 2027 is a Saturday
}

TEST_CASE("listed paydays end with the gap before the last one repeated") {
  build::MoneyPlan money;
  money.stages = 2;
  money.rule = budgets::ListedDays{{make_date(2027, 1, 1), make_date(2027, 1, 21)}};
  CHECK(calendar_of(money).end == make_date(2027, 2, 10));
  money.stages = 1;
  CHECK(calendar_of(money).end == make_date(2027, 1, 21));
  money.rule = budgets::ListedDays{{make_date(2027, 1, 1)}};
  CHECK(calendar_of(money).end == make_date(2027, 1, 31));
}

TEST_CASE("money dated after the previous payday and up to this one comes in with this one") {
  BuildText text{.money_more = R"(, "extras": [
      {"date": "2026-06-01", "amount": 1.00, "what": "early"}, {"date": "2027-01-01", "amount": 2.00, "what": "on it"},
      {"date": "2027-01-02", "amount": 4.00, "what": "after"}, {"date": "2027-02-01", "amount": 8.00, "what": "next"}])",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const build::Build build = text.read();
  const auto stages = planning::stages_of(build, calendar_of(build.money));
  CHECK(stages[0].cash_in == Money::of_minor(10300));
  CHECK(stages[1].cash_in == Money::of_minor(11200));
  CHECK(stages[2].cash_in == Money::of_minor(10000));
}

TEST_CASE("bills before the next payday raise what must be kept") {
  BuildText text{.keep_back = "10.00",
                 .money_more = R"(, "extras": [
      {"date": "2027-01-05", "amount": -30.00, "what": "bill"}, {"date": "2027-01-10", "amount": 50.00, "what": "gift"},
      {"date": "2027-01-12", "amount": -40.00, "what": "bill"}, {"date": "2027-04-10", "amount": -7.00, "what": "late bill"},
      {"date": "2027-02-01", "amount": -99.00, "what": "bill on a payday"}])",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const build::Build build = text.read();
  const auto stages = planning::stages_of(build, calendar_of(build.money));
  CHECK(stages[0].floor == Money::of_minor(4000));  // 30.00 is the deepest: 30, then 20 up, then 20 down
  CHECK(stages[1].floor == Money::of_minor(1000));
  CHECK(stages[3].floor == Money::of_minor(1700));
  CHECK(stages[1].cash_in == Money::of_minor(10000 - 3000 + 5000 - 4000 - 9900));
}

TEST_CASE("bills and gifts of one day are taken together") {
  BuildText text{.money_more = R"(, "extras": [
      {"date": "2027-01-05", "amount": -30.00, "what": "bill"}, {"date": "2027-01-05", "amount": 20.00, "what": "gift"}])",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const build::Build build = text.read();
  CHECK(planning::bills_before_next(build.money, calendar_of(build.money), 0) == Money::of_minor(1000));
}

TEST_CASE("hours of a stage follow its exception") {
  BuildText text{
      .bench = R"("hours": 10, "days_after_payday": 3, "stages": [{"stage": 2, "hours": 0, "why": "away"}])",
      .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const build::Build build = text.read();
  CHECK(planning::bench_minutes(build.bench, 0) == 600);
  CHECK(planning::bench_minutes(build.bench, 1) == 0);
}

TEST_CASE("a plan that begins on its payday has had that day's money already") {
  build::MoneyPlan money;
  money.stages = 2;
  money.rule = budgets::ListedDays{{make_date(2027, 1, 1), make_date(2027, 1, 21)}};
  money.amount = Money::of_minor(100);
  money.from = make_date(2027, 1, 1);
  const planning::Calendar paid = calendar_of(money);
  CHECK(paid.first_is_paid);
  CHECK(planning::payday_amount(money, paid, 0) == Money());
  CHECK(planning::payday_amount(money, paid, 1) == Money::of_minor(100));
  money.from = make_date(2026, 12, 31);
  CHECK_FALSE(calendar_of(money).first_is_paid);
}

TEST_CASE("a free day has no session, but for one of its own date") {
  build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"}.read();
  const auto calendar = calendar_of(build.money);
  const budgets::Date friday = make_date(2027, 1, 8), next = make_date(2027, 1, 15);
  build.bench.days_after_payday = 0;
  build.bench.sessions = {{4, {}, 60}};
  REQUIRE(planning::weekday(friday) == 4);
  const auto first = [&] { return planning::bench_time(build, calendar, 0).first; };
  CHECK(first() == make_date(2027, 1, 1));
  build.bench.no_sessions = {make_date(2027, 1, 1), friday};
  CHECK(first() == next);
  build.bench.sessions.push_back({{}, friday, 30});
  CHECK(first() == friday);
}

namespace {

/// An evening of two hours each Tuesday: of January 2027, whose payday is the first, on 5, 12, 19 and 26.
build::Build tuesday_evenings() {
  build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"}.read();
  build.bench.days_after_payday = 0;
  build.bench.sessions = {{1, {}, 120}};
  return build;
}

std::vector<std::pair<budgets::Date, std::int64_t>> january_evenings(const build::Build& build) {
  std::vector<std::pair<budgets::Date, std::int64_t>> all;
  for (const planning::Evening& one : planning::bench_time(build, calendar_of(build.money), 0).evenings)
    all.emplace_back(one.date, one.minutes);
  return all;
}

}  // namespace

TEST_CASE("a session of a date takes the place of that of its weekday") {
  build::Build build = tuesday_evenings();
  build.bench.sessions.push_back({{}, make_date(2027, 1, 12), 45});
  CHECK(january_evenings(build) ==
        std::vector<std::pair<budgets::Date, std::int64_t>>{{make_date(2027, 1, 5), 120},
                                                            {make_date(2027, 1, 12), 45},
                                                            {make_date(2027, 1, 19), 120},
                                                            {make_date(2027, 1, 26), 120}});
}

TEST_CASE("sessions before the goods can be there are not counted on") {
  build::Build build = tuesday_evenings();
  build.bench.days_after_payday = 11;
  const planning::BenchTime time = planning::bench_time(build, calendar_of(build.money), 0);
  CHECK(time.first == make_date(2027, 1, 12));
  CHECK(time.last == make_date(2027, 1, 26));
  CHECK(time.minutes == 3 * 120);
  CHECK(time.evenings.size() == 4);
}

TEST_CASE("hours used of a stage under way leave the sessions to come as far as there are hours left") {
  build::Build build = tuesday_evenings();
  build.money.from = make_date(2027, 1, 13);
  using Evenings = std::vector<std::pair<budgets::Date, std::int64_t>>;
  const budgets::Date third = make_date(2027, 1, 19), fourth = make_date(2027, 1, 26);
  build.bench.minutes_gone = 240;  // of eight hours in all
  CHECK(january_evenings(build) == Evenings{{third, 120}, {fourth, 120}});
  build.bench.minutes_gone = 300;
  CHECK(january_evenings(build) == Evenings{{third, 60}, {fourth, 120}});
  build.bench.minutes_gone = 400;
  CHECK(january_evenings(build) == Evenings{{fourth, 80}});
}
