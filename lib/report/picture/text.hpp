#pragma once
#include <string>
#include <vector>

/// Texts and figures of the picture.
namespace fettlefund::report {

/// A text broken into lines.
struct Lettering {
  std::vector<std::string> lines;
  double size = 0;  ///< of the font
};

/// A generous estimate of the width of a text in a common sans-serif font of this size.
double text_width_mm(const std::string& text, double size);

/// The text broken into lines of at most `width` mm; at most `most` lines, the last ended with "..." where
/// there is more.
Lettering lettered(const std::string& text, double size, double width, std::size_t most);

/// The text as character data or an attribute's value; what XML 1.0 does not allow becomes '?'. Control
/// characters must be gone already (see `printable`).
std::string svg_text(const std::string& text);

/// At most two decimals, no needless zeros, never "-0".
std::string svg_number(double value);

}  // namespace fettlefund::report
