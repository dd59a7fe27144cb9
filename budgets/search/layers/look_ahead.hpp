#pragma once
#include <cstdint>
#include <limits>
#include <vector>

namespace fettlefund::budgets::search {

/// One thing that a stage may still take up: what it adds at most, and what it takes at least.
struct Prospect {
  std::int64_t gain = 0;   ///< grid
  std::int64_t level = 0;  ///< of money
};

/// For each place in a list of prospects and each level of spending: the best of a completion table once any
/// of the prospects from that place on are taken up. With it a tree over the prospects is cut where nothing
/// good can follow.
class LookAhead {
 public:
  /// `after` is the table, its first entry for level `from`, `size` entries; it has to outlive the rows.
  void build(const std::vector<Prospect>& prospects, const std::int32_t* after, std::int64_t from,
             std::int64_t size);

  /// The best with prospects `next` and later; `beyond` where the level is past the table's end. Where gains
  /// are too large for the table nothing is known: `unknown`.
  std::int64_t at(std::size_t next, std::int64_t level) const {
    if (!known_) return unknown;
    return level - from_ >= size_ ? beyond : rows_[next][level - from_];
  }
  std::int64_t cost() const { return cost_; }  ///< of the last build, in steps

  static constexpr std::int64_t beyond = -(std::int64_t{1} << 60);
  static constexpr std::int64_t unknown = std::int64_t{1} << 60;

 private:
  std::int64_t from_ = 0;
  std::int64_t size_ = 0;
  std::int64_t cost_ = 0;
  bool known_ = true;
  std::vector<const std::int32_t*> rows_;
  std::vector<std::vector<std::int32_t>> storage_;
};

}  // namespace fettlefund::budgets::search
