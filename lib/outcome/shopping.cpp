#include "lib/outcome/shopping.hpp"

namespace fettlefund::planning {
namespace {

std::string at_stage(const std::string& kind, const Id& id, const StageView& stage) {
  return kind + ":" + id + "@" + std::to_string(stage.number);
}

void add_order(std::vector<BuyingLine>& lines, const StageView& stage, const OrderView& order) {
  const bool pays = order.delivery > Money();
  const std::string delivery = pays ? at_stage("delivery", order.supplier, stage) : "";
  const std::string whole = at_stage("order", order.supplier, stage);
  for (const ShoppingLine& line : order.lines) {
    lines.push_back({line.key,
                     line.article,
                     line.packs,
                     line.price,
                     line.amount,
                     line.arrives - stage.payday,
                     order.supplier,
                     whole,
                     {},
                     delivery});
  }
  if (pays)
    lines.push_back({delivery, {}, 1, order.delivery, order.delivery, 0, order.supplier, whole, {}, {}});
}

/// A hire or a fee.
BuyingLine charge(const std::string& key, Money amount) {
  return {key, {}, 1, amount, amount, 0, {}, {}, {}, {}};
}

}  // namespace

std::vector<BuyingLine> buying_lines(const Outcome& outcome) {
  std::vector<BuyingLine> lines;
  for (const StageView& stage : outcome.stages) {
    const std::size_t first = lines.size();
    for (const OrderView& order : stage.orders) add_order(lines, stage, order);
    for (const HireLine& hire : stage.hires) {
      lines.push_back(charge(at_stage("hire", hire.tool, stage), hire.amount));
    }
    for (const FeeLine& fee : stage.fee_lines) {
      lines.push_back(charge(at_stage("fee", fee.job, stage), fee.amount));
    }
    for (std::size_t i = first; i < lines.size(); ++i)
      lines[i].stage = "stage:" + std::to_string(stage.number);
  }
  return lines;
}

}  // namespace fettlefund::planning
