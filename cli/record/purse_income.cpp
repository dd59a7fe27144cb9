#include "cli/record/purse_income.hpp"

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "cli/standing.hpp"
#include "lib/log/read.hpp"
#include "lib/purse/standing.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> purse_files_beside(const std::string& build_file) {
  const fs::path folder = fs::path(build_file).parent_path();
  std::vector<std::string> found;
  std::error_code error;
  for (const fs::directory_entry& one : fs::directory_iterator(folder.empty() ? "." : folder, error)) {
    const std::string name = one.path().filename().string();
    if (purse::is_purse(name)) found.push_back((folder / name).string());
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// The only purse beside the build that names it.
std::optional<purse::Purse> purse_of(const Request& request, const Console& console) {
  std::optional<purse::Purse> own;
  for (const std::string& path : purse_files_beside(request.file)) {
    purse::Reading reading = purse::read_file(path);
    if (!reading.purse) {
      console.err << fmt::format(
          "warning: {0} has errors, so what it brought is not kept with this; `check {0}` tells them\n",
          path);
      continue;
    }
    std::error_code error;
    const auto& members = reading.purse->members;
    const bool ours = std::any_of(members.begin(), members.end(), [&](const purse::Member& member) {
      return fs::equivalent(member.path, request.file, error);
    });
    if (!ours) continue;
    if (own) {
      console.err << fmt::format(
          "warning: {} and {} both name this build, so what either brought is not kept with this\n",
          own->file, path);
      return std::nullopt;
    }
    own = std::move(reading.purse);
  }
  return own;
}

/// What the records of the purse's builds say; a record with errors says nothing.
std::vector<planning::History> histories_of(const Request& request, const purse::Purse& purse,
                                            const log::Log& own_log) {
  std::vector<planning::History> histories{planning::history_of(own_log, planning::last_date)};
  std::error_code error;
  for (const purse::Member& member : purse.members) {
    if (fs::equivalent(member.path, request.file, error)) continue;
    Request other = request;
    other.file = member.path;
    const auto path = log_path(other);
    const auto log = path ? log::read_file(*path).log : std::nullopt;
    if (log) histories.push_back(planning::history_of(*log, planning::last_date));
  }
  return histories;
}

}  // namespace

void note_purse_income(const Request& request, const Console& console, const build::Build& build,
                       const log::Log& log, std::vector<log::NewEntry>& batch) {
  const std::optional<purse::Purse> purse = purse_of(request, console);
  if (!purse) return;
  const std::vector<planning::History> histories = histories_of(request, *purse, log);
  const auto latest = purse::noted_up_to(histories, planning::last_date);
  build::Build shared = build;
  shared.money = purse->members.front().build.money;
  for (log::NewEntry& entry : batch) {
    if (latest && entry.date < latest->date) continue;
    try {
      const auto sum = planning::brought_on(shared, purse::noted_up_to(histories, entry.date), entry.date);
      if (sum.minor() <= log::most_minor && sum.minor() >= -log::most_minor) entry.purse_brought = sum;
    } catch (const budgets::MoneyOverflow&) {  // nothing can be planned with such amounts; the books go on
    }
  }
}

}  // namespace fettlefund::cli
