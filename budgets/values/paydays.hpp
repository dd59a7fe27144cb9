#pragma once
#include <set>
#include <variant>
#include <vector>

#include "budgets/values/date.hpp"

namespace fettlefund::budgets {

/// The days themselves, strictly increasing. Holidays do not move them.
struct ListedDays {
  std::vector<Date> days;
};
/// `first`, then every `weeks` weeks (>= 1) after it; one that is a holiday comes on the nearest earlier
/// working day. The count of weeks goes on from the day itself. Weekends alone do not move it: the weekday is
/// the builder's own.
struct EveryWeeks {
  Date first;
  int weeks = 4;
};
/// Day `day` (1 to 31, clipped to the month's length) of each month, or the nearest earlier working day
/// if that is a weekend or a holiday. Only days on or after `from` count.
struct DayOfMonth {
  Date from;
  int day = 25;
};
/// The last working day of each month, on or after `from`.
struct LastWorkingDay {
  Date from;
};

using PaydayRule = std::variant<ListedDays, EveryWeeks, DayOfMonth, LastWorkingDay>;

/// The first `count` paydays of the rule in order, strictly increasing (none if `count` <= 0). Returns fewer
/// only for ListedDays that hold fewer, and when the calendar ends (9999-12-31). Working days are Monday to
/// Friday less `holidays`. A month without a working day has no LastWorkingDay; where holidays send two
/// paydays to one day, it counts once, and one sent to before another is left out. Throws
/// std::invalid_argument for listed days out of order, `weeks` < 1 and `day` outside 1 to 31.
std::vector<Date> paydays(const PaydayRule& rule, int count, const std::set<Date>& holidays = {});

}  // namespace fettlefund::budgets
