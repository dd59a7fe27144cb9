#include "lib/report/picture/rows.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace fettlefund::report {
namespace {

/// Chooses which boxes share a row and through which rows arrows pass.
class RowMaker {
 public:
  RowMaker(const PictureModel& model, const RowSpace& space) : model_(model), space_(space) {
    within_.resize(model_.bands.size());
    for (const Arrow& arrow : model_.arrows) {
      const int band = band_of(arrow.from);
      if (band == band_of(arrow.to)) within_[static_cast<std::size_t>(band)].push_back(arrow);
    }
  }

  std::vector<Row> make() {
    for (std::size_t b = 0; b < model_.bands.size(); ++b) add_rows(static_cast<int>(b));
    pass_arrows();
    return std::move(rows_);
  }

 private:
  /// How many arrows in a row lead to the box within its band.
  int depth(int box) {
    if (const auto known = depths_.find(box); known != depths_.end()) return known->second;
    int deepest = 0;
    for (const Arrow& arrow : within_[static_cast<std::size_t>(band_of(box))]) {
      if (arrow.to == box) deepest = std::max(deepest, depth(arrow.from) + 1);
    }
    return depths_[box] = deepest;
  }

  int band_of(int box) const { return model_.boxes[static_cast<std::size_t>(box)].band; }

  /// Boxes that must come first first; those that share strips side by side.
  std::vector<int> first_order(const Band& band) {
    std::map<int, std::vector<std::size_t>> strips;
    for (std::size_t s = 0; s < band.strips.size(); ++s) {
      for (const int box : band.strips[s].boxes) strips[box].push_back(s);
    }
    std::vector<std::tuple<int, std::vector<std::size_t>, int>> keys;
    for (const int box : band.boxes) keys.emplace_back(depth(box), strips[box], box);
    std::sort(keys.begin(), keys.end());
    std::vector<int> order;
    for (const auto& key : keys) order.push_back(std::get<2>(key));
    return order;
  }

  /// Boxes that find room in a row beside so many passing arrows, at least one.
  std::size_t boxes_beside(std::size_t passes) const {
    const double room = space_.right - space_.left + space_.box_gap -
                        static_cast<double>(passes) * (space_.pass_width + space_.pass_gap);
    return static_cast<std::size_t>(std::max(1.0, std::floor(room / (space_.box_width + space_.box_gap))));
  }

  /// In one row only arrows from above it to below it pass; in several also those that begin or end in one.
  std::size_t side_by_side(int band) const {
    std::size_t through = 0, touching = 0;
    for (const Arrow& arrow : model_.arrows) {
      const int from = band_of(arrow.from), to = band_of(arrow.to);
      through += from < band && band < to;
      touching += from <= band && band <= to;
    }
    const std::size_t boxes = boxes_beside(std::min(through, most_passes));
    const bool one_row = model_.bands[static_cast<std::size_t>(band)].boxes.size() <= boxes;
    return one_row ? boxes : boxes_beside(std::min(touching, most_passes));
  }

  void add_rows(int band) {
    const std::size_t most = side_by_side(band);
    const std::vector<int> order = first_order(model_.bands[static_cast<std::size_t>(band)]);
    std::size_t at = 0;
    do {
      Row& row = rows_.emplace_back();
      row.band = band;
      const std::size_t end = std::min(order.size(), at + most);
      for (; at < end; ++at) {
        row_of_box_[order[at]] = static_cast<int>(rows_.size()) - 1;
        row.items.push_back({order[at], -1, space_.box_width, 0});
      }
    } while (at < order.size());
  }

  void pass_arrows() {
    std::vector<std::size_t> passes(rows_.size(), 0);
    for (std::size_t a = 0; a < model_.arrows.size(); ++a) {
      const int from = row_of_box_.at(model_.arrows[a].from), to = row_of_box_.at(model_.arrows[a].to);
      for (int r = from + 1; r < to; ++r) {
        const auto row = static_cast<std::size_t>(r);
        if (++passes[row] > most_passes) continue;
        rows_[row].items.push_back({-1, static_cast<int>(a), space_.pass_width, 0});
      }
    }
  }

  const PictureModel& model_;
  RowSpace space_;
  std::vector<Row> rows_;
  std::map<int, int> row_of_box_, depths_;
  std::vector<std::vector<Arrow>> within_;  ///< for each band the arrows between its own boxes
};

}  // namespace

std::vector<Row> rows_of(const PictureModel& model, const RowSpace& space) {
  std::vector<Row> rows = RowMaker(model, space).make();
  put_in_order(model, space, rows);
  return rows;
}

}  // namespace fettlefund::report
