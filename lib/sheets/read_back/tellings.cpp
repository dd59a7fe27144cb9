#include "lib/sheets/read_back/tellings.hpp"

#include <algorithm>

#include "lib/log/entry.hpp"
#include "lib/sheets/pages/past_ticks.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

bool is_besides(const std::string& key) { return key.starts_with("besides:") || key.starts_with("added:"); }

bool is_past(const std::string& key) { return key.starts_with("past:"); }

/// "step:fork@2.3" or "job:fork@2": the id.
std::string id_of(const std::string& key) {
  const std::size_t colon = key.find(':'), at = key.rfind('@');
  return colon == std::string::npos || at == std::string::npos || at < colon
             ? ""
             : key.substr(colon + 1, at - colon - 1);
}

}  // namespace

Tellings::Tellings(const budgets::Currency& currency, bool from_1904, const std::vector<KeyedRow>& rows,
                   Readback& to)
    : currency_(currency), from_1904_(from_1904), rows_(rows), to_(to) {
  plan_ = plan_fingerprint(to.record).substr(0, 8);
  for (const KeyedRow& row : rows) {
    if (row.sheet == kShopping) shopping_[row.row_before] = &row;
    if (row.sheet == kSuppliers) suppliers_[row.key] = &row;
    if (row.key.starts_with("stage:"))
      last_stage_ = std::max<std::int64_t>(last_stage_, std::atoll(row.key.c_str() + 6));
  }
}

void Tellings::read() {
  for (const KeyedRow& row : rows_) {
    if (is_past(row.key)) {
      read_past(row);
      continue;
    }
    if (row.sheet == kShopping && !is_besides(row.key)) read_shopping(row);
    if (is_besides(row.key)) read_besides(row);
    if (row.sheet == kForgotten && !is_besides(row.key)) read_forgotten(row);
    if (row.sheet == kJobs) read_job(row);
    if (row.sheet == kWorkOrder) read_step(row);
    if (row.sheet == kTools) remember_tick(row, "Tool");
    if (row.sheet == kOverview && row.key == "plan:opening") read_count(row);
    if (row.sheet == kOverview && row.key == "plan:left") read_name(row);
    if (row.sheet == kOverview || row.sheet == kSuppliers) read_what_if(row);
  }
}

const StoredCell* Tellings::cell(const KeyedRow& row, const std::string& heading) {
  const Pair* pair = row.find(heading);
  return pair && pair->input() ? pair->now : nullptr;
}

void Tellings::tell(bool error, const KeyedRow& row, const std::string& heading, const std::string& text) {
  to_.remarkable.push_back({error, row.sheet, row.place(heading), text});
}

template <class T>
std::optional<T> Tellings::taken(const KeyedRow& row, const std::string& heading,
                                 const CellReading<T>& reading, bool& good) {
  if (!reading.good()) {
    tell(true, row, heading,
         fmt::format("found {}, expected {}", shown_text(cell(row, heading)), reading.expected));
    good = false;
  }
  return reading.value;
}

bool Tellings::tick(const KeyedRow& row) {
  bool good = true;
  return taken(row, "Tick", read_tick(cell(row, "Tick")), good).value_or(false);
}

std::optional<budgets::Date> Tellings::day(const KeyedRow& row, const std::string& heading, bool& good) {
  return taken(row, heading, read_day(cell(row, heading), from_1904_), good);
}

std::optional<budgets::Money> Tellings::limited(const KeyedRow& row, const std::string& heading, bool& good,
                                                bool below_zero) {
  const auto amount = taken(row, heading, read_amount(cell(row, heading), currency_), good);
  if (!amount) return std::nullopt;
  const bool fits =
      amount->minor() <= log::most_minor && amount->minor() >= (below_zero ? -log::most_minor : 0);
  if (fits) return amount;
  tell(true, row, heading,
       fmt::format("found {}, expected an amount of {} {}", shown_text(cell(row, heading)), currency_.code,
                   amount->minor() < 0 && !below_zero ? "that is 0 or more" : "that is smaller"));
  good = false;
  return std::nullopt;
}

void Tellings::remark(const KeyedRow& row, const std::string& heading, const std::string& about) {
  bool good = true;
  const auto text = taken(row, heading, read_words(cell(row, heading)), good);
  if (!text) return;
  const std::string fault = log::fault_of(log::Remark{about, *text});
  if (fault.empty()) return to_.said.push_back({row.sheet, row.place(heading), SaidRemark{about, *text}});
  tell(true, row, heading, "expected " + fault);
}

bool Tellings::changed(const KeyedRow& row, const std::string& heading) const {
  const Pair* pair = row.find(heading);
  return pair && pair->input() && !unchanged(*pair, currency_.digits, from_1904_);
}

void Tellings::read_besides(const KeyedRow& row) {
  bool good = true;
  const bool shopping = row.sheet == kShopping;
  const bool ticked = tick(row);
  const auto paid = limited(row, "Paid", good, shopping);
  const auto stage = taken(row, "Stage", read_whole(cell(row, "Stage"), 1, last_stage_), good);
  const auto on = day(row, "Bought on", good);
  std::string what;
  for (const char* heading : {"Article", "What", "Amount", "Why", "Needed by", "Bought", "Supplier"}) {
    const auto words = taken(row, heading, read_words(cell(row, heading)), good);
    if (words) what += (what.empty() ? "" : ", ") + *words;
  }
  if (good && paid) good = !asks_about(row, *paid, std::nullopt);
  const std::string key = key_besides(row, what, stage);
  if (good && !paid && (ticked || stage || on || !what.empty()))
    tell(ticked, row, "Paid", "nothing is paid here; without an amount it is not recorded");
  if (good && paid && !stage) tell(true, row, "Stage", "the stage is missing whose payday paid it");
  if (good && paid && stage) {
    to_.said.push_back(
        {row.sheet, row.place("Paid"),
         SaidBought{key, 1, *paid, true, on, {}, false, {}, stage, {}, fmt::format("{}:{}", row.key, plan_)},
         on ? row.place("Bought on") : ""});
    if (!what.empty())
      to_.said.push_back({row.sheet, row.place(shopping ? "Article" : "What"), SaidRemark{key, what}});
  }
  if (shopping) remark(row, "Your remark", key);
}

void Tellings::read_forgotten(const KeyedRow& row) {
  bool good = true;
  remember_tick(row, "What");
  const auto paid = limited(row, "Paid", good);
  if (paid && !asks_about(row, *paid, std::nullopt))
    to_.said.push_back(
        {row.sheet, row.place("Paid"), SaidBought{row.key, 1, *paid, true, {}, {}, false, {}, {}, {}, {}}});
}

void Tellings::read_job(const KeyedRow& row) {
  bool good = true;
  const bool done = tick(row);
  const auto on = day(row, "Done on", good);
  const auto minutes = taken(row, "Hours taken", read_hours(cell(row, "Hours taken")), good);
  if (good && done && minutes) good = !asks_about_hours(row, *minutes);
  const auto state = taken(row, "State", read_words(cell(row, "State")), good);
  if (state && good && done)
    return tell(true, row, "State", fmt::format("the job is ticked as done, and State says '{}'", *state));
  if (state && good) {
    read_unfinished(row, *state, minutes, on);
  } else if (!done && good && (on || minutes))
    tell(false, row, minutes ? "Hours taken" : "Done on",
         "the job is not ticked as done; it is not recorded");
  if (done && good)
    to_.said.push_back({row.sheet, row.place("Tick"), SaidDone{id_of(row.key), minutes, on},
                        on ? row.place("Done on") : ""});
  remark(row, "Your remark", id_of(row.key));
}

void Tellings::read_step(const KeyedRow& row) {
  remember_tick(row, "What to do");
  remark(row, "Your remark", id_of(row.key));
}

/// Of a row that is no purchase and no job, a tick is remembered with what the row says: another plan may
/// have another step under its key.
void Tellings::remember_tick(const KeyedRow& row, const std::string& heading) {
  const bool ticked = tick(row);
  if (!changed(row, "Tick")) return;
  const Pair* what = row.find(heading);
  const log::Remark remark{row.key, ticked_words(what == nullptr ? "" : what->before)};
  if (!ticked) {
    if (row.find("Tick")->before == "x")
      tell(false, row, "Tick", "the tick is gone; that it was ticked is recorded, and stays");
  } else if (log::fault_of(remark).empty()) {
    to_.said.push_back({row.sheet, row.place("Tick"), SaidRemark{remark.about, remark.text}});
  } else {
    ++to_.ticks_for_the_eye;
  }
}

/// The day stands in the row below it.
void Tellings::read_count(const KeyedRow& row) {
  bool good = true;
  const auto cash = limited(row, "Check", good, true);
  const auto below = std::find_if(rows_.begin(), rows_.end(), [](const KeyedRow& one) {
    return one.sheet == kOverview && one.key == "plan:allowance";
  });
  const auto on = below == rows_.end() ? std::nullopt : day(*below, "Check", good);
  if (!good) return;
  if (on && !cash) tell(false, *below, "Check", "no cash is counted above; the day alone is not recorded");
  if (cash)
    to_.said.push_back(
        {row.sheet, row.place("Check"), SaidCounted{*cash, on}, on ? below->place("Check") : ""});
}

/// Typed once, it stands behind all that is typed in this copy.
void Tellings::read_name(const KeyedRow& row) {
  bool good = true;
  const std::string name = taken(row, "Check", read_words(cell(row, "Check")), good).value_or("");
  const std::string fault = log::fault_of_name(name);
  if (!fault.empty()) return tell(true, row, "Check", "expected " + fault);
  to_.by = name;
  to_.by_cell = row.place("Check");
}

void Tellings::read_what_if(const KeyedRow& row) {
  for (const auto& [heading, pair] : row.cells) {
    if (heading == "Check" || !changed(row, heading)) continue;
    tell(false, row, heading,
         fmt::format("{} instead of what was planned with is not recorded; to plan with it put it into the "
                     "build file",
                     shown_text(pair.now)));
  }
}

}  // namespace fettlefund::sheets
