#pragma once
#include <string>
#include <string_view>

namespace fettlefund::sheets {

/// The text as a cell can hold it: control characters other than tab and line feed become spaces, and what
/// looks like an escape of the file format ("_x0041_") is escaped so that it is read back as written. Throws
/// std::runtime_error if the text is not valid UTF-8, holds U+FFFE or U+FFFF, or is longer than 32767 UTF-16
/// units. `where` is named in the message.
std::string cell_text(std::string_view text, std::string_view where);

/// As `cell_text` gives it, but for the escapes and the checks: what a reader of the file gets.
std::string without_controls(std::string_view text);

/// Is it well-formed UTF-8 (no overlong forms, no surrogates, nothing above U+10FFFF) of characters that
/// XML 1.0 allows, control characters aside?
bool valid_text(std::string_view text);

/// Length in UTF-16 units, of valid text.
std::size_t utf16_length(std::string_view text);

/// Throws std::logic_error unless it can name a range: a letter or underscore, then letters, digits,
/// underscores, at most 60, and not shaped like a cell reference ("A1", "R1C1").
void check_range_name(std::string_view name);

}  // namespace fettlefund::sheets
