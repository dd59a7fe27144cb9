#include <algorithm>
#include <filesystem>
#include <ostream>

#include "cli/planned.hpp"
#include "cli/progress.hpp"
#include "cli/replacing.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/purse/joint.hpp"
#include "lib/purse/standing.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/files/calendar.hpp"
#include "lib/report/files/csv.hpp"
#include "lib/report/json/purse_json.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/text/purse.hpp"
#include "lib/sheets/book/workbook.hpp"
#include "lib/sheets/pages/purse_sheet.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Why the command cannot be carried out for a purse; empty: it can.
std::string refusal(const Request& request) {
  static const std::vector<std::string> known{"check", "plan", "sheet", "shopping", "calendar", "page"};
  if (std::find(known.begin(), known.end(), request.command) == known.end())
    return fmt::format("{} is a purse; `{}` takes one of its build files. A purse goes with {}", request.file,
                       request.command, fmt::join(known, ", "));
  if (request.json && request.command != "plan")
    return fmt::format("--json goes with `plan` of a purse, not with `{}`", request.command);
  if (request.command != "plan" && !request.output.empty())
    return "-o names one file, and a purse has one a build";
  return {};
}

/// The records of the builds, one a build; nothing: `err` tells why one cannot be used.
std::optional<std::vector<log::Log>> records_of(const Request& request, const Console& console,
                                                const purse::Purse& purse) {
  std::vector<log::Log> logs;
  bool good = true;
  for (const purse::Member& member : purse.members) {
    Request own = request;
    own.file = member.path;
    const std::optional<log::Reading> reading = read_log(own, console, member.build);
    good &= reading.has_value();
    logs.push_back(reading && reading->log ? *reading->log : log::Log{});
  }
  return good ? std::optional(std::move(logs)) : std::nullopt;
}

/// "As of 2027-03-31 (last entry of the records)".
std::string purse_as_of(const std::vector<log::Log>& logs, budgets::Date day, bool asked) {
  std::size_t later = 0;
  for (const log::Log& log : logs) later += planning::history_of(log, day).later;
  std::string why = asked ? "asked for" : "last entry of the records";
  if (later > 0)
    why += fmt::format("; {} later {} of the records {} left out", later, later == 1 ? "entry" : "entries",
                       later == 1 ? "is" : "are");
  return fmt::format("As of {} ({})", budgets::write_date(day), why);
}

/// The purse as it stands by its builds' records; nothing: `err` tells why there is nothing to plan.
std::optional<purse::Standing> stand_by_records(const Request& request, const Console& console,
                                                const purse::Purse& purse) {
  const auto logs = records_of(request, console, purse);
  if (!logs) return std::nullopt;
  std::optional<budgets::Date> day = request.from;
  for (const log::Log& log : *logs) {
    const std::optional<budgets::Date> last = planning::last_day(log);
    if (!request.from && last && (!day || *last > *day)) day = last;
  }
  if (!day) return purse::Standing{purse, {}, {}};
  try {
    purse::Standing standing = purse::stand_on(purse, *logs, *day, request.keep_days);
    standing.as_of = purse_as_of(*logs, *day, request.from.has_value());
    if (standing.purse) {
      const budgets::Problem small_enough(purse::join(*standing.purse).problem);
      return standing;
    }
    console.err << fmt::format(
        "fettlefund: every stage of {} is over on {}; more stages in the purse file's money would let it go "
        "on\n",
        request.file, budgets::write_date(*day));
  } catch (const budgets::MoneyOverflow&) {
    console.err << "fettlefund: the amounts of the records are too large together to plan with\n";
  } catch (const std::invalid_argument&) {
    console.err << "fettlefund: the amounts of the records are too large together to plan with\n";
  }
  return std::nullopt;
}

int tell_check(const Console& console, const purse::Reading& reading) {
  std::size_t jobs = 0;
  for (const purse::Member& member : reading.purse->members) jobs += member.build.jobs.size();
  console.out << fmt::format(
      "{}: no errors, {}, {}, {}, {}\n", reading.purse->name, counted(reading.purse->members.size(), "build"),
      counted(static_cast<std::size_t>(reading.purse->members.front().build.money.stages), "stage"),
      counted(jobs, "job"), counted(reading.diagnostics.size(), "warning"));
  return done;
}

/// "garage-bike.csv" for build bike of garage.purse, beside it.
std::string file_of(const Request& request, const purse::Share& share, const std::string& extension) {
  const std::filesystem::path path(request.file);
  return std::filesystem::path(path)
      .replace_filename(path.stem().string() + "-" + share.id + extension)
      .string();
}

/// "garage.overview.xlsx", beside the purse; no id of a build makes that name.
std::string overview_of(const Request& request) {
  return std::filesystem::path(request.file).replace_extension(".overview.xlsx").string();
}

bool write_overview(const Request& request, const Console& console, const purse::Outcome& outcome) {
  std::vector<std::string> files;
  for (const purse::Share& share : outcome.shares)
    files.push_back(std::filesystem::path(file_of(request, share, ".xlsx")).filename().string());
  const std::string path = overview_of(request);
  const bool whole = written(console, [&] {
    report::write_atomically(
        path, [&](const std::string& temporary) { sheets::write_purse_workbook(outcome, files, temporary); });
  });
  if (whole) console.out << "Wrote " << path << ".\n";
  return whole;
}

/// One workbook a build, each beside the purse, and one for all. Nothing is written where something typed in
/// one of them would be lost.
int write_workbooks(const Request& request, const Console& console, const purse::Purse& purse,
                    const purse::Outcome& outcome, const std::string& as_of) {
  std::vector<Typed> typed;
  bool good = true;
  for (std::size_t b = 0; b < outcome.shares.size(); ++b) {
    Request own = request;
    own.file = purse.members[b].path;
    const std::string path = file_of(request, outcome.shares[b], ".xlsx");
    const auto record = log_path(own);
    const log::Log log = record ? log::read_file(*record).log.value_or(log::Log{}) : log::Log{};
    typed.push_back(typed_in_workbook(path, purse.members[b].build, log));
    good &= may_replace(own, console, path, typed.back());
  }
  if (!good) return bad_input;
  console.out << as_of_line(as_of);
  for (std::size_t b = 0; b < outcome.shares.size(); ++b) {
    const std::string path = file_of(request, outcome.shares[b], ".xlsx");
    std::string kept;
    const bool whole = written(console, [&] {
      report::write_atomically(path, [&](const std::string& temporary) {
        sheets::write_workbook(outcome.shares[b].outcome, temporary);
        if (!typed[b].nothing()) kept = keep_beside(path);
      });
    });
    if (!whole) return bad_input;
    if (!kept.empty()) console.out << "What was typed in the earlier workbook is kept in " << kept << ".\n";
    console.out << "Wrote " << path << ".\n";
  }
  return write_overview(request, console, outcome) ? done : bad_input;
}

int write_each(const Request& request, const Console& console, const purse::Outcome& outcome,
               const std::string& as_of) {
  console.out << as_of_line(as_of);
  for (const purse::Share& share : outcome.shares) {
    const bool csv = request.command == "shopping", calendar = request.command == "calendar";
    const std::string path = file_of(request, share, csv ? ".csv" : calendar ? ".ics" : ".html");
    const std::string text = csv        ? report::shopping_csv(share.outcome)
                             : calendar ? report::calendar(share.outcome, {request.revision})
                                        : report::stage_cards(share.outcome);
    const bool page = !csv && !calendar;
    if (page ? !write_page(console, path, text) : !written(console, [&] { report::write_file(path, text); }))
      return bad_input;
    console.out << "Wrote " << path << ".\n";
  }
  return done;
}

int tell(const Request& request, const Console& console, const purse::Purse& purse,
         const purse::Outcome& outcome, const std::string& as_of) {
  if (request.command == "sheet") return write_workbooks(request, console, purse, outcome, as_of);
  if (request.command != "plan") return write_each(request, console, outcome, as_of);
  const int first = outcome.stages.empty() ? 1 : outcome.stages.front().number;
  const int last = first + static_cast<int>(outcome.stages.size()) - 1;
  if (request.stage > 0 && (request.stage < first || request.stage > last)) {
    console.err << fmt::format("fettlefund: the plan has no stage {}; it has stages {} to {}\n",
                               request.stage, first, last);
    return bad_input;
  }
  if (request.json) return reply(request, console, report::purse_json(outcome), done);
  report::TextOptions options = text_options(request, console, as_of);
  options.brief = request.brief;
  options.stage = request.stage;
  return reply(request, console, report::purse_text(outcome, options), done);
}

}  // namespace

int purse_command(const Request& request, const Console& console) {
  if (const std::string no = refusal(request); !no.empty()) {
    console.err << "fettlefund: " << no << '\n';
    return bad_input;
  }
  const purse::Reading reading = purse::read_file(request.file);
  for (const build::Diagnostic& one : reading.diagnostics) console.err << build::to_text(one) << '\n';
  if (!reading.purse) return bad_input;
  if (request.command == "check") return tell_check(console, reading);
  const std::optional<purse::Standing> standing = stand_by_records(request, console, *reading.purse);
  if (!standing) return bad_input;
  ProgressLine progress(request, console, reading.purse->members.front().build.money.stages);
  const purse::Planning planning = purse::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning))
    return tell_conflict(request, console, *conflict, standing->as_of);
  if (const auto* nothing = std::get_if<planning::NoPlan>(&planning))
    return tell_no_plan(request, console, *nothing);
  return tell(request, console, *reading.purse, std::get<purse::Outcome>(planning), standing->as_of);
}

}  // namespace fettlefund::cli
