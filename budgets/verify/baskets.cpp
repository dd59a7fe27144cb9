#include <algorithm>
#include <optional>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

constexpr std::size_t kMostWays = 4096;

using Way = std::vector<std::size_t>;  ///< one option for each thing wanted

/// A thing wanted for a stage, with the offers and paydays that bring it in time.
struct Choice {
  const Wanted* wanted = nullptr;
  int stage = 0;
  struct Option {
    int offer = 0;
    int payday = 0;
    int latest = 0;
  };
  std::vector<Option> options;
};

/// What a way of buying comes to. Ordered: less is better.
struct Outcome {
  Money spent;
  Money bare;
  std::vector<Money> by_payday;
  std::vector<std::pair<int, int>> picks;  ///< offer, and how much earlier than it has to be
  friend auto operator<=>(const Outcome&, const Outcome&) = default;
};

class Ways {
 public:
  explicit Ways(const Subject& subject) : subject_(subject), data_(subject.data) {
    for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s)
      for (const Wanted& wanted : subject.stages[s].wanted) choices_.push_back(choice_of(wanted, s));
  }

  /// How many there are, no more than just above kMostWays.
  std::size_t count() const {
    std::size_t ways = 1;
    for (const Choice& choice : choices_) ways = std::min(ways * choice.options.size(), kMostWays + 1);
    return ways;
  }

  Way recorded() const {
    Way way;
    for (const Choice& choice : choices_) {
      std::size_t at = 0;
      while (at + 1 < choice.options.size() && !is_recorded(choice, choice.options[at])) ++at;
      way.push_back(at);
    }
    return way;
  }

  /// All ways, or those that change one thing in `recorded` where all are more than kMostWays.
  std::vector<Way> all(const Way& recorded) const {
    if (count() > kMostWays) return changes(recorded);
    std::vector<Way> found;
    Way way(choices_.size(), 0);
    do {
      found.push_back(way);
    } while (advance(way));
    return found;
  }

  /// Nothing where an order could wait, or the floor is not kept.
  std::optional<Outcome> outcome(const Way& way) const;

 private:
  /// The next combination; false after the last.
  bool advance(Way& way) const {
    for (std::size_t i = 0; i < way.size(); ++i) {
      if (++way[i] < choices_[i].options.size()) return true;
      way[i] = 0;
    }
    return false;
  }

  std::vector<Way> changes(const Way& recorded) const {
    std::vector<Way> found;
    for (std::size_t i = 0; i < recorded.size(); ++i)
      for (std::size_t o = 0; o < choices_[i].options.size(); ++o) {
        found.push_back(recorded);
        found.back()[i] = o;
      }
    return found;
  }

  Choice choice_of(const Wanted& wanted, int stage) const;
  bool is_recorded(const Choice& choice, const Choice::Option& option) const;
  Money fees(int stage) const;
  std::optional<Outcome> settle(std::vector<Money> by_payday) const;

  const Subject& subject_;
  const ProblemData& data_;
  std::vector<Choice> choices_;
};

Choice Ways::choice_of(const Wanted& wanted, int stage) const {
  Choice choice{&wanted, stage, {}};
  const auto& offers =
      wanted.is_tool ? data_.tools[wanted.index].offers : data_.articles[wanted.index].offers;
  for (int o = 0; o < static_cast<int>(offers.size()); ++o) {
    const int latest = latest_payday(data_, offers[o], stage);
    const bool charged = delivery_for(data_.suppliers[offers[o].supplier], Money()) > Money();
    for (int p = latest; p >= 0 && (p == latest || charged); --p) {
      if (offers[o].from && data_.stages[p].payday < *offers[o].from) break;
      choice.options.push_back({o, p, latest});
    }
  }
  return choice;
}

bool Ways::is_recorded(const Choice& choice, const Choice::Option& option) const {
  for (const Order& order : subject_.plan.orders)
    for (const OrderLine& line : order.lines)
      if (line.for_stage == choice.stage &&
          (choice.wanted->is_tool ? line.tool : line.article) == choice.wanted->index)
        return line.offer == option.offer && order.stage == option.payday;
  return false;  // not reached: every wanted thing has a line
}

/// What the stage pays besides goods: its jobs, removals and hire.
Money Ways::fees(int stage) const {
  Money sum;
  for (const int j : subject_.stages[stage].jobs) sum += data_.jobs[j].cost;
  for (const int r : subject_.stages[stage].opened) sum += data_.removals[r].cost;
  for (const int t : subject_.stages[stage].hired) sum += data_.tools[t].hire.value_or(Money());
  return sum;
}

std::optional<Outcome> Ways::settle(std::vector<Money> by_payday) const {
  Outcome result;
  Money cash = data_.opening;
  for (std::size_t s = 0; s < by_payday.size(); ++s) {
    by_payday[s] += fees(static_cast<int>(s));
    result.bare += by_payday[s];
    const Money spent = by_payday[s] + percentage_rounded_up(by_payday[s], data_.allowance_bp);
    result.spent += spent;
    cash += data_.stages[s].cash_in - spent;
    if (cash < data_.stages[s].floor) return std::nullopt;
  }
  result.by_payday = std::move(by_payday);
  return result;
}

std::optional<Outcome> Ways::outcome(const Way& way) const {
  std::map<OrderKey, std::pair<Money, bool>> orders;  // goods, and whether it cannot wait
  std::vector<std::pair<int, int>> picks;
  for (std::size_t i = 0; i < way.size(); ++i) {
    const Choice& choice = choices_[i];
    const Choice::Option& option = choice.options[way[i]];
    const Offer& offer = offer_of(data_, choice.wanted->is_tool, choice.wanted->index, option.offer);
    auto& [goods, pressing] = orders[{option.payday, offer.supplier}];
    goods += offer.price * choice.wanted->packs;
    pressing |= option.payday == option.latest;
    picks.emplace_back(option.offer, option.latest - option.payday);
  }
  std::vector<Money> by_payday(data_.stages.size());
  for (const auto& [key, order] : orders) {
    if (!order.second) return std::nullopt;
    by_payday[key.first] += order.first + delivery_for(data_.suppliers[key.second], order.first);
  }
  auto result = settle(std::move(by_payday));
  if (result) result->picks = std::move(picks);
  return result;
}

}  // namespace

void check_baskets(const Subject& subject, Findings& findings) {
  const Ways ways(subject);
  const auto recorded = ways.outcome(ways.recorded());
  if (!recorded) return;  // the cash rule says so
  std::optional<Outcome> best = recorded;
  for (const Way& way : ways.all(ways.recorded()))
    if (auto other = ways.outcome(way); other && *other < *best) best = std::move(other);
  if (*best < *recorded)
    found(findings, Rule::accounts, -1, -1, "the goods bought come to ", recorded->spent,
          " in minor units, but a better way comes to ", best->spent);
}

}  // namespace fettlefund::budgets::verifier
