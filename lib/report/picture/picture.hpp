#pragma once
#include <string>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::report {

/// The plan's dependencies as one picture (Scalable Vector Graphics 1.1, self-contained, A4 upright, more
/// than one sheet high where a build is large): a row for each stage with a box for each job; above the boxes
/// what comes off for them; below them the fitted things they take off for good; arrows from each job to
/// those that must come after it; numbered marks on what clashes and on what makes it fit; last the jobs left
/// out. Every sign has a shape or words of its own besides its colour. `outcome.build` must be set.
std::string picture(const planning::Outcome& outcome);

}  // namespace fettlefund::report
