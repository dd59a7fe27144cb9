#pragma once
#include <string>
#include <vector>

#include "lib/log/entry.hpp"

namespace fettlefund::log {

/// Follows which entries were undone, entry by entry.
class UndoTracker {
 public:
  /// Why the next entry cannot be an undo of `entry`; empty: it can.
  std::string fault(std::int64_t entry) const;
  /// Takes note of the next entry.
  void add(const Event& event);

 private:
  enum class State { counts, undo, undone };
  std::vector<State> states_;
};

}  // namespace fettlefund::log
