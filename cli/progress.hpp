#pragma once
#include <chrono>
#include <functional>
#include <string>

#include "cli/commands.hpp"

namespace fettlefund::cli {

/// A line of progress on `err` while a plan is searched for: only on a terminal or when asked for, and only
/// for work of more than a second. On a terminal the line is rewritten in place.
class ProgressLine {
 public:
  ProgressLine(const Request& request, const Console& console, int stages);

  /// The solver's options of the request, telling progress to this line, which must outlive them.
  budgets::SolveOptions options();

  /// Wipes the line, and says so if the user has stopped the search.
  void end();

 private:
  void show(const budgets::Progress& progress);

  const Request& request_;
  const Console& console_;
  int stages_;
  std::chrono::steady_clock::time_point next_;
  bool shown_ = false;
};

}  // namespace fettlefund::cli
