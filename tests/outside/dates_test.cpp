#include <string>

#include "budgets/values/date.hpp"
#include "budgets/values/paydays.hpp"

#include <doctest/doctest.h>

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

/// Bank holidays in England and Wales, 2026. Source: GOV.UK, UK bank holidays (2026), under the Banking and
/// Financial Dealings Act 1971; dates from memory and computed (Easter Sunday is 2026-04-05).
const std::set<Date> kEngland2026{day("2026-01-01"), day("2026-04-03"), day("2026-04-06"), day("2026-05-04"),
                                  day("2026-05-25"), day("2026-08-31"), day("2026-12-25"), day("2026-12-28")};

}  // namespace

// Source: RFC 5545, Internet Calendaring and Scheduling Core Object Specification (2009), section 3.8.5.3,
// example "the second-to-last weekday of the month". Taken as the last working day with each month's last
// weekday off.
TEST_CASE("the second to last weekday of the month agrees with RFC 5545") {
  const LastWorkingDay rule{day("1997-09-29")};
  const std::vector<Date> last = paydays(rule, 7);
  CHECK(written(paydays(rule, 7, {last.begin(), last.end()})) ==
        "1997-09-29 1997-10-30 1997-11-27 1997-12-30 1998-01-29 1998-02-26 1998-03-30");
}

// Source: the Gregorian calendar; reproduced independently with the recurrence
// BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1 of RFC 5545 (2009).
TEST_CASE("the last weekdays of 2026") {
  CHECK(written(paydays(LastWorkingDay{day("2026-01-01")}, 12)) ==
        "2026-01-30 2026-02-27 2026-03-31 2026-04-30 2026-05-29 2026-06-30 "
        "2026-07-31 2026-08-31 2026-09-30 2026-10-30 2026-11-30 2026-12-31");
}

// Source: GOV.UK, UK bank holidays (2026): the summer bank holiday is 2026-08-31.
TEST_CASE("the last working days of 2026 in England") {
  CHECK(written(paydays(LastWorkingDay{day("2026-01-01")}, 12, kEngland2026)) ==
        "2026-01-30 2026-02-27 2026-03-31 2026-04-30 2026-05-29 2026-06-30 "
        "2026-07-31 2026-08-28 2026-09-30 2026-10-30 2026-11-30 2026-12-31");
}

// Source: GOV.UK, UK bank holidays (2026); 25 May and 25 December are holidays.
TEST_CASE("the 25th or the working day before in England in 2026") {
  CHECK(written(paydays(DayOfMonth{day("2026-01-01"), 25}, 12, kEngland2026)) ==
        "2026-01-23 2026-02-25 2026-03-25 2026-04-24 2026-05-22 2026-06-25 "
        "2026-07-24 2026-08-25 2026-09-25 2026-10-23 2026-11-25 2026-12-24");
}

// Source: ISO/IEC 29500-1:2016, Office Open XML File Formats, section 18.17.4.1, 1900 date base system.
TEST_CASE("serial days agree with the 1900 system of ISO IEC 29500") {
  CHECK(spreadsheet_serial(day("1970-01-01")) == 25569);
  CHECK(spreadsheet_serial(day("2026-01-01")) == 46023);
}
