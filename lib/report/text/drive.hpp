#pragma once
#include <string>

#include "lib/drive/drive.hpp"
#include "lib/report/text/text.hpp"

/// The drive train's figures for reading and for programs.
namespace fettlefund::report {

/// Tables of figures with their units, before and after the change; the tooth pairs that give a wanted ratio;
/// warnings; how each figure is worked out. Ends with a line break. `options.steps` does not matter.
std::string drive_text(const build::Build& build, const planning::DriveReport& drive,
                       const TextOptions& options = {});

/// Keys in a fixed order, told in README.md of this folder. Figures are rounded to their `digits`; what is
/// not known is null.
std::string drive_json(const build::Build& build, const planning::DriveReport& drive);

/// Where the axle of a tooth pair comes to lie with a new chain, and what the present chain would do.
std::string axle_text(const fitment::ToothPair& pair);
std::string present_chain_text(const fitment::ToothPair& pair);

}  // namespace fettlefund::report
