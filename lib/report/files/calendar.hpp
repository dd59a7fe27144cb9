#pragma once
#include <string>
#include <string_view>

#include "lib/outcome/outcome.hpp"

/// The plan as a calendar file (RFC 5545, Internet Calendaring and Scheduling Core Object Specification,
/// 2009).
namespace fettlefund::report {

struct CalendarOptions {
  int revision =
      0;  ///< SEQUENCE of every event, >= 0: a calendar takes the file with the larger one as newer
};

/// Two all-day events a stage: its payday (what to order from whom, what is left) and its bench date (what
/// comes off, what is done, what is easily forgotten, the care to take). An event's UID is made of the
/// stage's number and the build's name alone, and stages with nothing to order or do have their events as
/// well: a file of a later plan therefore replaces every event of an earlier one. DTSTAMP is the first payday
/// at midnight, not the clock, so the same outcome gives the same bytes. Bench dates with work count as busy
/// time, others and paydays as free.
///
/// `outcome.build` must be set. Lines end with CRLF.
std::string calendar(const planning::Outcome& outcome, const CalendarOptions& options = {});

/// A text as a property's value: backslash, semicolon and comma behind a backslash, line feeds as "\n", other
/// control characters as blanks or '?' (section 3.3.11).
std::string calendar_text(std::string_view text);

/// One content line, ended with CRLF and folded so that no line is longer than 75 octets and no UTF-8
/// character is cut (section 3.1).
std::string folded(std::string_view line);

}  // namespace fettlefund::report
