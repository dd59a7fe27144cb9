#pragma once
#include <vector>

#include "lib/report/picture/model.hpp"

/// Which boxes stand side by side, in which order and where along their row.
namespace fettlefund::report {

/// A box, or the place where an arrow passes through a row.
struct Item {
  int box = -1;    ///< -1: an arrow passes
  int arrow = -1;  ///< the passing arrow
  double width = 0;
  double x = 0;  ///< of its middle
};

struct Row {
  int band = 0;
  std::vector<Item> items;  ///< from left to right
};

struct RowSpace {
  double left = 0, right = 0;  ///< where items may stand
  double box_width = 0, pass_width = 0;
  double box_gap = 0, pass_gap = 0;  ///< least space between two boxes; beside an arrow that passes
};

/// Rows from top to bottom. A band has as many rows as its boxes need beside the arrows that pass, at least
/// one. Arrows pass through the rows between their ends, except where a row would hold more than
/// `most_passes`; then they are not in it. Items stay between left and right where that many passes and one
/// box find room. Orders keep arrows short, boxes under one strip together and an arrow's end right of its
/// beginning in a common row.
std::vector<Row> rows_of(const PictureModel& model, const RowSpace& space);

/// Orders the items of each row and gives them their places, as told above.
void put_in_order(const PictureModel& model, const RowSpace& space, std::vector<Row>& rows);

inline constexpr std::size_t most_passes = 24;

}  // namespace fettlefund::report
