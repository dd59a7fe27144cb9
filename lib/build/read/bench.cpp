#include <algorithm>
#include <array>

#include "lib/build/read/sections.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

constexpr int stages_at_most = 120;
constexpr std::int64_t day_minutes = 24 * 60;
constexpr std::array<const char*, 7> weekdays = {"monday", "tuesday",  "wednesday", "thursday",
                                                 "friday", "saturday", "sunday"};

/// A stage's own hours; wrong or repeated ones are reported.
void read_exception(Context& context, const Node& node, int stages, std::set<int>& seen, Bench& bench) {
  BenchException exception;
  const Fields fields(context, node, Part::bench_exception);
  const bool placed = fields.get("stage", exception.stage, Whole{1, stages > 0 ? stages : stages_at_most});
  fields.get("hours", exception.minutes, read_minutes);
  fields.get("why", exception.why, read_line);
  if (placed && !seen.insert(exception.stage).second)
    context.findings.error(fields.find("stage")->span, "each stage once");
  if (!bench.sessions.empty() && exception.minutes > 0)
    context.findings.error(fields.find("hours")->span,
                           "hours 0, a stage without sessions; other hours are a date under \"sessions\"");
  bench.exceptions.push_back(std::move(exception));
}

std::optional<int> read_weekday(Context& context, const Node& node) {
  const auto word = OneOf{{weekdays.begin(), weekdays.end()}}(context, node);
  if (!word) return {};
  return static_cast<int>(std::find(weekdays.begin(), weekdays.end(), *word) - weekdays.begin());
}

std::optional<std::int64_t> read_evening(Context& context, const Node& node) {
  const auto minutes = read_minutes(context, node);
  if (!minutes || (*minutes > 0 && *minutes <= day_minutes)) return minutes;
  context.findings.error(node.span, "hours above 0, at most 24");
  return {};
}

/// Just one of "weekday" and "date".
void check_day(const Fields& fields) {
  Findings& findings = fields.context().findings;
  const Node *weekday = fields.find("weekday"), *date = fields.find("date");
  if (weekday == nullptr && date == nullptr) findings.missing(fields.span(), "a key \"weekday\" or \"date\"");
  if (weekday != nullptr && date != nullptr) findings.error(date->span, "no \"date\" beside \"weekday\"");
}

struct Seen {
  std::set<int> weekdays;
  std::set<Date> dates;
};

void read_session(Context& context, const Node& node, Seen& seen, Bench& bench) {
  Session session;
  const Fields fields(context, node, Part::session);
  const bool weekly = fields.get("weekday", session.weekday, read_weekday);
  const bool dated = fields.get("date", session.date, read_day);
  fields.get("hours", session.minutes, read_evening);
  if (node.kind == NodeKind::object) check_day(fields);
  if (weekly && !seen.weekdays.insert(*session.weekday).second)
    context.findings.error(fields.find("weekday")->span, "each weekday once");
  if (dated && !seen.dates.insert(*session.date).second)
    context.findings.error(fields.find("date")->span, "each date once");
  bench.sessions.push_back(session);
}

void read_free_days(const Fields& fields, Bench& bench) {
  std::vector<Date> days;
  fields.get("no_sessions", days, set_of(read_day));
  bench.no_sessions = {days.begin(), days.end()};
  const Node* list = fields.find("no_sessions");
  if (list == nullptr || list->kind != NodeKind::list) return;
  if (!fields.has("sessions"))
    fields.context().findings.error(list->span, "\"no_sessions\" only beside \"sessions\"");
  for (const Session& session : bench.sessions) {
    if (session.date && bench.no_sessions.contains(*session.date))
      fields.context().findings.error(list->span, fmt::format("no {} here: it is a date under \"sessions\"",
                                                              budgets::write_date(*session.date)));
  }
}

void read_sessions(const Fields& fields, Bench& bench) {
  Context& context = fields.context();
  const Node& list = *fields.find("sessions");
  if (!expect_list(context, list)) return;
  if (list.items.empty()) context.findings.error(list.span, "at least one session");
  Seen seen;
  for (const Node& item : list.items) read_session(context, item, seen, bench);
  if (const Node* hours = fields.find("hours"))
    context.findings.error(hours->span,
                           "no \"hours\" beside \"sessions\": a stage has the hours of its sessions");
}

/// Without sessions every stage has hours and a bench date.
void read_hours(const Fields& fields, const Whole& limits, Bench& bench) {
  const bool hours = fields.has("hours"), days = fields.has("days_after_payday");
  fields.get("hours", bench.minutes, read_minutes);
  fields.get("days_after_payday", bench.days_after_payday, limits);
  Findings& findings = fields.context().findings;
  if (!hours) findings.missing(fields.span(), "a key \"hours\" (or \"sessions\")");
  if (!days) findings.missing(fields.span(), "a key \"days_after_payday\" (or \"sessions\")");
}

}  // namespace

void read_bench(Context& context, const Node& node, int stages, Bench& bench) {
  const Fields fields(context, node, Part::bench);
  const Whole days{0, 366};
  if (fields.has("sessions")) {
    read_sessions(fields, bench);
    fields.get("days_after_payday", bench.days_after_payday, days);
  } else if (node.kind == NodeKind::object) {
    read_hours(fields, days, bench);
  }
  read_free_days(fields, bench);
  fields.get("bother", bench.bother, Whole{0, 100'000});
  const Node* list = fields.find("stages");
  if (list == nullptr || !expect_list(context, *list)) return;
  std::set<int> seen;
  for (const Node& item : list->items) read_exception(context, item, stages, seen, bench);
}

}  // namespace fettlefund::build
