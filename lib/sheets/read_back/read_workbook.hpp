#pragma once
#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/sheets/record/plan_record.hpp"

/// What two people typed into a workbook, told apart from what the tool wrote. Rows are found by their keys
/// and columns by their headings, never by where they stand.
namespace fettlefund::sheets {

/// Something in a workbook that needs a look. An error: nothing of the workbook may be recorded before it is
/// put right. Else: it is not recorded, all the rest is good.
struct Remarkable {
  bool error = true;
  std::string sheet, cell;  ///< "Shopping", "I7"; both may be empty
  std::string text;
};

struct SaidBought {
  std::string key;
  std::int64_t packs = 1;
  budgets::Money paid;         ///< for all packs
  bool paid_is_typed = false;  ///< else it is the planned amount
  std::optional<budgets::Date> on;
  std::optional<budgets::Date> arrives;  ///< as the sheet has it
  bool arrives_is_typed = false;
  std::optional<budgets::Money>
      planned{};  ///< for all packs, as the workbook was written; besides the plan: none
  std::optional<std::int64_t> stage{};  ///< typed, from 1: whose payday paid it
  std::string supplier{};               ///< its name as the sheet was written with it; empty: none
  std::string row_key{};  ///< of a line besides the plan: the key that earlier versions recorded it under
};

struct SaidDone {
  build::Id job;
  std::optional<std::int64_t> minutes;
  std::optional<budgets::Date> on;
};

struct SaidRemark {
  std::string about;  ///< a key or an id
  std::string text;
};

/// The cash there was, after all else that the workbook tells of that day.
struct SaidCounted {
  budgets::Money cash;
  std::optional<budgets::Date> on;
};

/// What became of a thing that the log holds, or money that came back for it.
struct SaidState {
  std::int64_t entry = 0;  ///< of the log, that bought it
  std::string key;
  std::string how;                    ///< "arrived", one of log::ways_to_go, or empty: only money came back
  std::optional<std::int64_t> packs;  ///< of it; nothing: all that is left
  std::optional<budgets::Money> back;
  std::optional<budgets::Date> on{};
};

/// A job that is begun, with minutes, or without: given up.
struct SaidUnfinished {
  build::Id job;
  std::optional<std::int64_t> minutes;
  std::optional<budgets::Date> on;
};

/// A delivery that is neither ticked nor paid although goods of its order are.
struct SilentDelivery {
  std::string sheet, key, supplier;
  budgets::Money amount;
};

/// One thing that the workbook tells, and the cell that tells it.
struct Said {
  std::string sheet, cell;
  std::variant<SaidBought, SaidDone, SaidRemark, SaidCounted, SaidState, SaidUnfinished> what;
  std::string day_cell{};  ///< where its day stands; empty: nowhere of its own
};

struct Readback {
  PlanRecord record;       ///< without its rows
  std::vector<Said> said;  ///< sheet by sheet from the top as the workbook was written
  std::vector<SilentDelivery> deliveries;
  std::set<std::string> keys;  ///< of all lines of the shopping list, ticked or not
  std::vector<Remarkable> remarkable;
  std::string by{};           ///< who typed into it, as they call themselves; may be empty
  std::string by_cell{};      ///< where that stands on the overview
  int ticks_for_the_eye = 0;  ///< of rows whose keys no log can hold: nobody records them
};

/// Reads the workbook at `path`. Throws Unreadable where it is no whole workbook of fettlefund.
Readback read_workbook(const std::string& path);
Readback read_back(const StoredBook& book);

}  // namespace fettlefund::sheets
