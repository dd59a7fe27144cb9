#include "budgets/values/paydays.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::budgets;

namespace {

Date day(std::string_view text) { return read_date(text).value(); }

std::string written(const std::vector<Date>& days) {
  std::string text;
  for (const Date d : days) {
    if (!text.empty()) text += ' ';
    text += write_date(d);
  }
  return text;
}

Date from_seed(unsigned seed) { return make_date(2020, 1, 1) + static_cast<int>(seed % 4000); }

std::set<Date> holidays_from(const std::vector<unsigned>& seeds) {
  std::set<Date> days;
  for (const unsigned seed : seeds) days.insert(from_seed(seed));
  return days;
}

bool increasing(const std::vector<Date>& days) {
  return std::adjacent_find(days.begin(), days.end(), [](Date a, Date b) { return a >= b; }) == days.end();
}

bool working(Date d, const std::set<Date>& holidays) { return !is_weekend(d) && !holidays.contains(d); }

}  // namespace

TEST_CASE("listed days are taken in order and run out") {
  const ListedDays rule{{day("2026-01-10"), day("2026-02-01"), day("2026-02-02")}};
  CHECK(written(paydays(rule, 2)) == "2026-01-10 2026-02-01");
  CHECK(paydays(rule, 5).size() == 3);
  CHECK(paydays(ListedDays{}, 5).empty());
}

TEST_CASE("listed days out of order are refused") {
  CHECK_THROWS_AS(paydays(ListedDays{{day("2026-02-01"), day("2026-01-01")}}, 1), std::invalid_argument);
  CHECK_THROWS_AS(paydays(ListedDays{{day("2026-02-01"), day("2026-02-01")}}, 1), std::invalid_argument);
}

TEST_CASE("no payday or fewer asked for gives none") {
  CHECK(paydays(EveryWeeks{day("2026-01-02"), 1}, 0).empty());
  CHECK(paydays(DayOfMonth{day("2026-01-02"), 1}, -3).empty());
}

TEST_CASE("every so many weeks starts at the first day") {
  const EveryWeeks rule{day("2026-01-02"), 4};
  CHECK(written(paydays(rule, 3)) == "2026-01-02 2026-01-30 2026-02-27");
  CHECK(written(paydays(EveryWeeks{day("2026-01-03"), 1}, 2)) == "2026-01-03 2026-01-10");
  CHECK_THROWS_AS(paydays(EveryWeeks{day("2026-01-02"), 0}, 1), std::invalid_argument);
  CHECK_THROWS_AS(paydays(EveryWeeks{day("2026-01-02"), -1}, 1), std::invalid_argument);
}

TEST_CASE("a holiday sends one of every so many weeks to the working day before and the next stays") {
  const EveryWeeks rule{day("2026-01-05"), 2};  // a Monday
  CHECK(written(paydays(rule, 3, {day("2026-01-19")})) == "2026-01-05 2026-01-16 2026-02-02");
  CHECK(written(paydays(rule, 2, {day("2026-01-19"), day("2026-01-16")})) == "2026-01-05 2026-01-15");
  CHECK(written(paydays(rule, 2, {day("2026-01-05")})) == "2026-01-02 2026-01-19");
}

TEST_CASE("paydays every week that holidays send to one day count once") {
  const EveryWeeks rule{day("2026-01-02"), 1};
  const std::set<Date> off{day("2026-01-05"), day("2026-01-06"), day("2026-01-07"), day("2026-01-08"),
                           day("2026-01-09")};
  CHECK(written(paydays(rule, 2, off)) == "2026-01-02 2026-01-16");
}

TEST_CASE("a day of the month is clipped to short months") {
  CHECK(written(paydays(DayOfMonth{day("2027-01-01"), 31}, 4)) ==
        "2027-01-29 2027-02-26 2027-03-31 2027-04-30");
  CHECK(written(paydays(DayOfMonth{day("2024-02-01"), 30}, 1)) == "2024-02-29");
  CHECK(written(paydays(DayOfMonth{day("2023-02-01"), 30}, 1)) == "2023-02-28");
  CHECK_THROWS_AS(paydays(DayOfMonth{day("2026-01-01"), 0}, 1), std::invalid_argument);
  CHECK_THROWS_AS(paydays(DayOfMonth{day("2026-01-01"), 32}, 1), std::invalid_argument);
}

TEST_CASE("a payday on a weekend or holiday moves to the working day before") {
  // 2026-08-01 is a Saturday, 2026-11-01 a Sunday: the money comes in the month before.
  CHECK(written(paydays(DayOfMonth{day("2026-07-15"), 1}, 1)) == "2026-07-31");
  CHECK(written(paydays(DayOfMonth{day("2026-07-15"), 1}, 1, {day("2026-07-31"), day("2026-07-30")})) ==
        "2026-07-29");
  CHECK(written(paydays(DayOfMonth{day("2026-10-15"), 1}, 1)) == "2026-10-30");
}

TEST_CASE("a payday moved to before the start does not count") {
  CHECK(written(paydays(DayOfMonth{day("2026-08-01"), 1}, 1)) == "2026-09-01");
  CHECK(written(paydays(DayOfMonth{day("2026-07-31"), 1}, 1)) == "2026-07-31");
  CHECK(written(paydays(LastWorkingDay{day("2026-01-31")}, 1)) == "2026-02-27");
  CHECK(written(paydays(LastWorkingDay{day("2026-01-30")}, 1)) == "2026-01-30");
}

TEST_CASE("a month of holidays has no last working day") {
  std::set<Date> off;
  for (Date d = day("2026-02-01"); d < day("2026-03-01"); d = d + 1) off.insert(d);
  CHECK(written(paydays(LastWorkingDay{day("2026-01-01")}, 2, off)) == "2026-01-30 2026-03-31");
}

TEST_CASE("the last working day of a month may be its first day") {
  std::set<Date> off;
  for (Date d = day("2026-07-02"); d < day("2026-08-01"); d = d + 1) off.insert(d);
  CHECK(written(paydays(LastWorkingDay{day("2026-07-01")}, 1, off)) == "2026-07-01");
}

TEST_CASE("two months sent to one day by holidays are one payday") {
  std::set<Date> off;
  for (Date d = day("2026-02-01"); d <= day("2026-03-05"); d = d + 1) off.insert(d);
  CHECK(written(paydays(DayOfMonth{day("2026-01-01"), 5}, 3, off)) == "2026-01-05 2026-01-30 2026-04-03");
}

TEST_CASE("the calendar ends in the year 9999") {
  CHECK(paydays(LastWorkingDay{day("9999-11-01")}, 10).size() == 2);
  CHECK(paydays(EveryWeeks{day("9999-12-01"), 4}, 10).size() == 2);
  CHECK(paydays(EveryWeeks{day("9999-12-01"), 2147483647}, 10).size() == 1);
  CHECK(paydays(DayOfMonth{day("9999-12-31"), 1}, 1).empty());
}

TEST_CASE("monthly paydays are working days of their months in order") {
  CHECK(rc::check([](unsigned start, unsigned char wanted, const std::vector<unsigned>& seeds) {
    const std::set<Date> off = holidays_from(seeds);
    const int dom = wanted % 31 + 1;
    const auto days = paydays(DayOfMonth{from_seed(start), dom}, 12, off);
    return days.size() == 12 && increasing(days) && days.front() >= from_seed(start) &&
           std::all_of(days.begin(), days.end(), [&](Date d) { return working(d, off); });
  }));
}

TEST_CASE("no working day follows the last one within its month") {
  CHECK(rc::check([](unsigned start, const std::vector<unsigned>& seeds) {
    const std::set<Date> off = holidays_from(seeds);
    for (const Date d : paydays(LastWorkingDay{from_seed(start)}, 6, off)) {
      if (!working(d, off) || d < from_seed(start)) return false;
      const auto month = calendar(d).month();
      for (Date later = d + 1; calendar(later).month() == month; later = later + 1)
        if (working(later, off)) return false;
    }
    return true;
  }));
}

TEST_CASE("asking for more paydays never changes the first ones") {
  CHECK(rc::check([](unsigned start, unsigned char few, unsigned char more) {
    const DayOfMonth rule{from_seed(start), 28};
    const int n = few % 20;
    auto all = paydays(rule, n + more % 20);
    all.resize(static_cast<std::size_t>(n));
    return all == paydays(rule, n);
  }));
}
