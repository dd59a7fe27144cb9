#pragma once
#include <string>
#include <string_view>

#include "lib/build/model.hpp"

namespace fettlefund::build {

/// The text of a short commented build file of a trade ("motorcycle", "van", "bicycle", "boat") that plans as
/// it stands, its paydays beginning at `day` (from 1910 to 2090), and teaches the format; empty for another
/// trade. All of its contents are invented. `name` becomes the build's name: what a name cannot hold (control
/// characters, bytes that are not UTF-8) is replaced by '?', only the first 200 characters are kept, and a
/// blank name becomes "My build".
std::string starter_build(const std::string& name, std::string_view trade, Date day);

}  // namespace fettlefund::build
