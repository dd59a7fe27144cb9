#pragma once
#include <utility>
#include <vector>

#include "budgets/costing/basket.hpp"
#include "budgets/search/layers/sieve.hpp"
#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// A tool is bought where that is no dearer than hiring it.
constexpr int by_price = -1;

/// What descents decide: when units are done, how stages buy, and how tools that may be hired are come by.
struct Arrangement {
  Placing placing;            ///< [unit] its stage; -1: left out
  std::vector<Style> styles;  ///< [stage]
  /// [tool] hired before that stage, from then on bought as soon as it is needed; the number of stages: never
  /// bought. Or `by_price`. Of no account where a tool cannot be hired.
  std::vector<int> bought_from;

  friend bool operator==(const Arrangement&, const Arrangement&) = default;
};

/// Each stage buys in the way cheapest for it, tools by price.
inline Arrangement plain(const Model& model, Placing placing) {
  return {std::move(placing), std::vector<Style>(model.data().stages.size()),
          std::vector<int>(model.data().tools.size(), by_price)};
}

}  // namespace fettlefund::budgets::search
