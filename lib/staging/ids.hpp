#pragma once
#include <algorithm>
#include <cstddef>
#include <map>
#include <numeric>
#include <vector>

#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// Index of the entry with this id, or -1. Works for suppliers, articles, removals, jobs, fitted things.
template <class Entry>
int find_id(const std::vector<Entry>& entries, const build::Id& id) {
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (entries[i].id == id) return static_cast<int>(i);
  }
  return -1;
}

/// The indices of entries with an id, by id.
template <class Entry>
std::vector<int> by_id(const std::vector<Entry>& entries) {
  std::vector<int> order(entries.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return entries[static_cast<std::size_t>(a)].id < entries[static_cast<std::size_t>(b)].id;
  });
  return order;
}

/// [entry] its place among all by id.
template <class Entry>
std::vector<int> ranks_by_id(const std::vector<Entry>& entries) {
  std::vector<int> ranks(entries.size());
  int rank = 0;
  for (const int i : by_id(entries)) ranks[static_cast<std::size_t>(i)] = rank++;
  return ranks;
}

/// Ids to indices of many entries at once: a lookup is logarithmic.
class IdTable {
 public:
  template <class Entry>
  explicit IdTable(const std::vector<Entry>& entries) {
    for (std::size_t i = 0; i < entries.size(); ++i) indices_.emplace(entries[i].id, static_cast<int>(i));
  }

  /// The index of `id`, or -1.
  int find(const build::Id& id) const {
    const auto found = indices_.find(id);
    return found == indices_.end() ? -1 : found->second;
  }

  /// The indices of ids that exist, in the order given.
  std::vector<int> find_all(const std::vector<build::Id>& ids) const {
    std::vector<int> found;
    for (const build::Id& id : ids) {
      if (const int index = find(id); index >= 0) found.push_back(index);
    }
    return found;
  }

 private:
  std::map<build::Id, int> indices_;
};

}  // namespace fettlefund::planning
