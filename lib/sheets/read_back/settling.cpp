#include "lib/sheets/read_back/settling.hpp"

#include "lib/staging/stages.hpp"

namespace fettlefund::sheets {
namespace {

constexpr int kYear = 366;

}  // namespace

Settling::Settling(const Readback& of, const build::Build& builds, const log::Log& logged, budgets::Date on)
    : back(of),
      build(builds),
      log(logged),
      day(on),
      history(planning::history_of(logged, planning::last_date)),
      paydays(planning::calendar_of(builds.money).paydays),
      first((paydays.empty() ? on : paydays.front()) - kYear) {}

void Settling::tell(bool error, const std::string& text) { tell_at(said ? said->cell : "", error, text); }
void Settling::tell_at(const std::string& cell, bool error, const std::string& text) {
  to.remarkable.push_back({error, said ? said->sheet : "", cell, text});
}

void Settling::propose(budgets::Date date, log::Event event) {
  const std::string fault = log::fault_of(event);
  if (!fault.empty()) return tell(true, "this cannot be recorded: expected " + fault);
  to.proposed.push_back({said->sheet, said->cell, {date, std::move(event)}});
}

bool Settling::day_fits(budgets::Date on) {
  const std::string& cell = said->day_cell.empty() ? said->cell : said->day_cell;
  if (on > day)
    tell_at(cell, true,
            fmt::format("{} is after {}, the day of this recording; has it happened? Then give --on",
                        budgets::write_date(on), budgets::write_date(day)));
  else if (on < first)
    tell_at(cell, true,
            fmt::format("{} is more than a year before the first payday", budgets::write_date(on)));
  return on <= day && on >= first;
}

}  // namespace fettlefund::sheets
