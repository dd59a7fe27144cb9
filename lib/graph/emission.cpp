#include "lib/graph/emission.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace fettlefund::graph {

namespace {

class Emitter {
 public:
  Emitter(const StepGraph& graph, const std::vector<Event>& events)
      : graph_(graph), earlier_(reversed(graph.arrows)), size_(graph.steps.size()) {
    done_.assign(size_, 0);
    pending_.assign(size_, 0);
    cursor_.assign(size_, 0);
    for (const Event& event : events) blocks_.push_back(block_of(event));
    sort_earlier();
  }

  std::vector<int> emit() {
    std::vector<Block> waiting;
    for (Block block : blocks_) {
      if (!advance(block)) waiting.push_back(block);
      retry(waiting);
    }
    for (const Block& block : waiting) {
      for (int step = block.first; step < block.end; ++step) draw(step);
    }
    return std::move(order_);
  }

 private:
  Block block_of(const Event& event) const {
    const auto& table =
        event.move == Move::off ? graph_.off : (event.move == Move::on ? graph_.on : graph_.work);
    return table.at(event.index);
  }

  void sort_earlier() {
    std::vector<int> position(size_, 0);
    int next = 0;
    for (const Block& block : blocks_) {
      for (int step = block.first; step < block.end; ++step) position[step] = next++;
    }
    for (auto& steps : earlier_)
      std::sort(steps.begin(), steps.end(), [&](int a, int b) { return position[a] < position[b]; });
  }

  /// Emits as much of the block as needs not wait for anything to go back on; true when all of it is done.
  bool advance(Block& block) {
    while (block.first < block.end && !waits_for_something_on(block.first)) draw(block.first++);
    return block.first == block.end;
  }

  void retry(std::vector<Block>& waiting) {
    for (std::size_t i = 0; i < waiting.size();) {
      const int before = waiting[i].first;
      const bool all = advance(waiting[i]);
      const bool moved = waiting[i].first != before;
      if (all) waiting.erase(waiting.begin() + static_cast<long>(i));
      if (moved)
        i = 0;
      else
        ++i;
    }
  }

  bool waits_for_something_on(int step) const {
    std::vector<char> seen(size_, 0);
    std::vector<int> open{step};
    while (!open.empty()) {
      const int at = open.back();
      open.pop_back();
      if (std::exchange(seen[at], 1)) continue;
      if (at != step && graph_.origins[at].part == Part::on) return true;
      std::copy_if(earlier_[at].begin(), earlier_[at].end(), std::back_inserter(open),
                   [&](int before) { return !done_[before]; });
    }
    return false;
  }

  /// Emits the step after all it depends on.
  void draw(int step) {
    std::vector<int> path{step};
    while (!path.empty()) {
      const int at = path.back();
      const int before = next_missing(at);
      if (before >= 0) {
        pending_[at] = 1;
        path.push_back(before);
        continue;
      }
      if (!std::exchange(done_[at], 1)) order_.push_back(at);
      path.pop_back();
    }
  }

  /// The next step not yet done that `step` depends on; -1: none.
  int next_missing(int step) {
    auto& cursor = cursor_[step];
    while (cursor < earlier_[step].size()) {
      const int before = earlier_[step][cursor++];
      if (!done_[before] && !pending_[before]) return before;
    }
    return -1;
  }

  const StepGraph& graph_;
  Arrows earlier_;
  std::size_t size_;
  std::vector<Block> blocks_;
  std::vector<char> done_, pending_;
  std::vector<std::size_t> cursor_;
  std::vector<int> order_;
};

}  // namespace

std::vector<int> emission(const StepGraph& graph, const std::vector<Event>& events) {
  return Emitter(graph, events).emit();
}

}  // namespace fettlefund::graph
