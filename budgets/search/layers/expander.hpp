#pragma once
#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include "budgets/search/bound/bounder.hpp"
#include "budgets/search/layers/layer.hpp"
#include "budgets/search/layers/look_ahead.hpp"
#include "budgets/search/rank.hpp"
#include "budgets/search/relaxed/sure_orders.hpp"

namespace fettlefund::budgets::search {

/// How children are costed.
enum class Costing {
  additive,  ///< relaxed costs are the true ones
  shopped,   ///< goods are bought in every way that pays
  /// Goods are bought at what they and their orders cost at least, tools and hire as in the relaxed problem.
  /// A child stands for all partial plans that do the same units stage by stage, and takes the place of all
  /// that have done the same units with more money and less worth, and leave less to stages to come: far
  /// fewer than where everything in store tells them apart, but only a bound.
  sure,
};

/// Makes the children of partial plans: one for every set of units (and tools to buy) that a stage can do.
class Expander {
 public:
  /// Called with a child that is a plan as it stands: its parent, its words and its rank.
  using Finish = std::function<void(const Row&, const std::vector<std::uint64_t>&)>;
  /// Called when the next layer has more than `Goal::room` rows; to cut it down and to raise the floor.
  using Crowd = std::function<void(Layer&)>;

  Expander(const Model& model, const Relaxed& relaxed, const Bounder& bounder, Costing costing);

  Row first_row(std::vector<std::uint64_t>& words) const;

  /// Gets ready to expand layer `stage` under the multipliers in force (loaded for `stage` or earlier).
  void start_layer(int stage);

  /// Adds the children of `row` to `next` (not for the last stage). `finish` may raise `goal` meanwhile.
  /// False if the meter ran out midway: then not all children were seen.
  bool expand(const Layer& layer, std::uint32_t row, Goal& goal, Layer& next, const Finish& finish,
              const Crowd& crowd, Meter& meter);

  /// The start of a bound from a row, for Bounder.
  Root root_of(const Layer& layer, const Row& row, int stage) const;

  int done_words() const { return done_words_; }
  int tool_words() const { return tool_words_; }
  /// The highest bound of children that could not be looked at one by one; none: the lowest number.
  std::int64_t skipped() const { return skipped_; }
  void forget_skipped() { skipped_ = std::numeric_limits<std::int64_t>::min(); }
  const BasketWays& ways() const { return ways_; }

 private:
  struct Candidate {
    int unit = 0;
    std::int64_t gain = 0;  ///< grid: worth less `done`, tools and charges apart
    // With every charge and tool shared out among the candidates that have it:
    std::int64_t shared_gain = 0;
    std::int64_t shared_cost = 0;
    std::int64_t shared_minutes = 0;
    std::int64_t most = 0;  ///< gain with that of the tools it may bring
  };
  struct Node {
    std::int64_t bound_base = 0;  ///< grid: all of the bound but the table
    std::int64_t relaxed = 0;
    std::int64_t minutes = 0;
    std::int64_t value = 0;
    bool fit_changed = false;
    // As the candidates' shares add up:
    std::int64_t shared_base = 0;
    std::int64_t shared_relaxed = 0;
    std::int64_t shared_minutes = 0;
  };

  void order_units();
  void load_row(const Layer& layer, const Row& row);
  void find_candidates();

  // In expander_ahead.cpp: what a node's descendants can come to.
  void share_out();
  std::int64_t critical_price(const Node& node) const;
  void look_ahead(Node& node);
  std::int64_t shared_promise(std::size_t next, const Node& node) const;
  std::int64_t promise(std::size_t next, const Node& node) const;
  std::int64_t tool_gain(int tool) const;
  bool visit(std::size_t next, const Node& node);
  bool add(const Candidate& candidate, Node& node);
  void remove(int unit);
  bool may_add(int unit) const;
  void emit(const Node& node);
  void note_free();
  void note_renewed();
  Node true_worth(Node node);
  bool musts_in_time() const;
  void emit_row(Row& row, std::vector<std::uint64_t>& words);

  // In expander_costs.cpp: children whose cost is a sum.
  void emit_exact(const Node& node);
  void emit_sure(const Node& node);
  void find_onces();
  std::int64_t sure_own_cost() const;
  void load_sure(const Row& row, const std::uint64_t* words);
  std::size_t rest_words() const { return static_cast<std::size_t>(model_.stage_count()) + 2; }
  void encode_rest(int article, const std::vector<HeldLot>& lots, std::vector<std::uint64_t>& words) const;
  void decode_rest(int article, const std::uint64_t* words);

  // In expander_goods.cpp: children whose goods have to be bought to know their cost.
  void load_stores(const Row& row, const std::uint64_t* words);
  void emit_goods(const Node& node);
  void collect_demand();
  bool choose_tools(std::vector<int>& bought, std::vector<int>& choices) const;
  std::int64_t hire_with(const std::vector<int>& bought) const;
  void buy_with(const Node& node, const std::vector<int>& bought, std::int64_t hire);
  void skip(const Node& node);
  std::int64_t most_money(const Node& node, const Stores& stores);
  std::vector<std::int64_t> sure_costs() const;
  void add_sure_cost(const Line& line, int times, std::vector<std::int64_t>& sure) const;
  void buy_lines(const Node& node, const Stores& stores, std::vector<Tally>& tallies);
  void start_words(const std::vector<int>& bought);
  void add_child(const Node& node, const std::vector<int>& bought, const Tally& tally, const Stores& stores);
  bool settle(Row& row, const Tally& tally, const Stores& stores);
  void forget(Stores& stores) const;
  std::int64_t sure_spending(const Row& row, const Stores& stores);
  std::int64_t saving(const Stores& stores);
  std::int64_t saving_with(const Stores& stores, const std::uint64_t* owned);
  std::int64_t refund(const Stores& stores, int payday) const;
  void encode(const std::vector<HeldLot>& lots, std::vector<std::uint64_t>& words) const;
  bool worth_buying_early(int tool) const;

  const Model& model_;
  const Relaxed& relaxed_;
  const Bounder& bounder_;
  Costing costing_;
  int done_words_ = 0;
  int tool_words_ = 0;  ///< zero where tools had follow from units done and no carrier is free
  int first_free_ = 0;  ///< bit of the words for tools at which those of the model's free carriers begin
  std::int64_t skipped_ = 0;

  // Of the layer.
  int stage_ = 0;
  std::vector<int> order_;
  std::vector<std::int64_t> gain_;
  Bits due_;  ///< musts that have to be done by the end of this stage
  Bits all_musts_;

  // Of the row being expanded.
  const Row* parent_ = nullptr;
  std::uint32_t parent_index_ = 0;
  Goal* goal_ = nullptr;
  Layer* next_ = nullptr;
  const Finish* finish_ = nullptr;
  const Crowd* crowd_ = nullptr;
  Meter* meter_ = nullptr;
  Bits done_;  ///< units done, those of the child included
  std::vector<int> chosen_;
  std::vector<int> onces_;  ///< of the relaxed tools those that these are the first to need
  std::vector<int> open_;   ///< [charge] units that have it
  std::vector<int> had_;    ///< [relaxed tool] before, or units that need it
  std::vector<int> fees_;   ///< [relaxed fee] units that pay it, one more where an order can be joined
  std::vector<char> taken_;
  std::vector<Candidate> candidates_;
  LookAhead plain_;                ///< costs of units alone
  LookAhead shared_;               ///< with shares, and with bench time priced
  std::int64_t time_price_ = 0;    ///< grid worth a minute in `shared_`
  std::vector<int> charge_users_;  ///< [charge] candidates that have it
  std::vector<int> tool_users_;
  std::vector<int> fee_users_;
  std::vector<Prospect> prospects_;
  std::vector<std::uint64_t> child_words_;

  // Goods of the row being expanded.
  SureOrders orders_;
  std::vector<int> kept_;  ///< articles of which something may be left
  Stores opening_;
  Bits owned_none_;  ///< scratch
  std::vector<std::int64_t> reach_, reach_after_;
  Stores stores_;
  Bits owned_;
  Bits renewed_;                         ///< renewals earned before
  Bits renewed_after_;                   ///< scratch
  Bits here_;                            ///< free carriers on the machine after the child
  std::vector<std::int64_t> subtotals_;  ///< [payday] bare spending so far, paydays still open
  std::int64_t closed_ = 0;              ///< with allowance, up to the first open payday
  int first_open_ = 0;
  Demand demand_;
  std::vector<int> removals_, tools_;
  std::vector<std::vector<int>> any_tools_;
  BasketWays ways_;
  std::vector<Line> lines_;
  std::vector<OrderLine> missing_;
  std::vector<char> left_;  ///< [unit] scratch
  bool affordable_ = true;  ///< the child keeps all caps as it stands
};

}  // namespace fettlefund::budgets::search
