#pragma once
#include <string>
#include <vector>

#include "lib/report/picture/model.hpp"
#include "lib/report/picture/text.hpp"

/// Where everything of the picture goes. Lengths are in mm of the drawing; y grows downwards.
namespace fettlefund::report {

struct PlacedBox {
  double x = 0, y = 0, width = 0, height = 0;  ///< x, y: its upper left corner
  Lettering name, about, takes_off;
};

struct PlacedStrip {
  double x = 0, y = 0, width = 0, height = 0;
  Lettering text;
  std::vector<double> ticks;  ///< x of the boxes that need it
  double tick_to = 0;         ///< y of those boxes' upper edges
};

struct PlacedBand {
  double y = 0, height = 0;
  std::vector<PlacedStrip> strips;
  Lettering remarks;
  double remarks_y = 0;
};

struct Point {
  double x = 0, y = 0;
};

/// An arrow's way from corner to corner, straight down and sideways in turn. `level`: its boxes stand side by
/// side, and it runs from the first point to the second.
struct PlacedArrow {
  std::vector<Point> points;
  bool level = false;
};

struct PictureLayout {
  double width = 0, height = 0;  ///< of the page
  double left = 0;               ///< where boxes begin, right of the labels
  std::vector<PlacedBox> boxes;
  std::vector<PlacedBand> bands;
  std::vector<PlacedArrow> arrows;
  std::vector<Lettering> clashes;
  double foot = 0;  ///< y below the last band, where signs are explained
};

inline constexpr double usual_box_width = 33;

/// On a page `width` wide (at least 150), as high as it comes out. Deterministic; work is bounded by about
/// the cube of a row's boxes and arrows, both bounded by the page.
PictureLayout lay_out(const PictureModel& model, double width, double box_width = usual_box_width);

/// The first of some page and box widths, pages 210 to 282 mm wide, with which all fits a sheet of A4's
/// proportions; else 210 mm wide and as high as needed.
PictureLayout lay_out_on_a4(const PictureModel& model);

}  // namespace fettlefund::report
