#pragma once
#include <string>

namespace fettlefund::cli {

/// "fettlefund 0.2.0 (commit 1234567)": the version of the build description and, where the sources come from
/// a git checkout, the commit they were configured at.
std::string version_text();

}  // namespace fettlefund::cli
