#include "lib/report/picture/layout.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "lib/report/picture/rows.hpp"
#include "lib/report/picture/ways.hpp"

namespace fettlefund::report {
namespace {

constexpr double margin = 8, label_width = 27, head = 17, foot_height = 24;
constexpr double pad = 1.1, box_gap = 3.4, pass_width = 1.0, pass_gap = 2.2;
constexpr double name_size = 2.7, bold_is_wider = 1.15, small_size = 2.15,
                 line = 1.2;  // a line is so many times its font's size
constexpr double under_strips = 2.2, band_pad = 1.6, between_bands = 1.1;
constexpr double first_lane = 1.4, lane_height = 1.0, over_box = 3.0;
constexpr double a4_proportion = 297.0 / 210.0;
constexpr std::array<double, 7> widths = {210, 222, 234, 246, 258, 270, 282};
constexpr std::array<double, 5> box_widths = {usual_box_width, 36, 40, 45, 30};

double height_of(const Lettering& text) { return static_cast<double>(text.lines.size()) * text.size * line; }

class Layout {
 public:
  Layout(const PictureModel& model, double width, double box_width) : model_(model), box_width_(box_width) {
    page_.width = width;
    page_.left = margin + label_width;
    right_ = width - margin;
    page_.boxes.resize(model.boxes.size());
    page_.bands.resize(model.bands.size());
  }

  PictureLayout make() {
    rows_ = rows_of(model_, {page_.left + 1, right_ - 1, box_width_, pass_width, box_gap, pass_gap});
    ways_ = ways_of(model_, rows_, box_width_);
    for (std::size_t b = 0; b < model_.boxes.size(); ++b) letter(static_cast<int>(b));
    double y = head;
    for (std::size_t r = 0; r < rows_.size();) r = place_band(r, y);
    for (std::size_t a = 0; a < model_.arrows.size(); ++a)
      page_.arrows.push_back(way_of(static_cast<int>(a)));
    page_.foot = y + 2;
    y = page_.foot + foot_height;
    for (const std::string& clash : model_.clashes) {
      page_.clashes.push_back(lettered(clash, small_size, right_ - margin - 6, 4));
      y += height_of(page_.clashes.back()) + 1;
    }
    page_.height = y + margin / 2;
    return std::move(page_);
  }

 private:
  PlacedBox& box(int b) { return page_.boxes[static_cast<std::size_t>(b)]; }

  void letter(int b) {
    const Box& from = model_.boxes[static_cast<std::size_t>(b)];
    PlacedBox& to = box(b);
    const double room = box_width_ - 2 * pad;
    const double marks = 4.2 * static_cast<double>(from.clashes.size() + from.settles.size());
    to.width = box_width_;
    const double bold = from.kind == BoxKind::must ? bold_is_wider : 1;
    to.name = lettered(from.name, name_size, std::max(room - marks, room / 2) / bold, 3);
    to.about = lettered(from.about, small_size, room, 2);
    if (from.about.empty()) to.about.lines.clear();
    std::string off;
    for (const std::string& thing : from.takes_off) off += (off.empty() ? "takes off: " : "; ") + thing;
    to.takes_off = lettered(off, small_size, room, 3);
    if (off.empty()) to.takes_off.lines.clear();
    to.height = 2 * pad + height_of(to.name) + height_of(to.about);
    if (!off.empty()) to.height += height_of(to.takes_off) + pad;
  }

  /// Places all rows of one band from row `r` on; returns the row after them and moves `y` on.
  std::size_t place_band(std::size_t r, double& y) {
    const std::size_t begin = r;
    const int band = rows_[r].band;
    PlacedBand& placed = page_.bands[static_cast<std::size_t>(band)];
    const Band& from = model_.bands[static_cast<std::size_t>(band)];
    placed.y = y;
    y += band_pad;
    for (; r < rows_.size() && rows_[r].band == band; ++r) place_row(r, y);
    place_remarks(placed, from, y);
    y += band_pad;
    const double labels = static_cast<double>(from.label.size()) * 2.9 + 2;
    const double slack = placed.y + labels - y;
    if (slack > 0) move_down(placed, begin, r, slack / 2);
    y = std::max(y, placed.y + labels);
    placed.height = y - placed.y;
    y += between_bands;
    return r;
  }

  void move_down(PlacedBand& band, std::size_t begin, std::size_t end, double by) {
    for (PlacedStrip& strip : band.strips) {
      strip.y += by;
      strip.tick_to += by;
    }
    band.remarks_y += by;
    for (std::size_t r = begin; r < end; ++r) {
      bends_[r] += by;
      for (const Item& item : rows_[r].items) {
        if (item.box >= 0) box(item.box).y += by;
      }
    }
  }

  void place_remarks(PlacedBand& placed, const Band& from, double& y) {
    std::string all;
    for (const std::string& remark : from.remarks) all += (all.empty() ? "" : " ") + remark;
    if (all.empty()) return;
    placed.remarks = lettered(all, small_size, right_ - page_.left - 4, 4);
    if (!from.boxes.empty()) y += 1;
    placed.remarks_y = y;
    y += height_of(placed.remarks);
  }

  void place_row(std::size_t r, double& y) {
    y += place_strips(rows_[r], y);
    double tallest = 0;
    for (const Item& item : rows_[r].items) {
      if (item.box < 0) continue;
      tallest = std::max(tallest, box(item.box).height);
      box(item.box).x = item.x - box_width_ / 2;
      box(item.box).y = y;
    }
    for (const Item& item : rows_[r].items) {
      if (item.box >= 0) box(item.box).height = tallest;
    }
    y += tallest;
    bends_.push_back(y + first_lane);
    const int lanes = ways_.lanes[r];
    const bool last = r + 1 == rows_.size() || rows_[r + 1].band != rows_[r].band;
    if (lanes > 0) y += first_lane + lane_height * (lanes - 1);
    if (!last) y += over_box;
  }

  /// Strips above the boxes of a row, narrow ones nearest to them; returns the height they take.
  double place_strips(const Row& row, double y) {
    std::vector<PlacedStrip> strips = strips_of(row);
    std::stable_sort(strips.begin(), strips.end(),
                     [](const auto& a, const auto& b) { return a.width < b.width; });
    std::vector<double> heights;  // of each level, the first nearest to the boxes
    std::vector<std::size_t> levels;
    for (std::size_t s = 0; s < strips.size(); ++s) {
      std::size_t level = 0;
      for (std::size_t t = 0; t < s; ++t) {
        const bool apart =
            strips[t].x + strips[t].width < strips[s].x || strips[s].x + strips[s].width < strips[t].x;
        if (!apart) level = std::max(level, levels[t] + 1);
      }
      levels.push_back(level);
      heights.resize(std::max(heights.size(), level + 1), 0);
      heights[level] = std::max(heights[level], strips[s].height);
    }
    if (strips.empty()) return 0;
    double total = under_strips;
    for (const double height : heights) total += height + 0.7;
    for (std::size_t s = 0; s < strips.size(); ++s) {
      double above = under_strips;
      for (std::size_t level = 0; level <= levels[s]; ++level) above += heights[level] + 0.7;
      strips[s].y = y + total - above;
      strips[s].tick_to = y + total;
    }
    auto& all = page_.bands[static_cast<std::size_t>(row.band)].strips;
    all.insert(all.end(), strips.begin(), strips.end());
    return total;
  }

  /// The strips over the boxes of this row, without their height above them.
  std::vector<PlacedStrip> strips_of(const Row& row) const {
    std::map<int, double> x_of;
    for (const Item& item : row.items) {
      if (item.box >= 0) x_of[item.box] = item.x;
    }
    std::vector<PlacedStrip> strips;
    for (const Strip& strip : model_.bands[static_cast<std::size_t>(row.band)].strips) {
      PlacedStrip placed;
      for (const int b : strip.boxes) {
        if (x_of.count(b)) placed.ticks.push_back(x_of[b]);
      }
      if (placed.ticks.empty()) continue;
      std::sort(placed.ticks.begin(), placed.ticks.end());
      placed.x = placed.ticks.front() - box_width_ / 2;
      placed.width = placed.ticks.back() - placed.ticks.front() + box_width_;
      placed.text = lettered(strip.text, small_size, placed.width - 2.4, 6);
      placed.height = height_of(placed.text) + 0.9;
      strips.push_back(std::move(placed));
    }
    return strips;
  }

  PlacedArrow way_of(int a) {
    const Arrow& arrow = model_.arrows[static_cast<std::size_t>(a)];
    const auto& stops = ways_.ways[static_cast<std::size_t>(a)].stops;
    PlacedArrow placed;
    if (stops.empty()) {
      const PlacedBox &from = box(arrow.from), &to = box(arrow.to);
      const double y = from.y + from.height / 2;
      return {{{from.x + box_width_, y}, {to.x, y}}, true};
    }
    placed.points.push_back({stops.front().x, box(arrow.from).y + box(arrow.from).height});
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const double y = bends_[stops[i].row] + lane_height * stops[i].lane;
      placed.points.push_back({stops[i].x, y});
      placed.points.push_back({stops[i + 1].x, y});
    }
    const PlacedBox& to = box(arrow.to);
    const bool under = stops.front().row == stops.back().row;
    placed.points.push_back({stops.back().x, under ? to.y + to.height : to.y});
    return placed;
  }

  const PictureModel& model_;
  double box_width_ = 0, right_ = 0;
  std::vector<Row> rows_;
  Ways ways_;
  std::vector<double> bends_;  ///< y of each row's first lane
  PictureLayout page_;
};

}  // namespace

PictureLayout lay_out(const PictureModel& model, double width, double box_width) {
  return Layout(model, width, box_width).make();
}

PictureLayout lay_out_on_a4(const PictureModel& model) {
  const PictureLayout narrowest = lay_out(model, widths.front());
  if (narrowest.height > widths.back() * a4_proportion * 1.4) return narrowest;
  for (const double width : widths) {
    for (const double box_width : box_widths) {
      PictureLayout layout = lay_out(model, width, box_width);
      if (layout.height > width * a4_proportion) continue;
      layout.height = width * a4_proportion;
      return layout;
    }
  }
  return narrowest;
}

}  // namespace fettlefund::report
