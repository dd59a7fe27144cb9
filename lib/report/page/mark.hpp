#pragma once
#include <string>
#include <string_view>

/// Telling whether a page is as it was written.
namespace fettlefund::report {

/// The page with a last line, a comment, that holds a fingerprint of all before it.
std::string marked(std::string page);

/// Whether the page is one of `marked`, with nothing changed since.
bool as_marked(std::string_view page);

}  // namespace fettlefund::report
