#pragma once
#include <string>
#include <vector>

#include "lib/log/line.hpp"

namespace fettlefund::test {

inline budgets::Money cents(std::int64_t minor) { return budgets::Money::of_minor(minor); }

inline budgets::Date day(const std::string& text) { return budgets::read_date(text).value(); }

inline budgets::Currency euro() { return budgets::find_currency("EUR").value(); }

/// A log of these events, numbered from 1, of a build that is called "test build".
inline log::Log log_of(const std::vector<log::NewEntry>& events) {
  log::Log log{"test.log", "test build", "0123abcd", euro(), {}};
  for (const log::NewEntry& one : events) {
    log.entries.push_back(
        {static_cast<std::int64_t>(log.entries.size()) + 1, one.date, one.event, one.brought});
  }
  return log;
}

/// The log as its file.
inline std::string text_of(const log::Log& log) {
  std::string text = log::header_line(log);
  for (const log::Entry& entry : log.entries) text += log::entry_line(entry, log.currency);
  return text;
}

}  // namespace fettlefund::test
