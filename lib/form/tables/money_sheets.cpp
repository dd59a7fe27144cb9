#include "lib/form/tables/spec.hpp"

/// The sheets of money and days.
namespace fettlefund::form {
namespace {

SheetSpec build_sheet() {
  return {
      "Build",
      Kind::fields,
      "",
      "a field",
      "One build to a workbook. Type into the yellow cells; the example stands beside them and counts for "
      "nothing.",
      {{"Name of the build", "name", Type::line, needed, 30, "What you call it.", "The blue touring bicycle"},
       {"About", "about", Type::text, optional, 30, "Anything worth knowing.", "Ready for the hills by June"},
       {"Currency", "currency", Type::line, needed, 30, "Three capital letters of ISO 4217.", "EUR"},
       {"Cash now", "money/opening", Type::money, needed, 30, "What there is before the first payday.",
        "140"},
       {"Keep back", "money/keep_back", Type::money, needed, 30, "Never to be spent.", "60"},
       {"Comes in each payday", "money/amount", Type::money, needed, 30, "For the build, each time.", "120"},
       {"How many paydays", "money/stages", Type::whole, needed, 30, "To plan ahead, 1 to 120.", "6"},
       {"Paydays every so many weeks", "money/paydays/every_weeks", Type::whole, optional, 30,
        "Fill in one of these three, or list your paydays on the sheet Dates.", ""},
       {"Payday on this day of the month", "money/paydays/day_of_month", Type::whole, optional, 30,
        "Or the working day before.", "25"},
       {"Payday on the last working day", "money/paydays/last_working_day", Type::tick, optional, 30,
        "An x: the last working day of each month.", ""},
       {"Paydays from", "money/paydays/from", Type::day, optional, 30,
        "The first payday comes on this day or later. Not for listed paydays.", "2027-01-01"},
       {"Allowance, percent", "money/allowance_percent", Type::percent, optional, 30,
        "For the unforeseen, on top of each payday's spending.", "5"},
       {"Bench hours each stage", "bench/hours", Type::hours, optional, 30,
        "Time for the work between two paydays. 2.5 is two hours and a half. Not beside sessions on the "
        "sheet "
        "Dates.",
        "6"},
       {"Bench date, days after payday", "bench/days_after_payday", Type::whole, optional, 30,
        "When the work is done: so many days after the payday. Beside sessions: from when on goods are "
        "there.",
        "9"},
       {"Bother", "bench/bother", Type::whole, optional, 30,
        "Want-days that an hour of taking things off costs; 30 if empty.", ""}},
      {},
      needed};
}

SheetSpec dates_sheet() {
  return {
      "Dates",
      Kind::items,
      "",
      "a date",
      "Listed paydays, holidays (no payday falls on them), money that comes or goes on a day, stages with "
      "other bench hours, and sessions: evenings at the bench, in place of bench hours and a bench date.",
      {{kind_heading, "", Type::choice, needed, 18, "Pick from the list.", "money in or out", "",
        "payday; holiday; money in or out; bench time; session; no session"},
       {"Day", "", Type::day, optional, 12, "Not for bench time.", "2027-04-10"},
       {"Amount", "", Type::money, optional, 12, "Money that goes out has a minus.", "-45"},
       {"Stage", "", Type::whole, optional, 9, "Bench time: 1 is the first payday's.", ""},
       {"Weekday", "", Type::choice, optional, 12, "A session every week; else its day.", "", "",
        "monday; tuesday; wednesday; thursday; friday; saturday; sunday"},
       {"Hours", "", Type::hours, optional, 9, "Of the session, or bench time of that stage; 0 for none.",
        ""},
       {"What for", "", Type::line, optional, 34, "A word for the plan.", "road tax"}},
      {{"payday", "money/paydays/dates", {{"Day", "", true}}, Variant::Tools::any, false, true},
       {"holiday", "money/paydays/holidays", {{"Day", "", true}}, Variant::Tools::any, false, true},
       {"money in or out",
        "money/extras",
        {{"Day", "date", true}, {"Amount", "amount", true}, {"What for", "what", true}}},
       {"bench time",
        "bench/stages",
        {{"Stage", "stage", true}, {"Hours", "hours", true}, {"What for", "why"}}},
       {"session", "bench/sessions", {{"Hours", "hours", true}, {"Weekday", "weekday"}, {"Day", "date"}}},
       {"no session", "bench/no_sessions", {{"Day", "", true}}, Variant::Tools::any, false, true}}};
}

}  // namespace

std::vector<SheetSpec> money_sheets() { return {build_sheet(), dates_sheet()}; }

}  // namespace fettlefund::form
