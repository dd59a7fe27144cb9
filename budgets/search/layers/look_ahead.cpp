#include "budgets/search/layers/look_ahead.hpp"

#include <algorithm>

#include "budgets/search/bound/kernel.hpp"

namespace fettlefund::budgets::search {

void LookAhead::build(const std::vector<Prospect>& prospects, const std::int32_t* after, std::int64_t from,
                      std::int64_t size) {
  constexpr std::int64_t most = std::int64_t{1} << 29;
  from_ = from;
  size_ = std::max<std::int64_t>(size, 0);
  cost_ = 0;
  std::int64_t sum = 0;
  for (const Prospect& p : prospects) sum += std::clamp<std::int64_t>(p.gain, 0, most);
  known_ = sum < most;
  if (!known_ || size_ == 0) return;
  rows_.resize(prospects.size() + 1);
  rows_[prospects.size()] = after;
  if (storage_.size() < prospects.size()) storage_.resize(prospects.size());
  for (std::size_t i = prospects.size(); i-- > 0;) {
    const std::int32_t* next = rows_[i + 1];
    const auto [gain, level] = prospects[i];
    rows_[i] = next;
    if (gain <= 0 || level >= size_) continue;
    auto& row = storage_[i];
    if (row.size() < static_cast<std::size_t>(size_)) row.resize(size_);
    blend(row.data(), next, next + level, static_cast<std::int32_t>(gain), size_ - level);
    std::copy(next + size_ - level, next + size_, row.data() + size_ - level);
    rows_[i] = row.data();
    cost_ += size_ / 6 + 10;
  }
}

}  // namespace fettlefund::budgets::search
