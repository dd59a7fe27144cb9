#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/local/arrangement.hpp"
#include "budgets/search/local/remembered_shopping.hpp"
#include "budgets/search/local/unit_money.hpp"
#include "budgets/search/rank.hpp"

namespace fettlefund::budgets::search {

/// What an arrangement comes to, and how far it oversteps what it should keep.
struct Reckoning {
  Rank rank;                         ///< with each stage's goods bought in its style
  std::int64_t money_lacking = 0;    ///< the most by which a payday's cap is passed, minor units
  std::int64_t money_over = 0;       ///< the same, below 0 where no cap is reached; after shopping only
  std::int64_t minutes_lacking = 0;  ///< bench time passed, over all stages
  int misfits = 0;                   ///< stages at whose end a mate or clash is open

  /// With so much more cash.
  bool keeps_limits(std::int64_t more = 0) const {
    return money_over <= more && minutes_lacking == 0 && misfits == 0;
  }
};

/// Costs whole arrangements, one after the other, where each differs little from the one kept last: only
/// stages that differ are shopped for, and those whose stores differ for it. Cash, bench time and fit are
/// reckoned, not demanded. A tool whose purchase is `by_price` is bought for the first stage that has to pay
/// for it if that is possible and no dearer than hiring it for every such stage.
class SoftTrial {
 public:
  explicit SoftTrial(const Model& model);

  void add_cash(std::int64_t more);  ///< from now on caps are the model's and so much, minor units

  /// Reckons worth and time, and about what money is lacking at the least, judged by the units that were
  /// moved. Windows, order and groups are the caller's affair.
  const Reckoning& reckon_units(const Arrangement& next);
  /// Then tools and fit.
  const Reckoning& reckon_work();
  /// Then the rest; false where a tool or goods cannot be had.
  bool reckon_money();
  const Reckoning& result() const { return result_; }
  void keep();  ///< later ones are compared with the one reckoned last

  const std::vector<int>& bought() const {
    return bought_;
  }  ///< per tool: a stage, or -1; of the last reckoned
  std::int64_t work() const { return work_ + shopping_.work(); }  ///< steps so far, about

 private:
  /// What a stage of an arrangement comes to without its shopping.
  struct Work {
    Errand errand;
    Bits tools, hired;  ///< used; of these hired
    int not_had = 0;    ///< tools that can neither be bought nor hired
    std::int64_t minutes = 0, late = 0, value = 0, fees = 0, hire = 0;
    Bits done;  ///< of the units that decide fit, up to its end
    Bits here;  ///< free carriers on the machine at its end
    bool fits = true;
  };
  /// One stage of an arrangement.
  struct Day : Work {
    Stores before;                                   ///< what shopping finds
    std::vector<std::pair<int, std::int64_t>> paid;  ///< for goods: payday, minor units
    bool missing = false;
  };

  void touch(int stage);
  void move_units();
  void change_styles();
  void work_out(int stage);
  void add_any_tools(Work& work, int stage);
  void choose_tools();
  void choose_tool(int tool);
  void provide(int tool, int stage, bool bought, bool hired);
  bool shop();
  void shop_stage(int stage, Stores& stores);
  void check_fit();
  std::int64_t earned_twice() const;
  void add_up_units();
  void judge_money();
  void add_up_money();
  bool pays_for(int tool, int stage) const;
  const Day& at(int stage) const { return touched_[stage] ? next_[stage] : now_[stage]; }

  const Model& model_;
  RememberedShopping shopping_;
  UnitMoney money_;
  std::vector<std::int64_t> caps_;      ///< [payday]
  std::vector<Bits> opened_by_;         ///< [unit] removals
  std::vector<Bits> tools_of_;          ///< [unit] tools, those of its removals included
  std::vector<Bits> articles_of_;       ///< [unit] articles, those of its removals included
  Bits decides_fit_;                    ///< units
  std::vector<std::int64_t> cheapest_;  ///< [tool * stages + stage] price; -1: not on offer

  Arrangement kept_, last_;
  std::vector<Day> now_, next_;  ///< [stage] kept; reckoned last, where touched
  std::vector<char> touched_;
  std::vector<int> kept_bought_, bought_;
  std::vector<std::int64_t> kept_spent_;  ///< [payday]
  bool fit_moved_ = false;                ///< some unit that decides fit was moved
  // Scratch.
  std::vector<std::int64_t> bare_;    ///< [payday]
  std::vector<std::int64_t> spent_;   ///< [payday] up to it, by the arrangement reckoned last
  std::vector<std::int64_t> change_;  ///< [payday] of it, as judged
  Bits done_, here_, differ_;
  std::vector<char> pays_;  ///< [stage] for the tool
  Stores stores_;
  Reckoning result_;
  std::int64_t work_ = 0;
};

}  // namespace fettlefund::budgets::search
