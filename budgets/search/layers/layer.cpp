#include "budgets/search/layers/layer.hpp"

#include <algorithm>
#include <cstring>
#include <limits>

namespace fettlefund::budgets::search {
namespace {

std::uint64_t mix(std::uint64_t x) {
  x = (x ^ (x >> 32)) * 0x9E3779B97F4A7C15U;
  return x ^ (x >> 29);
}

std::uint64_t hash_of(const std::uint64_t* words, std::uint32_t count) {
  std::uint64_t hash = count;
  for (std::uint32_t i = 0; i < count; ++i) hash = mix(hash * 31 + words[i]);
  return hash;
}

/// As `compare` of plan.hpp: more value, then less money, then less time.
bool no_worse(const Row& a, const Row& b) {
  if (a.value != b.value) return a.value > b.value;
  if (a.spent != b.spent) return a.spent < b.spent;
  return a.minutes <= b.minutes;
}

}  // namespace

std::int64_t closed_spending(const Row& row, const std::uint64_t* words, std::int64_t allowance_bp) {
  std::int64_t closed = row.spent;
  for (std::uint32_t i = 0; i < row.open_paydays; ++i) {
    const std::uint64_t paid = words[row.key_words + row.order_words + i];
    closed -= with_allowance(static_cast<std::int64_t>(paid), allowance_bp);
  }
  return closed;
}

void encode_orders(const std::vector<OpenOrder>& orders, std::vector<std::uint64_t>& words) {
  for (const OpenOrder& order : orders) {
    words.push_back(static_cast<std::uint64_t>(order.stage) << 32 |
                    static_cast<std::uint32_t>(order.supplier));
    words.push_back(static_cast<std::uint64_t>(order.goods.minor()) << 1 | (order.waits ? 1U : 0U));
  }
}

void decode_orders(const std::uint64_t* words, std::uint32_t count, std::vector<OpenOrder>& orders) {
  orders.clear();
  for (std::uint32_t i = 0; i < count; i += 2) {
    orders.push_back({static_cast<int>(words[i] >> 32), static_cast<int>(words[i] & 0xFFFFFFFFU),
                      Money::of_minor(static_cast<std::int64_t>(words[i + 1] >> 1)),
                      (words[i + 1] & 1U) != 0});
  }
}

/// `orders`: where those of the row are to be put; not done yet.
Standing Layer::standing(const Row& row, const std::uint64_t* words,
                         const std::vector<OpenOrder>& orders) const {
  const auto* paid = reinterpret_cast<const std::int64_t*>(words + row.key_words + row.order_words);
  return {orders, paid, static_cast<int>(row.first_open), static_cast<int>(row.open_paydays),
          closed_spending(row, words, allowance_bp_)};
}

/// Whether `a` is no worse, and can buy as well later on as `b` and pay no more up to any payday.
bool Layer::dominates(const Row& a, const std::uint64_t* a_words, const Row& b,
                      const std::uint64_t* b_words) const {
  if (!no_worse(a, b) || a.spent > b.spent) return false;
  if (a.open_paydays == 0 && a.order_words == 0 && b.order_words == 0) return true;
  if (ways_ == nullptr) {
    const auto* one = a_words + a.key_words;
    return std::equal(one, one + a.order_words, b_words + b.key_words, [](auto x, auto y) { return x >= y; });
  }
  const Standing one = standing(a, a_words, a_orders_), other = standing(b, b_words, b_orders_);
  if (ways_->ahead_somewhere(one, other)) return false;
  decode_orders(a_words + a.key_words, a.order_words, a_orders_);
  decode_orders(b_words + b.key_words, b.order_words, b_orders_);
  switch (ways_->match(one, other)) {
    case Match::none:
      return false;
    case Match::later:
    case Match::level:  // in the end both may have paid the same
      return a.value > b.value || a.minutes <= b.minutes;
    default:
      return true;
  }
}

void Layer::grow() {
  table_.assign(std::max<std::size_t>(256, table_.size() * 2), 0);
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    std::uint32_t& head = table_[rows_[i].hash & (table_.size() - 1)];
    rows_[i].next = head;
    head = static_cast<std::uint32_t>(i + 1);
  }
}

bool Layer::same_key(const Row& a, const Row& b, const std::uint64_t* b_words) const {
  return a.hash == b.hash && a.key_words == b.key_words && a.open_paydays == b.open_paydays &&
         std::memcmp(words(a), b_words, a.key_words * sizeof(std::uint64_t)) == 0;
}

int Layer::insert(Row row, const std::vector<std::uint64_t>& words) {
  if (rows_.size() + 1 > table_.size()) grow();
  row.hash = static_cast<std::uint32_t>(hash_of(words.data(), row.key_words));
  std::uint32_t& head = table_[row.hash & (table_.size() - 1)];
  std::uint32_t victim = 0;
  int compared = 0;
  for (std::uint32_t i = head; i != 0; i = rows_[i - 1].next) {
    Row& old = rows_[i - 1];
    if (!same_key(old, row, words.data())) continue;
    ++compared;
    if (dominates(old, this->words(old), row, words.data())) return compared;
    if (!dominates(row, words.data(), old, this->words(old))) continue;
    // The new row takes the place of the first it dominates; others are marked by an impossible bound.
    if (victim == 0) victim = i;
    old.bound = std::numeric_limits<std::int64_t>::min();
  }
  if (victim != 0) {
    Row& old = rows_[victim - 1];
    row.next = old.next;
    row.words = old.words;
    if (words.size() > std::size_t{old.key_words} + old.order_words + old.open_paydays) {
      row.words = words_.size();
      words_.resize(words_.size() + words.size());
    }
    std::copy(words.begin(), words.end(), words_.begin() + static_cast<std::ptrdiff_t>(row.words));
    old = row;
    return compared;
  }
  row.words = words_.size();
  row.next = head;
  words_.insert(words_.end(), words.begin(), words.end());
  rows_.push_back(row);
  head = static_cast<std::uint32_t>(rows_.size());
  return compared;
}

std::int64_t Layer::trim(std::size_t width, std::int64_t least) {
  std::vector<std::uint32_t> order;
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    if (rows_[i].bound >= least) order.push_back(static_cast<std::uint32_t>(i));
  }
  const auto better = [&](std::uint32_t a, std::uint32_t b) {
    if (rows_[a].bound != rows_[b].bound) return rows_[a].bound > rows_[b].bound;
    return a < b;
  };
  std::int64_t dropped = least - 1;
  std::sort(order.begin(), order.end(), better);
  if (order.size() > width) {
    dropped = rows_[order[width]].bound;
    order.resize(width);
  }
  std::vector<Row> rows;
  std::vector<std::uint64_t> kept;
  rows.reserve(order.size());
  for (std::uint32_t i : order) {
    Row row = rows_[i];
    const auto* from = words(rows_[i]);
    row.words = kept.size();
    kept.insert(kept.end(), from, from + row.key_words + row.order_words + row.open_paydays);
    rows.push_back(row);
  }
  rows_ = std::move(rows);
  words_ = std::move(kept);
  std::size_t size = 256;
  while (size < rows_.size()) size *= 2;
  table_.assign(size / 2, 0);
  grow();
  return dropped;
}

}  // namespace fettlefund::budgets::search
