#include "lib/graph/tightening.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "lib/fitment/torque.hpp"
#include "lib/fitment/torque_pattern.hpp"
#include "lib/graph/tag.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

using Steps = std::vector<WrittenStep>;

constexpr std::array fitting_words{"bolt ",  "do up ", "fit ",   "insert ", "put ",
                                   "refit ", "run ",   "screw ", "thread ", "wind "};
constexpr std::array tightening_words{"tighten ", "torque "};
constexpr std::array loose_words{"by hand", "hand tight", "finger tight", "loosely", "do not tighten"};
constexpr std::array locking_words{"bend ", "stake ", "peen ", "lock wire ", "wire lock "};
constexpr std::array locking_things{"split pin", "cotter pin", "lock wire", "lockwire", "safety wire"};
constexpr std::array undoing_words{"cut ",  "discard ", "draw ",       "knock ", "pull ",
                                   "push ", "remove ",  "straighten ", "take ",  "undo "};

template <typename Words>
bool begins_with_any(const std::string& text, const Words& words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return text.starts_with(word); });
}

template <typename Words>
bool speaks_of_any(const std::string& text, const Words& words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return text.find(word) != std::string::npos; });
}

std::string text_of(const WrittenStep& step) { return normal_tag(step.said); }

/// The pattern as written; opposite pairs of a number that can be told at a glance are told.
std::string pattern_text(const build::Torque& torque) {
  constexpr int told_at_most = 16;
  const bool told = normal_tag(torque.pattern) == "opposite pairs" && torque.fasteners <= told_at_most;
  if (!told) return torque.pattern;
  const std::string order = fitment::write_sequence(fitment::tightening_sequence(torque.fasteners));
  return fmt::format("{} ({}, counted round)", torque.pattern, order);
}

std::string how_many(const build::Torque& torque) {
  if (torque.fasteners <= 1) return torque.pattern;
  const std::string count = fmt::format("{} fasteners", torque.fasteners);
  return torque.pattern.empty() ? count : count + ", " + pattern_text(torque);
}

/// In both units; a text that is no torque stands as written.
std::string torque_text(const std::string& value) {
  const auto reading = fitment::read_torque(value);
  return reading.written ? fitment::write_torque_both(reading.written->torque) : value;
}

bool is_tightened(const WrittenStep& step) { return step.shown.kind == StepKind::tighten; }

class TighteningPlacer {
 public:
  TighteningPlacer(Steps& steps, const WrittenStep& like) : steps_(steps), like_(like) {}

  void place(const std::vector<build::Torque>& torques) {
    std::vector<const build::Torque*> left;
    for (const build::Torque& torque : torques) {
      if (!give_as_written(torque)) left.push_back(&torque);
    }
    std::vector<const build::Torque*> untold;
    for (const build::Torque* torque : left) {
      if (!place_by_words(*torque)) untold.push_back(torque);
    }
    if (untold.size() == 1 && give_to_the_only_one(*untold.front())) return;
    for (const build::Torque* torque : untold) insert(before_locks(-1, ""), *torque);
  }

 private:
  static void give(WorkStep& step, const build::Torque& torque) {
    step.kind = StepKind::tighten;
    const std::string many = how_many(torque);
    if (!many.empty()) step.text += ": " + many;
    step.torque += (step.torque.empty() ? "" : "; ") + torque_text(torque.value);
    if (step.source != torque.source) step.source += (step.source.empty() ? "" : "; ") + torque.source;
  }

  bool give_as_written(const build::Torque& torque) {
    bool given = false;
    for (WrittenStep& step : steps_) {
      if (step.tightens.empty() || step.tightens != torque.on) continue;
      give(step.shown, torque);
      given = true;
    }
    return given;
  }

  /// The last step that speaks of the fastener and locks nothing; -1 if none does.
  int about(const std::string& fastener) const {
    if (fastener.empty()) return -1;
    for (int i = static_cast<int>(steps_.size()) - 1; i >= 0; --i) {
      const WrittenStep& step = steps_[static_cast<std::size_t>(i)];
      if (!step.locking && text_of(step).find(fastener) != std::string::npos) return i;
    }
    return -1;
  }

  /// False where no step speaks of the fastener.
  bool place_by_words(const build::Torque& torque) {
    const std::string fastener = normal_tag(torque.on);
    const int step = about(fastener);
    if (step < 0) {
      if (last_about(steps_, fastener) < 0) return false;
      insert(before_locks(-1, fastener), torque);
      return true;
    }
    WrittenStep& spoken = steps_[static_cast<std::size_t>(step)];
    const std::string text = text_of(spoken);
    if (!is_tightened(spoken) && begins_with_any(text, tightening_words)) {
      give(spoken.shown, torque);
      return true;
    }
    const bool fitted = begins_with_any(text, fitting_words) && !speaks_of_any(text, loose_words);
    insert(is_tightened(spoken) || fitted ? past_tightened(step + 1) : before_locks(step, fastener), torque);
    return true;
  }

  /// One step that tightens something no torque speaks of, and one torque that no step speaks of.
  bool give_to_the_only_one(const build::Torque& torque) {
    const auto untold = [&](const WrittenStep& step) {
      return !is_tightened(step) && begins_with_any(text_of(step), tightening_words);
    };
    if (std::count_if(steps_.begin(), steps_.end(), untold) != 1) return false;
    give(std::find_if(steps_.begin(), steps_.end(), untold)->shown, torque);
    return true;
  }

  std::size_t past_tightened(int step) const {
    auto at = static_cast<std::size_t>(step);
    while (at < steps_.size() && is_tightened(steps_[at])) ++at;
    return at;
  }

  /// The place before a locking step past `step` that speaks of the fastener, else before the last that lock;
  /// the end where none does.
  std::size_t before_locks(int step, const std::string& fastener) const {
    const auto first = static_cast<std::size_t>(step + 1);
    for (std::size_t i = first; i < steps_.size() && !fastener.empty(); ++i) {
      if (steps_[i].locking && text_of(steps_[i]).find(fastener) != std::string::npos) return i;
    }
    std::size_t last = steps_.size();
    while (last > first && !steps_[last - 1].locking) --last;
    if (last == first) return steps_.size();
    while (last > first && steps_[last - 1].locking) --last;
    return last;
  }

  void insert(std::size_t at, const build::Torque& torque) {
    WrittenStep tighten = like_;
    tighten.shown.text = tighten.said = "Tighten " + torque.on;
    give(tighten.shown, torque);
    steps_.insert(steps_.begin() + static_cast<long>(at), std::move(tighten));
  }

  Steps& steps_;
  const WrittenStep& like_;
};

}  // namespace

bool locks(const std::string& text) {
  if (begins_with_any(text, undoing_words) || begins_with_any(text, tightening_words)) return false;
  return begins_with_any(text, locking_words) || speaks_of_any(text, locking_things);
}

bool puts_in_a_lock(const std::string& text) { return speaks_of_any(text, locking_things); }

bool is_lock(const build::Article& article) {
  return speaks_of_any(normal_tag(article.name), locking_things);
}

int last_about(const Steps& steps, const std::string& thing) {
  if (thing.empty()) return -1;
  for (int i = static_cast<int>(steps.size()) - 1; i >= 0; --i) {
    if (text_of(steps[static_cast<std::size_t>(i)]).find(thing) != std::string::npos) return i;
  }
  return -1;
}

void place_torques(Steps& steps, const std::vector<build::Torque>& torques, const WrittenStep& like) {
  TighteningPlacer(steps, like).place(torques);
}

}  // namespace fettlefund::graph
