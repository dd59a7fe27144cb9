#pragma once
#include <string>

namespace fettlefund::build {

/// The text of a short commented build file that plans as it stands and teaches the format. All of its
/// contents are invented. `name` becomes the build's name: what a name cannot hold (control characters, bytes
/// that are not UTF-8) is replaced by '?', only the first 200 characters are kept, and a blank name becomes
/// "My build".
std::string starter_build(const std::string& name);

}  // namespace fettlefund::build
