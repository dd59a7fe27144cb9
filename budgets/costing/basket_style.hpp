#pragma once
#include <cstdint>
#include <map>
#include <tuple>
#include <vector>

#include "budgets/costing/basket_ways.hpp"

/// Buying stage by stage otherwise than in the way cheapest for each: what costs a little more, or is ordered
/// earlier, may be what the cash allows.
namespace fettlefund::budgets {

/// For each wanted thing its way in the style, given the orders `placed`; those that join an order of an
/// earlier payday have that payday as their `stage`. Without a style: as `choose_ways`.
std::vector<Way> choose_in_style(const ProblemData& data, const std::vector<OpenOrder>& placed,
                                 const std::vector<Wanted>& wanted, Style style);

/// Baskets of one list of lines, whatever styles its stages are bought in; what a stage buys is remembered.
class StyledBaskets {
 public:
  /// `lines`: of each stage. All must outlive it.
  StyledBaskets(const ProblemData& data, const Buyer& buyer, const std::vector<std::vector<Line>>& lines)
      : data_(data), buyer_(buyer), lines_(lines) {}

  /// How all lines are bought where each stage buys by itself in its style ([stage]).
  std::vector<Pick> picks(const std::vector<Style>& styles);

  std::int64_t work() const { return work_; }  ///< in comparisons of ways to buy, about

 private:
  const std::vector<Pick>& picks_of(int stage, Style style, const std::vector<OpenOrder>& open);

  const ProblemData& data_;
  const Buyer& buyer_;
  const std::vector<std::vector<Line>>& lines_;
  /// By stage, style and the orders it can join.
  std::map<std::tuple<int, Style, std::vector<OpenOrder>>, std::vector<Pick>> known_;
  std::int64_t work_ = 0;
};

/// That of the ways which buys so; there must be one.
const Way& way_of(const std::vector<Way>& ways, int offer);

}  // namespace fettlefund::budgets
