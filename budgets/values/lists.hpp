#pragma once
#include <algorithm>
#include <vector>

namespace fettlefund::budgets {

/// Sorts `values`, ascending, and keeps one of each.
template <class Value>
void sort_unique(std::vector<Value>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

/// Whether `value` is among `values`, which need not be sorted.
template <class Value>
bool contains(const std::vector<Value>& values, const Value& value) {
  return std::find(values.begin(), values.end(), value) != values.end();
}

}  // namespace fettlefund::budgets
