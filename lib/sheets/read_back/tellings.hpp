#pragma once
#include <map>
#include <string>
#include <vector>

#include "budgets/values/money.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"
#include "lib/sheets/read_back/comparison.hpp"

namespace fettlefund::sheets {

/// What the cells for typing tell, row by row.
class Tellings {
 public:
  Tellings(const budgets::Currency& currency, bool from_1904, const std::vector<KeyedRow>& rows,
           Readback& to);
  void read();

 private:
  // by sheet
  void read_shopping(const KeyedRow& row);
  void read_besides(const KeyedRow& row);
  void read_forgotten(const KeyedRow& row);
  void read_past(const KeyedRow& row);
  void read_state(const KeyedRow& row);
  void read_job(const KeyedRow& row);
  void read_unfinished(const KeyedRow& row, const std::string& state, std::optional<std::int64_t> minutes,
                       std::optional<budgets::Date> on);
  void read_step(const KeyedRow& row);
  void read_count(const KeyedRow& row);
  void read_name(const KeyedRow& row);
  void read_what_if(const KeyedRow& row);
  void remember_tick(const KeyedRow& row, const std::string& heading);

  // of a line of the shopping list
  void tell_not_bought(const KeyedRow& row);
  bool goods_bought(const KeyedRow& row) const;
  void tell_silent_delivery(const KeyedRow& row);
  const KeyedRow* supplier_row(const std::string& delivery_key) const;
  void tell_bought(const KeyedRow& row, const std::optional<budgets::Money>& paid, bool paid_good);
  std::optional<std::int64_t> packs_of(const KeyedRow& row);
  std::optional<budgets::Money> planned(const KeyedRow& row);
  std::optional<budgets::Money> product(const KeyedRow& row);
  std::optional<budgets::Money> delivery(const KeyedRow& row);
  std::optional<budgets::Money> charged(const KeyedRow& supplier, const std::string& heading, bool& good);
  std::optional<budgets::Money> limited(const KeyedRow& row, const std::string& heading, bool& good,
                                        bool below_zero = false);

  // cells; a fault is told
  bool tick(const KeyedRow& row);
  std::optional<budgets::Date> day(const KeyedRow& row, const std::string& heading, bool& good);
  void remark(const KeyedRow& row, const std::string& heading, const std::string& about);
  bool changed(const KeyedRow& row, const std::string& heading) const;

  // what is to be asked about: told as an error that says how to confirm it
  bool asks_about(const KeyedRow& row, budgets::Money paid, std::optional<budgets::Money> planned);
  bool asks_about_hours(const KeyedRow& row, std::int64_t minutes);
  std::optional<budgets::Money> planned_before(const KeyedRow& row, std::int64_t packs) const;
  std::string key_besides(const KeyedRow& row, const std::string& what, std::optional<std::int64_t> stage);

  void tell(bool error, const KeyedRow& row, const std::string& heading, const std::string& text);
  template <class T>
  std::optional<T> taken(const KeyedRow& row, const std::string& heading, const CellReading<T>& reading,
                         bool& good);
  static const StoredCell* cell(const KeyedRow& row, const std::string& heading);

  const budgets::Currency& currency_;
  bool from_1904_;
  const std::vector<KeyedRow>& rows_;
  Readback& to_;
  std::map<int, const KeyedRow*> shopping_;           ///< by the row where they stood
  std::map<std::string, const KeyedRow*> suppliers_;  ///< by key
  std::int64_t last_stage_ = 0;
  std::string plan_;                    ///< the first letters of the plan's fingerprint
  std::map<std::string, int> besides_;  ///< how often each was told
};

}  // namespace fettlefund::sheets
