#pragma once
#include <cstdint>
#include <optional>

#include "budgets/costing/basket.hpp"
#include "lib/outcome/view.hpp"

namespace fettlefund::planning {

/// What one job more takes in a stage.
struct Extra {
  std::optional<Money> money;  ///< nothing: something it needs cannot be had in time
  std::int64_t minutes = 0;
};

/// What jobs would take on top of the rest of a stage's plan: for a job of the stage, what it takes beyond
/// the others. Money: its fee; the packs that the stage has to buy more, each at the cheapest offer that
/// still arrives; for each tool it alone uses and that is not at hand, the cheaper of hiring it once and
/// buying it. Not delivery, and not the allowance. What is in store by then is used first, and what a removal
/// of the others spoils anyway is not counted. Minutes: its own and those of the removals it alone opens.
class ExtraOf {
 public:
  ExtraOf(const View& view, int stage);
  Extra job(int j) const;

 private:
  /// Jobs of the stage with all they open and use.
  struct Load {
    std::vector<int> jobs, opened, tools;
  };
  Load load_of(std::vector<int> jobs) const;
  std::optional<Money> goods(const Load& with, const Load& without) const;
  std::optional<Money> tools(const Load& with, const Load& without) const;
  budgets::Receipt bought(const Load& load) const;

  const View& view_;
  int stage_;
  budgets::Buyer buyer_;
  budgets::Stores stores_;  ///< before the stage's shopping, as the plan leaves them
};

}  // namespace fettlefund::planning
