#pragma once
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "budgets/problem/plan.hpp"

/// The parts of `verify`, private to it. Everything here is worked out from the problem's data again, in the
/// plainest way; nothing is shared with `cost`, with the search or with what Problem works out beforehand.
namespace fettlefund::budgets::verifier {

/// Texts and whole numbers put behind one another.
class Words {
 public:
  template <class... Parts>
  static std::string of(const Parts&... parts) {
    std::string text;
    (put(text, parts), ...);
    return text;
  }

 private:
  static void put(std::string& text, std::string_view part) { text += part; }
  static void put(std::string& text, std::int64_t number) { text += std::to_string(number); }
  static void put(std::string& text, int number) { text += std::to_string(number); }
  static void put(std::string& text, std::size_t number) { text += std::to_string(number); }
  static void put(std::string& text, Money amount) { text += std::to_string(amount.minor()); }
};

using Findings = std::vector<Violation>;

/// Adds a finding whose words are `parts`. `stage` and `index` as in Violation.
template <class... Parts>
void found(Findings& findings, Rule rule, int stage, int index, const Parts&... parts) {
  findings.push_back(Violation{rule, stage, index, Money(), Words::of(parts...)});
}

/// Something to be bought for a stage: an article or a tool, and how many packs of it.
struct Wanted {
  bool is_tool = false;
  int index = 0;
  std::int64_t packs = 0;
  friend bool operator==(const Wanted&, const Wanted&) = default;
};

/// What follows from the decisions for one stage, all lists ascending.
struct StageFacts {
  std::vector<int> jobs, opened;
  std::vector<int> used;       ///< tools that its work uses or has in a set of which any will do
  std::vector<int> hired;      ///< tools used, neither free nor bought by then (hireable or not)
  bool lacks_any = false;      ///< of such a set none is there or can be hired
  std::vector<Wanted> wanted;  ///< articles before tools, then by index
};

struct Subject {
  const ProblemData& data;
  const Plan& plan;
  std::vector<StageFacts> stages;
};

/// The supplier and payday that name an order.
using OrderKey = std::pair<int, int>;

/// Lengths of lists and ranges of indices. Only if it finds nothing may the rest be run.
void check_shape(const ProblemData& data, const Plan& plan, Findings& findings);

std::vector<StageFacts> facts_of(const ProblemData& data, const Schedule& schedule);

void check_schedule(const Subject& subject,
                    Findings& findings);                     ///< window, must, order, one_of, together, hours
void check_fit(const Subject& subject, Findings& findings);  ///< mate, clash
void check_tools(const Subject& subject, Findings& findings);  ///< tool

/// Whether the order lines are just what is wanted, in time, and early only to share a delivery. The result
/// says whether every wanted thing has exactly one line that can arrive.
bool check_lines(const Subject& subject, Findings& findings);
/// Whether no other way of buying keeps the floor and is better. Needs `check_lines` to have been true.
void check_baskets(const Subject& subject, Findings& findings);

/// Recorded lists and figures of orders, stages and the plan, and the cash rule. May throw MoneyOverflow for
/// absurd pack counts.
void check_orders(const Subject& subject, Findings& findings);
void check_stages(const Subject& subject, Findings& findings);
void check_totals(const Subject& subject, Findings& findings);

/// Where a line's goods are offered.
const Offer& offer_of(const ProblemData& data, bool is_tool, int index, int offer);
/// Latest payday on which `offer` can be ordered to arrive by the bench date of `stage`; -1 if none.
int latest_payday(const ProblemData& data, const Offer& offer, int stage);
/// What the supplier asks for delivering an order of `goods`.
Money delivery_for(const Supplier& supplier, Money goods);

}  // namespace fettlefund::budgets::verifier
