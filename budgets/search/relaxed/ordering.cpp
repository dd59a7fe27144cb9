#include "budgets/search/relaxed/ordering.hpp"

#include <algorithm>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {
namespace {

/// Whether it costs nothing more in any stage than its price on the stage's own payday.
bool is_plain(const SureLine& line) {
  const auto plain = [](int stage) {
    return [stage](const SureLine::Way& w) { return w.join < 0 && w.last == stage && w.extra == 0; };
  };
  for (int t = 0; t < static_cast<int>(line.ways.size()); ++t) {
    const auto& ways = line.ways[t];
    if (!ways.empty() && std::none_of(ways.begin(), ways.end(), plain(t))) return false;
  }
  return true;
}

}  // namespace

/// The ways to buy what a unit needs of one article, before joins are numbered: `join` is the supplier.
SureLine RelaxedGoods::sure_line(int unit, const Need& need) const {
  SureLine line{unit, {}};
  line.ways.resize(model_.stage_count());
  for (int t = 0; t < model_.stage_count(); ++t) {
    const std::int64_t packs = packs_lacking(need, t);
    if (packs == 0 || !model_.allowed(unit, t)) continue;
    const std::int64_t least = least_price(need.article, t, packs);
    for (const Way& way : model_.buyer().article_ways(need.article, t)) {
      const std::int64_t price = delivery_.price(way, packs);
      const int join = delivery_.fee(way.supplier) > 0 ? way.supplier : -1;
      line.ways[t].push_back({join, way.first, way.stage, price, price - least});
    }
  }
  return line;
}

Ordering RelaxedGoods::ordering() const {
  Ordering found;
  for (int s = 0; s < static_cast<int>(model_.data().suppliers.size()); ++s)
    found.fee.push_back(delivery_.fee(s));
  for (int u = 0; u < model_.unit_count() && model_.stage_count() > 1; ++u) {
    for (const Need& need : model_.units()[u].needs) {
      if (!is_bought(need)) continue;
      SureLine line = sure_line(u, need);
      if (is_plain(line)) continue;
      const int index = static_cast<int>(found.lines.size());
      std::vector<int> join_of(found.fee.size(), -1);
      for (auto& ways : line.ways) {
        for (SureLine::Way& way : ways) {
          if (way.join < 0) continue;
          int& join = join_of[way.join];
          if (join < 0) {
            join = static_cast<int>(found.joins.size());
            found.joins.push_back({index, way.join});
          }
          way.join = join;
        }
      }
      found.lines.push_back(std::move(line));
    }
  }
  return found;
}

}  // namespace fettlefund::budgets::search
