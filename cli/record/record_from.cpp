#include <algorithm>
#include <ostream>

#include "cli/record/record.hpp"
#include "lib/sheets/read_back/settle.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// "my-bike.xlsx: Shopping I7: error: found 'maybe', expected an x or nothing".
void tell(const Console& console, const std::string& file, const sheets::Remarkable& one) {
  std::string place = one.sheet;
  if (!one.cell.empty()) place += " " + one.cell;
  if (!place.empty()) place += ": ";
  console.err << fmt::format("{}: {}{}: {}\n", file, place, one.error ? "error" : "warning", one.text);
}

std::size_t errors_of(const sheets::Settled& settled) {
  return static_cast<std::size_t>(std::count_if(settled.remarkable.begin(), settled.remarkable.end(),
                                                [](const auto& one) { return one.error; }));
}

/// The workbook, or nothing where `err` tells why it cannot be read.
std::optional<sheets::Readback> readback_of(const Recording& recording) {
  const std::string& file = recording.request.record.workbook;
  try {
    return sheets::read_workbook(file);
  } catch (const sheets::Unreadable& fault) {
    recording.refuse(fmt::format("cannot take anything from {}: {}", file, fault.what()));
    return std::nullopt;
  }
}

/// What has to come before a job and is recorded neither there nor here. Told, not refused.
void warn_of_order(const Recording& recording, const std::vector<log::NewEntry>& batch) {
  const auto fitted = [&](const build::Id& id) {
    const auto is = [&](const auto& entry) {
      const auto* one = std::get_if<log::Fitted>(&entry.event);
      return one && one->job == id;
    };
    return std::any_of(batch.begin(), batch.end(), is) ||
           std::any_of(recording.log.entries.begin(), recording.log.entries.end(), is);
  };
  for (const build::Job& job : recording.build.jobs) {
    if (!fitted(job.id)) continue;
    for (const build::Id& before : job.after) {
      if (fitted(before)) continue;
      recording.console.err << fmt::format("warning: {} comes after {}, which is not recorded as fitted\n",
                                           job.id, before);
    }
  }
}

void tell_rest(const Recording& recording, const sheets::Settled& settled, int ticks) {
  const std::string& file = recording.request.record.workbook;
  if (settled.known > 0) {
    recording.console.out << fmt::format("{} told by {} {} recorded already.\n",
                                         counted(static_cast<std::size_t>(settled.known), "thing"), file,
                                         settled.known == 1 ? "is" : "are");
  }
  if (ticks > 0) {
    recording.console.out << fmt::format("{} of rows that no log can name: for the eye, not recorded.\n",
                                         counted(static_cast<std::size_t>(ticks), "tick"));
  }
}

}  // namespace

int record_workbook(const Recording& recording) {
  const auto back = readback_of(recording);
  if (!back) return bad_input;
  const std::string& file = recording.request.record.workbook;
  const sheets::Settled settled = sheets::settle(*back, recording.build, recording.log, recording.day);
  for (const sheets::Remarkable& one : settled.remarkable) tell(recording.console, file, one);
  std::vector<log::NewEntry> batch;
  for (const sheets::Proposed& one : settled.proposed) batch.push_back(one.entry);
  if (const std::size_t errors = errors_of(settled); errors > 0) {
    recording.refuse(
        fmt::format("nothing of {} is recorded: put right {} first", file, counted(errors, "error")));
    return bad_input;
  }
  warn_of_order(recording, batch);
  tell_rest(recording, settled, back->ticks_for_the_eye);
  if (batch.empty()) {
    recording.console.out << fmt::format("Nothing new to record in {}.\n", file);
    return done;
  }
  return record_batch(recording.request, recording.console, recording.build, recording.log, batch);
}

}  // namespace fettlefund::cli
