#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "lib/report/picture/rows.hpp"

namespace fettlefund::report {
namespace {

constexpr int sweeps = 6, smoothings = 12;
constexpr std::size_t tried_one_by_one = 24;  // longer rows are only sorted
constexpr double wrong_way = 1000, strip_weight = 0.5, own_place = 0.02, straight = 4, crossing = 8,
                 apart = 0.5;

/// Moves items within their rows until no single move makes the picture plainer.
class Ordering {
 public:
  Ordering(const PictureModel& model, const RowSpace& space, std::vector<Row>& rows)
      : model_(model), space_(space), rows_(rows) {
    within_.resize(model_.bands.size());
    for (const Arrow& arrow : model_.arrows) {
      const int band = band_of(arrow.from);
      if (band == band_of(arrow.to)) within_[static_cast<std::size_t>(band)].push_back(arrow);
    }
    for (std::size_t r = 0; r < rows.size(); ++r) {
      for (const Item& item : rows[r].items) {
        if (item.box >= 0) row_of_box_[item.box] = static_cast<int>(r);
      }
    }
    connect();
  }

  void improve() {
    for (std::size_t r = 0; r < rows_.size(); ++r) settle(r);
    for (int sweep = 0; sweep < sweeps; ++sweep) {
      for (std::size_t r = 0; r < rows_.size(); ++r) improve(static_cast<int>(r));
      for (std::size_t r = rows_.size(); r-- > 0;) improve(static_cast<int>(r));
    }
    pull_ = straight;
    for (int time = 0; time < smoothings; ++time) {
      for (std::size_t r = 0; r < rows_.size(); ++r) settle(r);
      for (std::size_t r = rows_.size(); r-- > 0;) settle(r);
    }
  }

 private:
  using Key = std::pair<int, int>;  // (box, -1) or (-1, arrow)

  int band_of(int box) const { return model_.boxes[static_cast<std::size_t>(box)].band; }
  static Key key_of(const Item& item) { return {item.box, item.arrow}; }

  /// Ends of each arrow's pieces, as keys of items in the rows above and below.
  void connect() {
    std::vector<std::set<Key>> there;
    for (const Row& row : rows_) {
      std::set<Key>& keys = there.emplace_back();
      for (const Item& item : row.items) keys.insert(key_of(item));
    }
    links_.resize(rows_.size());
    for (std::size_t a = 0; a < model_.arrows.size(); ++a) {
      const Arrow& arrow = model_.arrows[a];
      const int from = row_of_box_.at(arrow.from), to = row_of_box_.at(arrow.to);
      int last_row = from;
      Key last{arrow.from, -1};
      for (int r = from + 1; r <= to; ++r) {
        const Key key = r == to ? Key{arrow.to, -1} : Key{-1, static_cast<int>(a)};
        if (!there[static_cast<std::size_t>(r)].count(key)) continue;
        link(last_row, last, r, key);
        last_row = r;
        last = key;
      }
    }
  }

  void link(int row_a, Key a, int row_b, Key b) {
    links_[static_cast<std::size_t>(row_a)][a].push_back({row_b, b});
    links_[static_cast<std::size_t>(row_b)][b].push_back({row_a, a});
  }

  struct End {
    int row = 0;
    double x = 0, weight = 0;
  };

  /// Notes where the items linked to those of a row stand in the other rows, which stay as they are
  /// meanwhile. Arrows between passes are pulled straight hardest.
  void gather(int index) {
    ends_.clear();
    for (const auto& [key, links] : links_[static_cast<std::size_t>(index)]) {
      for (const auto& [other, far_key] : links) {
        for (const Item& far : rows_[static_cast<std::size_t>(other)].items) {
          if (key_of(far) != far_key) continue;
          ends_[key].push_back({other, far.x, key.first < 0 && far.box < 0 ? pull_ : 1.0});
        }
      }
    }
  }

  const std::vector<End>& far_ends(const Item& item) const {
    static const std::vector<End> none;
    const auto found = ends_.find(key_of(item));
    return found == ends_.end() ? none : found->second;
  }

  /// How far each item's middle must at least stand from the first one's.
  std::vector<double> offsets_of(const Row& row) const {
    std::vector<double> offsets;
    for (std::size_t i = 0; i < row.items.size(); ++i) {
      if (i == 0) {
        offsets.push_back(0);
        continue;
      }
      const Item &a = row.items[i - 1], &b = row.items[i];
      const double gap = a.box >= 0 && b.box >= 0 ? space_.box_gap : space_.pass_gap;
      offsets.push_back(offsets.back() + a.width / 2 + gap + b.width / 2);
    }
    return offsets;
  }

  /// Places the items in their order: as near to their far ends as their widths allow (isotonic regression by
  /// pooling adjacent violators), or packed from the left where nothing pulls.
  void place(Row& row) const {
    struct Pool {
      double sum, weight;
      std::size_t count;
    };
    std::vector<Pool> pools;
    const std::vector<double> offsets = offsets_of(row);
    for (std::size_t i = 0; i < row.items.size(); ++i) {
      const Item& item = row.items[i];
      const double offset = offsets[i];
      double sum = own_place * (space_.left + row.items.front().width / 2), weight = own_place;
      for (const End& end : far_ends(item)) {
        sum += end.weight * (end.x - offset);
        weight += end.weight;
      }
      pools.push_back({sum, weight, 1});
      while (pools.size() > 1 && pools.back().sum / pools.back().weight <
                                     pools[pools.size() - 2].sum / pools[pools.size() - 2].weight) {
        const Pool last = pools.back();
        pools.pop_back();
        pools.back() = {pools.back().sum + last.sum, pools.back().weight + last.weight,
                        pools.back().count + last.count};
      }
    }
    if (row.items.empty()) return;
    const double least = space_.left + row.items.front().width / 2;
    const double most = std::max(least, space_.right - row.items.back().width / 2 - offsets.back());
    std::size_t at = 0;
    for (const Pool& pool : pools) {
      const double x = std::clamp(pool.sum / pool.weight, least, most);
      for (std::size_t i = 0; i < pool.count; ++i, ++at) row.items[at].x = x + offsets[at];
    }
  }

  /// Pairs of arrows from this row to one other row that cross each other.
  int crossings(const Row& row) const {
    std::map<int, std::vector<double>> ends;  // other row -> far ends from left to right
    int count = 0;
    for (const Item& item : row.items) {
      for (const End& here : far_ends(item)) {
        for (const double other : ends[here.row]) count += other > here.x + apart;
      }
      for (const End& here : far_ends(item)) ends[here.row].push_back(here.x);
    }
    return count;
  }

  /// Length of arrows to other rows, their crossings, strips wider than their boxes, arrows that would run to
  /// the left.
  double cost(const Row& row) const {
    double sum = crossing * crossings(row);
    std::map<int, double> x_of;
    for (const Item& item : row.items) {
      for (const End& end : far_ends(item)) sum += end.weight * std::abs(end.x - item.x);
      if (item.box >= 0) x_of[item.box] = item.x;
    }
    for (const Strip& strip : model_.bands[static_cast<std::size_t>(row.band)].strips) {
      double least = space_.right, most = space_.left;
      for (const int box : strip.boxes) {
        if (!x_of.count(box)) continue;
        least = std::min(least, x_of[box]);
        most = std::max(most, x_of[box]);
      }
      sum += strip_weight * std::max(0.0, most - least);
    }
    for (const Arrow& arrow : within_[static_cast<std::size_t>(row.band)]) {
      if (!x_of.count(arrow.from) || !x_of.count(arrow.to)) continue;
      const double way = x_of[arrow.to] - x_of[arrow.from];
      sum += way > 0 ? way : wrong_way;
    }
    return sum;
  }

  void settle(std::size_t index) {
    gather(static_cast<int>(index));
    place(rows_[index]);
  }

  void improve(int index) {
    gather(index);
    Row& row = rows_[static_cast<std::size_t>(index)];
    if (row.items.size() > tried_one_by_one) return sort_by_ends(row);
    place(row);
    double best = cost(row);
    for (bool better = true; better;) {
      better = false;
      for (std::size_t i = 0; i < row.items.size() && !better; ++i) {
        for (std::size_t j = 0; j < row.items.size() && !better; ++j)
          better = i != j && move(row, i, j, best);
      }
    }
  }

  /// Takes the item at `i` out and puts it at `j`, if that costs less.
  bool move(Row& row, std::size_t i, std::size_t j, double& best) const {
    Row other = row;
    const Item item = other.items[i];
    other.items.erase(other.items.begin() + static_cast<std::ptrdiff_t>(i));
    other.items.insert(other.items.begin() + static_cast<std::ptrdiff_t>(j), item);
    place(other);
    const double now = cost(other);
    if (now > best - 1e-6) return false;
    best = now;
    row = std::move(other);
    return true;
  }

  void sort_by_ends(Row& row) {
    for (Item& item : row.items) {
      const auto ends = far_ends(item);
      double sum = 0;
      for (const End& end : ends) sum += end.x;
      if (!ends.empty()) item.x = sum / static_cast<double>(ends.size());
    }
    std::stable_sort(row.items.begin(), row.items.end(),
                     [](const Item& a, const Item& b) { return a.x < b.x; });
    place(row);
  }

  const PictureModel& model_;
  RowSpace space_;
  double pull_ = 1;  ///< of passes on each other
  std::vector<Row>& rows_;
  std::map<int, int> row_of_box_;
  std::vector<std::vector<Arrow>> within_;  ///< for each band the arrows between its own boxes
  std::vector<std::map<Key, std::vector<std::pair<int, Key>>>> links_;
  std::map<Key, std::vector<End>> ends_;  ///< of the row last gathered for
};

}  // namespace

void put_in_order(const PictureModel& model, const RowSpace& space, std::vector<Row>& rows) {
  Ordering(model, space, rows).improve();
}

}  // namespace fettlefund::report
