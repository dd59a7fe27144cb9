#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/progress/history.hpp"
#include "lib/sheets/read_back/settle.hpp"
#include "lib/staging/ids.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

/// What `settle` holds a workbook against and what has come of it so far; of its sources alone.
namespace fettlefund::sheets {

struct Settling {
  /// All of them must outlive it.
  Settling(const Readback& back, const build::Build& build, const log::Log& log, budgets::Date day);

  /// Tells of the cell of the entry at hand, or of one beside it.
  void tell(bool error, const std::string& text);
  void tell_at(const std::string& cell, bool error, const std::string& text);

  /// An entry for the log. One that cannot stand there is told instead.
  void propose(budgets::Date date, log::Event event);

  /// Whether the entry at hand can have happened on that day; if not, that is told.
  bool day_fits(budgets::Date on);

  /// The first living entry of that kind since the workbook was written that is `meant`; none: nullptr. That
  /// it has another day than what is typed beside it is told.
  template <class Kind, class Meant>
  const Kind* since(Meant meant, std::optional<budgets::Date> on = {}) {
    const std::vector<bool> counts = log::effective(log);
    for (std::size_t i = 0; i < log.entries.size(); ++i) {
      const log::Entry& entry = log.entries[i];
      const auto* one = std::get_if<Kind>(&entry.event);
      if (one == nullptr || !counts[i] || entry.number <= back.record.log_entries || !meant(*one)) continue;
      if (on && *on != entry.date)
        tell_at(said->day_cell, false,
                fmt::format("on {} here, on {} in entry {} of the log; that stays", budgets::write_date(*on),
                            budgets::write_date(entry.date), entry.number));
      return one;
    }
    return nullptr;
  }

  /// That nothing of the build has this id, and the nearest that has one.
  template <class Entries>
  static std::string unknown(const build::Id& id, const std::string& what, const Entries& entries) {
    std::vector<std::string> names;
    for (const auto& entry : entries) names.push_back(entry.id);
    const std::string nearest = text::nearest_name(id, text::Names(std::move(names)));
    return fmt::format("'{}' is not {} of the build any more{}", id, what,
                       nearest.empty() ? "" : "; did it become '" + nearest + "'?");
  }

  /// Whether something of the build has this id; if not, that is told.
  template <class Entries>
  bool look(const build::Id& id, const std::string& what, const Entries& entries) {
    if (planning::find_id(entries, id) >= 0) return true;
    tell(true, unknown(id, what, entries));
    return false;
  }

  const Readback& back;
  const build::Build& build;
  const log::Log& log;
  budgets::Date day;          ///< of the recording
  planning::History history;  ///< of the log
  std::vector<budgets::Date> paydays;
  budgets::Date first;         ///< nothing of the build happened before
  const Said* said = nullptr;  ///< the entry at hand; nullptr: none
  Settled to;
};

}  // namespace fettlefund::sheets
