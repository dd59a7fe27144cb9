#pragma once
#include <string>
#include <vector>

#include "cli/standing.hpp"
#include "lib/log/append.hpp"

namespace fettlefund::cli {

/// Shows the entries and appends them to the log of the request's build, so far `log`, unless the request is
/// a dry run. Each entry takes along what the build's money came to by its day, unless the log knows of a
/// later day, and who records it, where it does not name somebody itself. Faults go to `err`. Returns the
/// exit code.
int record_batch(const Request& request, const Console& console, const build::Build& build,
                 const log::Log& log, std::vector<log::NewEntry> batch);

/// What a record action works with.
struct Recording {
  const Request& request;
  const Console& console;
  const build::Build& build;
  const log::Log& log;  ///< without entries where there is none yet
  budgets::Date day;    ///< the date of what is recorded

  /// Says on `err` that `word` is not `expected`, with the nearest of `known`.
  void unknown(const std::string& word, const std::string& expected, std::vector<std::string> known) const;
  void refuse(const std::string& what) const;
  std::optional<budgets::Money> amount() const;  ///< of the request; told on `err` if it is none
  std::optional<budgets::Money> amount(const std::string& text) const;
};

/// The stage that a purchase on `day` is for: the first whose bench date is not before it, else the last.
int stage_on_day(const build::Build& build, budgets::Date day);

/// The entries of `record BUILD bought`; nothing if `err` tells why not. What the command line leaves open
/// (packs, amount, arrival) is as the current plan has it.
std::optional<std::vector<log::NewEntry>> bought_entries(const Recording& recording);

/// The entry of `deposit`, `balance`, `refund`, `arrived`, `begun`, `given-up` and the ways in which things
/// go.
std::optional<std::vector<log::NewEntry>> state_entries(const Recording& recording);

/// `record BUILD --from FILE.xlsx`: shows and records what the workbook tells. Returns the exit code.
int record_workbook(const Recording& recording);

/// `record BUILD --merge OTHER.record`: makes one record of two. Returns the exit code.
int merge_record(const Recording& recording);

/// The entry of `record BUILD agreed`: every job of the current plan on its bench date.
std::optional<std::vector<log::NewEntry>> agreed_entries(const Recording& recording);

}  // namespace fettlefund::cli
