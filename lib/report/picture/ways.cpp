#include "lib/report/picture/ways.hpp"

#include <algorithm>
#include <compare>
#include <map>

namespace fettlefund::report {
namespace {

constexpr double clear = 0.8;  // between the ends of two sideways runs in one lane

class Router {
 public:
  Router(const PictureModel& model, const std::vector<Row>& rows, double box_width)
      : model_(model), rows_(rows), box_width_(box_width) {
    for (std::size_t r = 0; r < rows.size(); ++r) {
      for (const Item& item : rows[r].items) {
        if (item.box >= 0) places_[item.box] = {r, item.x, 0};
        if (item.box < 0) passes_[item.arrow].push_back({r, item.x, 0});
      }
    }
  }

  Ways make() {
    for (std::size_t a = 0; a < model_.arrows.size(); ++a) ways_.ways.push_back(begun(static_cast<int>(a)));
    spread_ends();
    ways_.lanes.assign(rows_.size(), 0);
    for (std::size_t r = 0; r < rows_.size(); ++r) choose_lanes(r);
    return std::move(ways_);
  }

 private:
  Way begun(int a) {
    const Arrow& arrow = model_.arrows[static_cast<std::size_t>(a)];
    const Way::Stop from = places_.at(arrow.from), to = places_.at(arrow.to);
    Way way;
    if (from.row == to.row && neighbours(arrow)) return way;
    way.stops.push_back(from);
    for (const Way::Stop& pass : passes_[a]) way.stops.push_back(pass);
    way.stops.push_back(to);
    return way;
  }

  /// Whether no box stands between the two in their row.
  bool neighbours(const Arrow& arrow) const {
    int last = -1;
    for (const Item& item : rows_[places_.at(arrow.from).row].items) {
      if (item.box < 0) continue;
      if (last == arrow.from) return item.box == arrow.to;
      last = item.box;
    }
    return false;
  }

  /// An end of a way at a box, with the place it leads to.
  struct End {
    double far = 0;
    std::size_t way = 0;
    bool first = true;
    friend auto operator<=>(const End&, const End&) = default;
  };

  /// Ends at one edge of a box stand in the order of the stops they lead to.
  void spread_ends() {
    std::map<int, std::vector<End>> below, above;
    for (std::size_t a = 0; a < ways_.ways.size(); ++a) {
      const auto& stops = ways_.ways[a].stops;
      if (stops.empty()) continue;
      below[model_.arrows[a].from].push_back({stops[1].x, a, true});
      const bool under = stops.front().row == stops.back().row;
      (under ? below : above)[model_.arrows[a].to].push_back({stops[stops.size() - 2].x, a, false});
    }
    for (auto& [box, ends] : below) spread(box, ends);
    for (auto& [box, ends] : above) spread(box, ends);
  }

  void spread(int box, std::vector<End>& ends) {
    std::sort(ends.begin(), ends.end());
    const double left = places_.at(box).x - box_width_ / 2;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      auto& stops = ways_.ways[ends[i].way].stops;
      const double x = left + box_width_ * static_cast<double>(i + 1) / static_cast<double>(ends.size() + 1);
      (ends[i].first ? stops.front() : stops.back()).x = x;
    }
  }

  struct Run {
    double from = 0, to = 0;
    Way::Stop* stop = nullptr;
    double least() const { return std::min(from, to); }
    double most() const { return std::max(from, to); }
  };

  /// Runs to the right take the higher lane the farther right they begin, runs to the left the farther left:
  /// so two runs of one direction do not cross unless their ends are crossed.
  void choose_lanes(std::size_t row) {
    std::vector<Run> runs;
    for (Way& way : ways_.ways) {
      for (std::size_t i = 0; i + 1 < way.stops.size(); ++i) {
        if (way.stops[i].row == row) runs.push_back({way.stops[i].x, way.stops[i + 1].x, &way.stops[i]});
      }
    }
    std::stable_sort(runs.begin(), runs.end(), [](const Run& a, const Run& b) {
      const bool a_right = a.to > a.from, b_right = b.to > b.from;
      if (a_right != b_right) return a_right;
      return a_right ? a.from > b.from : a.from < b.from;
    });
    for (std::size_t i = 0; i < runs.size(); ++i) {
      int lane = 0;
      for (std::size_t j = 0; j < i; ++j) {
        const bool apart =
            runs[j].most() + clear < runs[i].least() || runs[i].most() + clear < runs[j].least();
        if (!apart) lane = std::max(lane, runs[j].stop->lane + 1);
      }
      runs[i].stop->lane = lane;
      ways_.lanes[row] = std::max(ways_.lanes[row], lane + 1);
    }
  }

  const PictureModel& model_;
  const std::vector<Row>& rows_;
  double box_width_;
  std::map<int, Way::Stop> places_;               // box -> its row and middle
  std::map<int, std::vector<Way::Stop>> passes_;  // arrow -> rows between
  Ways ways_;
};

}  // namespace

Ways ways_of(const PictureModel& model, const std::vector<Row>& rows, double box_width) {
  return Router(model, rows, box_width).make();
}

}  // namespace fettlefund::report
