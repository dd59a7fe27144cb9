#include "lib/outcome/shopping.hpp"

namespace fettlefund::planning {
namespace {

std::string at_stage(const std::string& kind, const Id& id, const StageView& stage) {
  return kind + ":" + id + "@" + std::to_string(stage.number);
}

void add_order(std::vector<BuyingLine>& lines, const StageView& stage, const OrderView& order) {
  const bool pays = order.delivery > Money();
  const std::string delivery = pays ? at_stage("delivery", order.supplier, stage) : "";
  for (const ShoppingLine& line : order.lines) {
    lines.push_back(
        {line.key, line.article, line.packs, line.price, line.amount, line.arrives - stage.payday, delivery});
  }
  if (pays) lines.push_back({delivery, {}, 1, order.delivery, order.delivery, 0, {}});
}

}  // namespace

std::vector<BuyingLine> buying_lines(const Outcome& outcome) {
  std::vector<BuyingLine> lines;
  for (const StageView& stage : outcome.stages) {
    for (const OrderView& order : stage.orders) add_order(lines, stage, order);
    for (const HireLine& hire : stage.hires) {
      lines.push_back({at_stage("hire", hire.tool, stage), {}, 1, hire.amount, hire.amount, 0, {}});
    }
    for (const FeeLine& fee : stage.fee_lines) {
      lines.push_back({at_stage("fee", fee.job, stage), {}, 1, fee.amount, fee.amount, 0, {}});
    }
  }
  return lines;
}

}  // namespace fettlefund::planning
