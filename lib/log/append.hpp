#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/log/entry.hpp"

namespace fettlefund::log {

/// Whose log it is, for one that is begun.
struct Subject {
  std::string build_name;
  budgets::Currency currency;
  std::string salt = {};  ///< tells apart those who write: goes into the ids of the lines, and may be empty
};

struct Appended {
  std::vector<Entry> entries;                  ///< as they stand in the log now, with their numbers
  std::vector<build::Diagnostic> diagnostics;  ///< errors: nothing was written; warnings: a torn end cut off
};

/// Appends the batch, in order, to the log at `path`, which is begun if there is none. On return everything
/// is on the disk: the file is synced, and its folder if the file is new. While it writes it holds an
/// exclusive lock on the file and waits up to `patience_ms` for another's. A torn end is cut off first and
/// told as a warning. Where the log has errors, is of another currency, or an undo names no entry that it can
/// undo, the errors are returned and the file stays as it is. std::runtime_error: it cannot be locked
/// ("another fettlefund is writing PATH; try again") or written; what was there before is then still whole.
/// An empty batch does nothing.
Appended append(const std::string& path, const Subject& subject, const std::vector<NewEntry>& batch,
                int patience_ms = 2000);

/// Puts `log` in the place of the log at `path`, whole or not at all: it is written beside it, synced and
/// renamed, under the lock that `append` takes. Only if the file still is `before`, byte by byte; false: it
/// is not, and stays as it is. std::runtime_error as for `append`.
bool replace(const std::string& path, const std::string& before, const Log& log, int patience_ms = 2000);

}  // namespace fettlefund::log
