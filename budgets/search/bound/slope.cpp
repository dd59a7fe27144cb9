#include "budgets/search/bound/prices.hpp"

namespace fettlefund::budgets::search {
namespace {

/// Works out the slope: for a demand `a <= b` priced at x the bound contains x * (b - a).
class Slope {
 public:
  Slope(const Relaxed& relaxed, const Multipliers& layout, const Root& root, const RelaxedPath& path,
        const Prices& prices)
      : relaxed_(relaxed),
        layout_(layout),
        root_(root),
        path_(path),
        prices_(prices),
        out_(layout.size(), 0.0) {
    units_.assign(static_cast<std::size_t>(relaxed.stages) * relaxed.units, 0);
    tools_.assign(static_cast<std::size_t>(relaxed.stages) * relaxed.tools(), 0);
    for (int t = root.stage; t < relaxed.stages; ++t) add_up(t);
  }

  std::vector<double> make(bool price_minutes);

 private:
  void add_up(int stage);
  void add_shares(int stage);
  void add_orders();
  int unit_count(int unit, int stage) const {
    return stage < root_.stage ? root_.done[unit] : units_[stage * relaxed_.units + unit];
  }
  int tool_count(int tool, int stage) const {
    return stage < root_.stage ? root_.had[tool] : tools_[stage * relaxed_.tools() + tool];
  }

  const Relaxed& relaxed_;
  const Multipliers& layout_;
  const Root& root_;
  const RelaxedPath& path_;
  const Prices& prices_;
  std::vector<double> out_;
  std::vector<int> units_;  ///< [stage * units + unit] times done up to then
  std::vector<int> tools_;
};

void Slope::add_up(int stage) {
  for (int u = 0; u < relaxed_.units; ++u) units_[stage * relaxed_.units + u] = unit_count(u, stage - 1);
  for (int k = 0; k < relaxed_.tools(); ++k) tools_[stage * relaxed_.tools() + k] = tool_count(k, stage - 1);
  for (int u : path_.units[stage]) ++units_[stage * relaxed_.units + u];
  for (int k : path_.tools[stage]) ++tools_[stage * relaxed_.tools() + k];
}

void Slope::add_shares(int stage) {
  if (layout_.shares().empty()) return;
  std::vector<int> opened(relaxed_.charges.size(), 0);
  for (int e : path_.charges[stage]) ++opened[e];
  std::vector<int> chosen(relaxed_.units, 0);
  for (int u : path_.units[stage]) ++chosen[u];
  for (std::size_t s = 0; s < layout_.shares().size(); ++s) {
    const auto& share = layout_.shares()[s];
    out_[layout_.share(static_cast<int>(s), stage)] = opened[share.charge] - chosen[share.unit];
  }
}

/// Money paid before it is due on the axis, and orders against the lines that are in them.
void Slope::add_orders() {
  const Ordering& ordering = relaxed_.ordering;
  if (ordering.empty()) return;
  const int stages = relaxed_.stages;
  std::vector<std::int64_t> paid(stages, 0);  // beside the axis
  for (std::size_t l = 0; l < ordering.lines.size(); ++l) {
    const SureLine& line = ordering.lines[l];
    for (int t = root_.stage; t < stages; ++t) {
      const int times = unit_count(line.unit, t) - unit_count(line.unit, t - 1);
      const auto [w, payday] = prices_.choices[l * stages + t];
      if (times == 0 || w < 0) continue;
      const SureLine::Way& way = line.ways[t][w];
      paid[std::max(payday, root_.stage)] += times * way.price;
      paid[t] -= times * (way.price - way.extra);
      if (way.join >= 0 && payday >= root_.stage) out_[layout_.join(way.join, payday)] -= times;
    }
  }
  std::int64_t sum = 0;
  for (int p = root_.stage; p < stages; ++p) {
    sum += paid[p];
    out_[layout_.money(p)] =
        static_cast<double>(relaxed_.caps[p] - path_.spent[p] - sum) / layout_.money_unit();
    std::vector<char> placed(ordering.suppliers(), 0);
    for (int s : path_.orders[p]) placed[s] = 1;
    for (std::size_t j = 0; j < ordering.joins.size(); ++j)
      out_[layout_.join(static_cast<int>(j), p)] += placed[ordering.joins[j].supplier];
  }
}

std::vector<double> Slope::make(bool price_minutes) {
  const int last = relaxed_.stages - 1;
  for (int g = 0; g < relaxed_.model->group_count(); ++g) out_[layout_.group(g)] = 1;
  for (int u = 0; u < relaxed_.units; ++u) {
    out_[layout_.once(u)] = 1 - unit_count(u, last);
    for (int g : relaxed_.model->units()[u].groups) out_[layout_.group(g)] -= unit_count(u, last);
  }
  for (int k = 0; k < relaxed_.tools(); ++k) out_[layout_.tool(k)] = 1 - tool_count(k, last);
  for (int t = root_.stage; t <= last; ++t) {
    for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
      const auto& arc = layout_.arcs()[a];
      out_[layout_.arc(static_cast<int>(a), t)] = unit_count(arc.before, t) - unit_count(arc.after, t);
    }
    for (std::size_t n = 0; n < layout_.needs().size(); ++n) {
      const auto& need = layout_.needs()[n];
      out_[layout_.need(static_cast<int>(n), t)] = tool_count(need.tool, t) - unit_count(need.unit, t);
    }
    add_shares(t);
    if (price_minutes) {
      const std::int64_t left = relaxed_.model->data().stages[t].minutes - path_.minutes[t];
      out_[layout_.minutes(t)] = static_cast<double>(left) / layout_.minute_unit();
    }
  }
  add_orders();
  return out_;
}

}  // namespace

std::vector<double> slope(const Relaxed& relaxed, const Multipliers& layout, const Root& root,
                          const RelaxedPath& path, const Prices& prices, bool price_minutes) {
  return Slope(relaxed, layout, root, path, prices).make(price_minutes);
}

}  // namespace fettlefund::budgets::search
