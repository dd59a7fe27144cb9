#pragma once
#include <cstddef>
#include <vector>

#include "lib/report/picture/rows.hpp"

/// How arrows run through the rows: straight down through a row, sideways only just below it.
namespace fettlefund::report {

/// One stop a row that the arrow touches: it begins at the lower edge of a box in the first, passes through
/// those between, and ends at the upper edge of a box in the last. Below the row of each stop but the last it
/// runs sideways in a lane of its own.
struct Way {
  struct Stop {
    std::size_t row = 0;
    double x = 0;
    int lane = 0;  ///< below the row, from 0 at its top
  };
  /// Empty where both boxes stand side by side. Two stops in one row: from below one box to below the other,
  /// under those between.
  std::vector<Stop> stops;
};

struct Ways {
  std::vector<Way> ways;   ///< as PictureModel::arrows
  std::vector<int> lanes;  ///< of each row: how many run below it
};

/// Ends are spread along their box so that arrows of one box do not cross near it.
Ways ways_of(const PictureModel& model, const std::vector<Row>& rows, double box_width);

}  // namespace fettlefund::report
