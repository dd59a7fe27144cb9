#pragma once
#include <set>
#include <string>

#include "lib/sheets/read_back/settling.hpp"

namespace fettlefund::sheets {

/// Settles what a workbook tells as bought; of `settle` alone.
class BoughtSettler {
 public:
  /// `at` must outlive it.
  explicit BoughtSettler(Settling& at);

  void settle(const SaidBought& said);

  /// Behind all entries: goods whose delivery is neither ticked nor paid, and what was recorded since the
  /// workbook was written and is not told by it.
  void tell_rest();

 private:
  /// What the log holds of one key.
  struct Known {
    std::int64_t packs = 0, entry = 0;
    budgets::Money since, before;  ///< paid after and before the workbook was written
    budgets::Date date;
    std::string key{};     ///< that the log has it under
    bool decided = false;  ///< its amount was put right by an entry of its own
  };

  Known known_of(const std::string& key) const;
  Known same_under_another_key(const SaidBought& said);
  bool known_to_build(const std::string& key);
  budgets::Date day_of(const SaidBought& said);
  void compare_paid(const SaidBought& said, const Known& known);
  void add_bought(const SaidBought& said, budgets::Date on);
  void tell_deliveries();
  void tell_untold();

  Settling& at_;
  std::set<std::string> told_;     ///< keys
  std::set<std::string> decided_;  ///< keys whose amount the log corrects
};

}  // namespace fettlefund::sheets
