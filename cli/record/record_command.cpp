#include <algorithm>
#include <ostream>

#include "cli/record/purse_income.hpp"
#include "cli/record/record.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

using Batch = std::optional<std::vector<log::NewEntry>>;

std::vector<std::string> names_of(const std::vector<build::Job>& jobs) {
  std::vector<std::string> names;
  for (const build::Job& job : jobs) names.push_back(job.id);
  return names;
}

Batch paid_entries(const Recording& recording) {
  const std::string& key = recording.request.record.what.front();
  std::vector<std::string> known;
  const std::vector<bool> counts = log::effective(recording.log);
  for (std::size_t i = 0; i < recording.log.entries.size(); ++i) {
    const auto* bought = std::get_if<log::Bought>(&recording.log.entries[i].event);
    if (bought && counts[i]) known.push_back(bought->key);
  }
  const auto amount = recording.amount();
  if (std::find(known.begin(), known.end(), key) == known.end()) {
    recording.unknown(key, "the key of something that is recorded as bought", known);
    return std::nullopt;
  }
  if (!amount) return std::nullopt;
  return Batch{{{recording.day, log::Paid{key, *amount}}}};
}

/// The day an earlier entry says the job was fitted.
std::optional<budgets::Date> fitted_on(const log::Log& log, const build::Id& job) {
  const std::vector<bool> counts = log::effective(log);
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    const auto* fitted = std::get_if<log::Fitted>(&log.entries[i].event);
    if (fitted && counts[i] && fitted->job == job) return log.entries[i].date;
  }
  return std::nullopt;
}

/// What has to come before the job and is neither recorded nor in the same batch. Told, not refused: what
/// has happened has happened.
void warn_of_order(const Recording& recording, const build::Job& job) {
  const std::vector<std::string>& batch = recording.request.record.what;
  for (const build::Id& before : job.after) {
    if (std::find(batch.begin(), batch.end(), before) != batch.end() || fitted_on(recording.log, before))
      continue;
    recording.console.err << fmt::format("warning: {} comes after {}, which is not recorded as fitted\n",
                                         job.id, before);
  }
}

/// Whether something of this kind is recorded as paid.
bool paid_for(const log::Log& log, planning::ShoppingKey::Kind kind, const build::Id& id) {
  const std::vector<bool> counts = log::effective(log);
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    const auto* bought = std::get_if<log::Bought>(&log.entries[i].event);
    if (!bought || !counts[i]) continue;
    const planning::ShoppingKey key = planning::read_key(bought->key);
    if (key.kind == kind && key.id == id) return true;
  }
  return false;
}

/// A job's fee and the hire of its tools are lines of their own that are easily forgotten.
void tell_charges(const Recording& recording, std::size_t j) {
  using Kind = planning::ShoppingKey::Kind;
  const build::Build& build = recording.build;
  const build::Job& job = build.jobs[j];
  const auto tell = [&](const std::string& when, const std::string& key) {
    recording.console.out << fmt::format("{}: record {} bought {}@{}\n", when, recording.request.file, key,
                                         stage_on_day(build, recording.day));
  };
  if (job.cost > budgets::Money() && !paid_for(recording.log, Kind::fee, job.id)) {
    tell(fmt::format("The fee of {}, {} {}, is not recorded; when it is paid", job.id,
                     budgets::write_money(job.cost, build.currency), build.currency.code),
         "fee:" + job.id);
  }
  const planning::Demands demands = planning::demands_of(build);
  for (const int tool : demands.jobs[j].tools) {
    const build::Article& article = build.articles[static_cast<std::size_t>(tool)];
    const bool told = planning::owned(build, tool) || paid_for(recording.log, Kind::article, article.id) ||
                      paid_for(recording.log, Kind::hire, article.id);
    if (article.hire && !told) tell(fmt::format("If {} was hired", article.id), "hire:" + article.id);
  }
}

/// Cash that was counted after a purchase stays as counted when the purchase is undone.
Batch undo_entries(const Recording& recording) {
  const std::int64_t number = recording.request.record.entry;
  const std::vector<log::Entry>& entries = recording.log.entries;
  const auto* bought = number >= 1 && number <= std::ssize(entries)
                           ? std::get_if<log::Bought>(&entries[static_cast<std::size_t>(number) - 1].event)
                           : nullptr;
  const std::vector<bool> counts = log::effective(recording.log);
  for (std::size_t i = 0; bought && i < entries.size(); ++i) {
    const budgets::Date day = entries[static_cast<std::size_t>(number) - 1].date;
    const bool later = entries[i].date > day || (entries[i].date == day && entries[i].number > number);
    if (!counts[i] || !later || !std::holds_alternative<log::Counted>(entries[i].event)) continue;
    recording.console.out << fmt::format(
        "Cash was counted on {} with {} in it, so the count stays as it is. Where money came back instead: "
        "record {} paid {} 0\n",
        budgets::write_date(entries[i].date), bought->key, recording.request.file, bought->key);
    break;
  }
  return Batch{{{recording.day, log::Undo{number}}}};
}

Batch fitted_entries(const Recording& recording) {
  const RecordRequest& record = recording.request.record;
  if (record.minutes && record.what.size() > 1) {
    recording.refuse("--hours tells of one job at a time");
    return std::nullopt;
  }
  std::vector<log::NewEntry> batch;
  bool good = true;
  for (const build::Id& id : record.what) {
    const int j = planning::find_id(recording.build.jobs, id);
    const auto before = fitted_on(recording.log, id);
    if (j < 0) recording.unknown(id, "a job of the build", names_of(recording.build.jobs));
    if (before) {
      recording.refuse(fmt::format("{} is recorded as fitted on {}; undo that entry first", id,
                                   budgets::write_date(*before)));
    }
    good &= j >= 0 && !before;
    if (j >= 0) warn_of_order(recording, recording.build.jobs[static_cast<std::size_t>(j)]);
    if (j >= 0 && !before) tell_charges(recording, static_cast<std::size_t>(j));
    batch.push_back({recording.day, log::Fitted{id, record.minutes}});
  }
  return good ? Batch(std::move(batch)) : std::nullopt;
}

Batch counted_entries(const Recording& recording) {
  const auto amount = recording.amount();
  if (!amount) return std::nullopt;
  return Batch{{{recording.day, log::Counted{*amount}}}};
}

Batch moved_entries(const Recording& recording) {
  const auto amount = recording.amount();
  if (!amount) return std::nullopt;
  if (*amount <= budgets::Money()) {
    recording.refuse("the amount is above zero; `in` and `out` say which way it went");
    return std::nullopt;
  }
  const bool in = recording.request.record.action == "in";
  return Batch{{{recording.day,
                 log::Moved{in ? *amount : budgets::Money() - *amount, recording.request.record.text}}}};
}

/// Everything in the build that a remark can be about.
Batch remark_entries(const Recording& recording) {
  const RecordRequest& record = recording.request.record;
  const planning::ShoppingKey key = planning::read_key(record.about);
  const build::Id& id = key.id.empty() ? record.about : key.id;
  std::vector<std::string> known = names_of(recording.build.jobs);
  for (const auto& one : recording.build.articles) known.push_back(one.id);
  for (const auto& one : recording.build.removals) known.push_back(one.id);
  for (const auto& one : recording.build.suppliers) known.push_back(one.id);
  for (const auto& one : recording.build.fitted) known.push_back(one.id);
  if (!id.empty() && std::find(known.begin(), known.end(), id) == known.end()) {
    recording.unknown(record.about, "a key or an id of the build", known);
    return std::nullopt;
  }
  return Batch{{{recording.day, log::Remark{record.about, record.text}}}};
}

Batch entries_of(const Recording& recording) {
  const std::string& action = recording.request.record.action;
  if (action == "bought") return bought_entries(recording);
  if (action == "paid") return paid_entries(recording);
  if (action == "fitted") return fitted_entries(recording);
  if (action == "counted") return counted_entries(recording);
  if (action == "in" || action == "out") return moved_entries(recording);
  if (action == "remark") return remark_entries(recording);
  if (action == "agreed") return agreed_entries(recording);
  if (action == "undo") return undo_entries(recording);
  return state_entries(recording);
}

std::string line_of(const log::Entry& entry, const budgets::Currency& currency) {
  return fmt::format("{:>4}  {}  {}{}\n", entry.number, budgets::write_date(entry.date),
                     log::in_words(entry.event, currency), log::by_words(entry.by));
}

int list(const log::Log& log, const Console& console) {
  const std::vector<bool> counts = log::effective(log);
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    const log::Entry& entry = log.entries[i];
    std::string line = line_of(entry, log.currency);
    const bool undone = !counts[i] && !std::holds_alternative<log::Undo>(entry.event);
    if (undone) line.insert(line.size() - 1, " (undone)");
    console.out << line;
  }
  if (log.entries.empty()) console.out << "Nothing is recorded yet.\n";
  return done;
}

/// Whatever becomes of the build file, what came in by the day of an entry stays as it was.
void note_income(const build::Build& build, const log::Log& log, std::vector<log::NewEntry>& batch) {
  std::optional<budgets::Date> latest;
  for (const log::Entry& entry : log.entries) {
    if (entry.brought && (!latest || entry.date > *latest)) latest = entry.date;
  }
  for (log::NewEntry& entry : batch) {
    if (latest && entry.date < *latest) continue;
    try {
      const auto sum = planning::brought_on(build, planning::brought_up_to(log, entry.date), entry.date);
      if (sum.minor() <= log::most_minor && sum.minor() >= -log::most_minor) entry.brought = sum;
    } catch (const budgets::MoneyOverflow&) {  // nothing can be planned with such amounts; the books go on
    }
  }
}

/// Days more than a year before the first payday or after the end are slips of the pen more often than not.
bool asks_for_sure(const Recording& recording, budgets::Date day) {
  constexpr int year = 366;
  const planning::Calendar calendar = planning::calendar_of(recording.build.money);
  const budgets::Date first = calendar.paydays.front();
  if (recording.request.record.sure || (first + -year <= day && day <= calendar.end + year)) return false;
  recording.refuse(
      fmt::format("{} is more than a year from the build's days, {} to {}; --sure records it all "
                  "the same",
                  budgets::write_date(day), budgets::write_date(first), budgets::write_date(calendar.end)));
  return true;
}

}  // namespace

void Recording::unknown(const std::string& word, const std::string& expected,
                        std::vector<std::string> known) const {
  const std::string nearest = text::nearest_name(word, text::Names(std::move(known)));
  refuse(fmt::format("'{}' is not {}{}", word, expected,
                     nearest.empty() ? "" : fmt::format("; did you mean '{}'?", nearest)));
}

void Recording::refuse(const std::string& what) const { console.err << "fettlefund: " << what << '\n'; }

std::optional<budgets::Money> Recording::amount() const { return amount(request.record.amount); }

std::optional<budgets::Money> Recording::amount(const std::string& text) const {
  const auto reading = budgets::read_money(text, build.currency);
  const bool fits = reading.amount && reading.amount->minor() <= log::most_minor &&
                    reading.amount->minor() >= -log::most_minor;
  if (fits) return reading.amount;
  refuse(fmt::format("'{}' is no amount of {} like {}", text, build.currency.code,
                     budgets::write_money(budgets::Money::of_minor(12995), build.currency)));
  return std::nullopt;
}

int record_batch(const Request& request, const Console& console, const build::Build& build,
                 const log::Log& log, std::vector<log::NewEntry> batch) {
  note_income(build, log, batch);
  note_purse_income(request, console, build, log, batch);
  for (log::NewEntry& entry : batch) {
    if (entry.by.empty()) entry.by = request.record.by;
  }
  const std::optional<std::string> path = log_path(request);
  if (!path) {
    console.err << "fettlefund: a build from standard input has no log\n";
    return bad_input;
  }
  if (request.record.dry_run) {
    for (const log::NewEntry& entry : batch) {
      console.out << fmt::format("      {}  {}{}\n", budgets::write_date(entry.date),
                                 log::in_words(entry.event, build.currency), log::by_words(entry.by));
    }
    console.out << fmt::format("Would be recorded in {}; nothing was written.\n", *path);
    return done;
  }
  log::Appended appended;
  const bool whole = written(console, [&] {
    appended = log::append(*path, {build.name, build.currency, console.around.salt}, batch);
  });
  for (const build::Diagnostic& diagnostic : appended.diagnostics) {
    if (diagnostic.severity == build::Severity::error) console.err << build::to_text(diagnostic) << '\n';
  }
  if (!whole || build::has_errors(appended.diagnostics)) return bad_input;
  if (!appended.diagnostics.empty()) {
    console.out << fmt::format("The end of {}, which had been cut short while it was written, was cut off.\n",
                               *path);
  }
  for (const log::Entry& entry : appended.entries) {
    console.out << line_of(entry, build.currency);
  }
  console.out << fmt::format("Recorded in {}.\n", *path);
  return done;
}

int record_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return bad_input;
  const std::optional<log::Reading> reading = read_log(request, console, *loaded.build);
  if (!reading) return bad_input;
  log::Log none;
  none.currency = loaded.build->currency;
  const log::Log& log = reading->log ? *reading->log : none;
  if (request.record.action == "list") return list(log, console);
  if (!request.record.other.empty()) return merge_record({request, console, *loaded.build, log, {}});
  const std::optional<budgets::Date> day = request.record.on ? request.record.on : console.around.today;
  if (!day) {
    console.err << "fettlefund: the day is not known; give it with --on DATE\n";
    return bad_input;
  }
  const Recording recording{request, console, *loaded.build, log, *day};
  for (const auto& told : {std::optional(*day), request.record.arrives}) {
    if (told && asks_for_sure(recording, *told)) return bad_input;
  }
  if (!request.record.workbook.empty()) return record_workbook(recording);
  const Batch batch = entries_of(recording);
  return batch ? record_batch(request, console, *loaded.build, log, *batch) : bad_input;
}

}  // namespace fettlefund::cli
