#include "lib/log/undo.hpp"

#include <fmt/format.h>

namespace fettlefund::log {

std::string UndoTracker::fault(std::int64_t entry) const {
  if (states_.empty()) return "an entry before it";
  if (entry < 1 || entry > std::ssize(states_)) return fmt::format("an entry from 1 to {}", states_.size());
  switch (states_[static_cast<std::size_t>(entry) - 1]) {
    case State::undo:
      return fmt::format("an entry that is no undo: record again what entry {} undid", entry);
    case State::undone:
      return "an entry that is not undone already";
    case State::counts:
      break;
  }
  return {};
}

void UndoTracker::add(const Event& event) {
  const auto* undo = std::get_if<Undo>(&event);
  states_.push_back(undo ? State::undo : State::counts);
  if (undo) states_[static_cast<std::size_t>(undo->entry) - 1] = State::undone;
}

}  // namespace fettlefund::log
