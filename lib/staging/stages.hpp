#pragma once
#include <vector>

#include "budgets/problem/problem.hpp"
#include "budgets/values/date.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// The paydays and bench dates of a build, and where it ends.
struct Calendar {
  std::vector<budgets::Date> paydays;  ///< as many as the rule gives, at most the stages asked for
  budgets::Date end;                   ///< the payday after the last one: want counts up to the day before it
  budgets::Date first_payday;  ///< the first of them as the rule has it: its bench date follows from it
  bool first_is_paid = false;  ///< the money of the first of these paydays is in the opening cash
};

/// The end is the next payday by the rule. Where the rule gives none (listed days), it is the last payday
/// plus the gap before it, or plus 30 days where there is only one. Of a build under way the paydays of
/// stages that are over are left out, and a payday that has been is replaced by the day from which the rest
/// is planned: orders go out then.
Calendar calendar_of(const build::MoneyPlan& money);

/// The last payday before which the money dated for stage `stage` counts: extras after the previous payday
/// and up to this one; the first stage takes all earlier ones.
std::vector<build::Extra> extras_of(const build::MoneyPlan& money, const Calendar& calendar, int stage);

/// The deepest net outflow of extras dated after the stage's payday and before the next one (or the end), as
/// an amount >= 0: bills that this payday's money has to cover.
budgets::Money bills_before_next(const build::MoneyPlan& money, const Calendar& calendar, int stage);

/// Bench minutes of a stage (from 0, those that are over counted) by the hours that every stage has,
/// exceptions counted.
std::int64_t bench_minutes(const build::Bench& bench, int stage);

/// 0 Monday to 6 Sunday; 1970-01-01 was a Thursday.
int weekday(budgets::Date day);

/// One evening.
struct Evening {
  budgets::Date date;
  std::int64_t minutes = 0;
};

/// When a stage's work is done.
struct BenchTime {
  budgets::Date first, last;  ///< its bench date, or its sessions: goods are there by the first
  std::int64_t minutes = 0;
  std::vector<Evening> evenings;  ///< ascending, those before `first` too; empty without sessions
};

/// The bench time of stage `at` of the calendar (from 0 there). Sessions: those from the payday up to the day
/// before the next; a date goes before its weekday. `first` and `minutes` count from the first on that is
/// `days_after_payday` or more after the payday; without such: no hours, `first` is the day before the next.
/// Of a build under way the first stage has none before `money.from`, and as much as the hours used leave.
BenchTime bench_time(const build::Build& build, const Calendar& calendar, int at);

/// The regular amount that comes in for a stage: nothing where its payday has been.
budgets::Money payday_amount(const build::MoneyPlan& money, const Calendar& calendar, int stage);

/// Stages with dates, money in, floor (keep-back plus bills before the next payday) and bench time. Of a
/// build under way the floor is at most the cash there is when nothing is bought: what has been spent cannot
/// be kept back.
std::vector<budgets::Stage> stages_of(const build::Build& build, const Calendar& calendar);

}  // namespace fettlefund::planning
