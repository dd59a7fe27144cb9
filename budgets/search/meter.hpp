#pragma once
#include <atomic>
#include <cstdint>

namespace fettlefund::budgets::search {

/// Counts the steps of a search (a step is about one elementary operation) and knows when to end it.
/// Only the stop flag makes two runs differ.
class Meter {
 public:
  Meter(std::int64_t limit, const std::atomic<bool>* stop) : limit_(limit), stop_(stop) {}
  void add(std::int64_t steps) { steps_ += steps; }
  std::int64_t steps() const { return steps_; }
  void lower_limit(std::int64_t limit) { limit_ = limit < limit_ ? limit : limit_; }
  std::int64_t left() const { return limit_ - steps_; }
  bool stopped() const { return stop_ != nullptr && stop_->load(std::memory_order_relaxed); }
  /// A meter of its own with at most `limit` of the steps left; its steps are to be added here afterwards.
  Meter part(std::int64_t limit) const { return {limit < left() ? limit : left(), stop_}; }
  bool out() const { return steps_ >= limit_ || stopped(); }

 private:
  std::int64_t steps_ = 0;
  std::int64_t limit_;
  const std::atomic<bool>* stop_;
};

}  // namespace fettlefund::budgets::search
