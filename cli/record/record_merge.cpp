#include <filesystem>
#include <fstream>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include "cli/record/record.hpp"
#include "cli/replacing.hpp"
#include "lib/log/append.hpp"
#include "lib/log/merge.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

std::optional<log::Keep> choice_of(const std::string& word) {
  if (word == "mine") return log::Keep::mine;
  if (word == "theirs") return log::Keep::theirs;
  return word == "both" ? std::optional(log::Keep::both) : std::nullopt;
}

std::string told(const log::Told& one, const budgets::Currency& currency) {
  return fmt::format("{}:{}: {}  {}\n", one.file, one.line, budgets::write_date(one.date),
                     log::in_words(one.event, currency));
}

/// The other record; nothing: `err` tells why it cannot be merged.
std::optional<log::Log> other_record(const Recording& recording, const std::string& path) {
  const std::string& file = recording.request.record.other;
  std::error_code error;
  if (std::filesystem::equivalent(path, file, error)) {
    recording.refuse(fmt::format("{} is the record of this build itself", file));
    return std::nullopt;
  }
  const log::Reading reading = log::read_file(file);
  for (const build::Diagnostic& one : reading.diagnostics)
    recording.console.err << build::to_text(one) << '\n';
  if (build::has_errors(reading.diagnostics)) return std::nullopt;
  if (!reading.log) {
    recording.refuse(fmt::format("{} is no record, or an empty one", file));
    return std::nullopt;
  }
  const std::string& name = recording.log.entries.empty() ? recording.build.name : recording.log.build_name;
  if (reading.log->build_name != name && !recording.request.record.sure) {
    recording.refuse(fmt::format("{} is the record of '{}', not of '{}'; --sure merges it all the same", file,
                                 reading.log->build_name, name));
    return std::nullopt;
  }
  return reading.log;
}

/// What two lines say, and what can be done about it. Returns the exit code.
int tell_conflicts(const Recording& recording, const log::Merged& merged) {
  const budgets::Currency& currency = recording.build.currency;
  std::size_t stuck = 0;
  for (const log::Conflict& one : merged.conflicts) {
    recording.console.err << told(one.mine, currency) << told(one.theirs, currency)
                          << (one.open ? "" : "  one takes back what the other goes on with\n");
    stuck += one.open ? 0 : 1;
  }
  const log::Conflict& first = merged.conflicts.front();
  const std::string things =
      fmt::format("nothing is merged: {} and {} tell {} differently; ", first.mine.file, first.theirs.file,
                  counted(merged.conflicts.size(), "thing"));
  recording.refuse(things +
                   (stuck > 0 ? "where one takes back what the other goes on with, undo one of the two first"
                              : "--settle mine, theirs or both says which counts"));
  return bad_input;
}

std::string contents(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Says what merging comes to, in the past tense or as what would be.
void tell(const Recording& recording, const log::Merged& merged, const std::string& path) {
  std::ostream& out = recording.console.out;
  const std::string& file = recording.request.record.other;
  const bool dry = recording.request.record.dry_run;
  out << fmt::format("{} of {} {} {}.\n", counted(merged.taken, "line"), file,
                     dry                 ? "would be merged into"
                     : merged.taken == 1 ? "is merged into"
                                         : "are merged into",
                     path);
  if (merged.same > 0)
    out << fmt::format("{} that both told {} once.\n", counted(merged.same, "line"),
                       merged.same == 1 ? "counts" : "count");
  if (!merged.conflicts.empty())
    out << fmt::format(
        "{} told differently {} settled: {}.\n", counted(merged.conflicts.size(), "thing"),
        merged.conflicts.size() == 1 ? "is" : "are",
        recording.request.record.settle == "both"
            ? "both lines count"
            : fmt::format("{} count, the other lines are undone", recording.request.record.settle));
  if (merged.renumbered) out << "Entries have new numbers; `record FILE list` shows them.\n";
  if (!recording.log.entries.empty() && merged.log.id != recording.log.id)
    out << "Workbooks written before go by other numbers: they are not recorded any more; write new ones.\n";
}

}  // namespace

int merge_record(const Recording& recording) {
  const std::optional<std::string> path = log_path(recording.request);
  if (!path) {
    recording.refuse("a build from standard input has no log");
    return bad_input;
  }
  const std::string before = contents(*path);
  const std::optional<log::Log> other = other_record(recording, *path);
  if (!other) return bad_input;
  log::Log mine = recording.log;
  if (mine.entries.empty() && mine.id.empty())
    mine = log::Log{*path, other->build_name, other->id, other->currency, {}};
  log::Merged merged;
  try {
    merged = log::merge(mine, *other, choice_of(recording.request.record.settle));
  } catch (const std::invalid_argument& wrong) {
    recording.refuse(fmt::format("{}: {}", recording.request.record.other, wrong.what()));
    return bad_input;
  }
  if (!merged.conflicts.empty() && merged.log.id.empty()) return tell_conflicts(recording, merged);
  if (merged.taken == 0 && merged.same == 0) {
    recording.console.out << fmt::format("Nothing of {} is new.\n", recording.request.record.other);
    return done;
  }
  tell(recording, merged, *path);
  if (recording.request.record.dry_run) {
    recording.console.out << "Nothing was written.\n";
    return done;
  }
  std::string kept;
  bool replaced = false;
  const bool whole = written(recording.console, [&] {
    if (!before.empty()) kept = keep_beside(*path);
    replaced = log::replace(*path, before, merged.log);
  });
  if (!whole) return bad_input;
  if (!replaced) {
    recording.refuse(fmt::format("{} was written to meanwhile; try again", *path));
    return bad_input;
  }
  if (!kept.empty()) recording.console.out << fmt::format("The record as it was is kept in {}.\n", kept);
  return done;
}

}  // namespace fettlefund::cli
