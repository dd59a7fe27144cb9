#include <algorithm>
#include <tuple>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

/// A recorded line and the order it stands in.
struct Placed {
  const Order* order = nullptr;
  const OrderLine* line = nullptr;
};

bool is_for(const OrderLine& line, int stage, bool is_tool, int index) {
  return line.for_stage == stage && (is_tool ? line.tool : line.article) == index;
}

std::vector<Placed> lines_for(const Plan& plan, int stage, const Wanted& wanted) {
  std::vector<Placed> lines;
  for (const Order& order : plan.orders)
    for (const OrderLine& line : order.lines)
      if (is_for(line, stage, wanted.is_tool, wanted.index)) lines.push_back({&order, &line});
  return lines;
}

std::string name_of(const Wanted& wanted) {
  return Words::of(wanted.is_tool ? "tool " : "article ", wanted.index);
}

Rule rule_of(const Wanted& wanted) { return wanted.is_tool ? Rule::tool : Rule::goods; }

/// Whether some line of the order cannot be ordered any later.
bool has_pressing_line(const Subject& subject, const Order& order) {
  return std::any_of(order.lines.begin(), order.lines.end(), [&](const OrderLine& line) {
    const bool is_tool = line.tool >= 0;
    const Offer& offer = offer_of(subject.data, is_tool, is_tool ? line.tool : line.article, line.offer);
    return latest_payday(subject.data, offer, line.for_stage) == order.stage;
  });
}

/// Whether it is paid early for a reason: its order charges delivery and cannot wait.
bool shares_delivery(const Subject& subject, const Order& order) {
  const Supplier& supplier = subject.data.suppliers[order.supplier];
  const bool charged = delivery_for(supplier, Money()) > Money();
  return charged && has_pressing_line(subject, order);
}

/// Whether the line can be ordered on its payday and arrives; complains if not, or if it could wait.
bool check_payday(const Subject& subject, int stage, const Wanted& wanted, const Placed& placed,
                  Findings& findings) {
  const Offer& offer = offer_of(subject.data, wanted.is_tool, wanted.index, placed.line->offer);
  const Date payday = subject.data.stages[placed.order->stage].payday;
  const bool closed = (offer.from && payday < *offer.from) || (offer.until && payday > *offer.until);
  const bool late = std::int64_t{payday.days} + offer.lead_days > subject.data.stages[stage].bench.days;
  if (closed || late) {
    found(findings, rule_of(wanted), stage, wanted.index, name_of(wanted), " for stage ", stage,
          " is ordered on payday ", placed.order->stage,
          closed ? ", when its offer is not open" : ", too late to arrive by the bench date");
    return false;
  }
  const int latest = latest_payday(subject.data, offer, stage);
  if (placed.order->stage == latest || shares_delivery(subject, *placed.order)) return true;
  found(findings, Rule::accounts, stage, wanted.index, name_of(wanted), " for stage ", stage,
        " is ordered on payday ", placed.order->stage, ", the latest that arrives is ", latest);
  return false;
}

/// Whether the one line of something wanted is right in every respect.
bool check_line(const Subject& subject, int stage, const Wanted& wanted, const Placed& placed,
                Findings& findings) {
  const Offer& offer = offer_of(subject.data, wanted.is_tool, wanted.index, placed.line->offer);
  bool good = check_payday(subject, stage, wanted, placed, findings);
  if (offer.supplier != placed.order->supplier) {
    found(findings, Rule::accounts, stage, wanted.index, name_of(wanted), " for stage ", stage,
          " is in an order from supplier ", placed.order->supplier, " but its offer is from ",
          offer.supplier);
    good = false;
  }
  if (placed.line->packs != wanted.packs) {
    const Rule rule = placed.line->packs < wanted.packs ? rule_of(wanted) : Rule::accounts;
    found(findings, rule, stage, wanted.index, name_of(wanted), " for stage ", stage, " has ",
          placed.line->packs, " packs, ", wanted.packs, " are needed");
    good = false;
  }
  return good;
}

bool check_wanted(const Subject& subject, int stage, const Wanted& wanted, Findings& findings) {
  const std::vector<Placed> lines = lines_for(subject.plan, stage, wanted);
  if (lines.empty()) {
    found(findings, rule_of(wanted), stage, wanted.index, name_of(wanted), " for stage ", stage,
          " is not ordered");
    return false;
  }
  if (lines.size() > 1)
    found(findings, Rule::accounts, stage, wanted.index, name_of(wanted), " for stage ", stage, " has ",
          lines.size(), " order lines, not one");
  bool good = lines.size() == 1;
  for (const Placed& placed : lines) good = check_line(subject, stage, wanted, placed, findings) && good;
  return good;
}

bool is_wanted(const StageFacts& stage, const OrderLine& line) {
  return std::any_of(stage.wanted.begin(), stage.wanted.end(), [&](const Wanted& wanted) {
    return wanted.is_tool == (line.tool >= 0) && wanted.index == (wanted.is_tool ? line.tool : line.article);
  });
}

bool check_needless(const Subject& subject, Findings& findings) {
  bool good = true;
  for (const Order& order : subject.plan.orders)
    for (const OrderLine& line : order.lines) {
      if (is_wanted(subject.stages[line.for_stage], line)) continue;
      const bool is_tool = line.tool >= 0;
      const int index = is_tool ? line.tool : line.article;
      found(findings, Rule::accounts, line.for_stage, index, is_tool ? "tool " : "article ", index,
            " is ordered for stage ", line.for_stage, ", which needs none bought");
      good = false;
    }
  return good;
}

}  // namespace

bool check_lines(const Subject& subject, Findings& findings) {
  bool good = check_needless(subject, findings);
  for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s)
    for (const Wanted& wanted : subject.stages[s].wanted)
      good = check_wanted(subject, s, wanted, findings) && good;
  return good;
}

}  // namespace fettlefund::budgets::verifier
