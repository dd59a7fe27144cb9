#pragma once
#include <string>
#include <string_view>
#include <vector>

/// Text in columns for a terminal.
namespace fettlefund::text {

/// Columns that UTF-8 text takes: combining marks and joiners none, East Asian wide characters and emoji two,
/// every other one (Unicode Standard Annex 11). Bytes that are not UTF-8, and controls, count one each.
int display_width(std::string_view text);

/// The text with control characters (which could steer a terminal) as '?', line breaks and tabs as blanks.
std::string printable(std::string_view text);

std::string pad_right(const std::string& text, int width);  ///< blanks after; longer text stays as it is
std::string pad_left(const std::string& text, int width);   ///< blanks before

/// The text broken at blanks into lines of at most `width` columns (>= 10); a longer word is cut at a
/// character boundary. At least one line.
std::vector<std::string> wrapped(std::string_view text, int width);

/// `first` and then the wrapped text, the lines after the first indented to `indent`; ends with a line break.
std::string paragraph(const std::string& first, std::string_view text, int indent, int width);

}  // namespace fettlefund::text
