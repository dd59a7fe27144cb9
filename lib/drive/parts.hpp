#pragma once
#include "lib/drive/drive.hpp"

/// The parts of a drive report, each filling its groups, remarks, warnings and notes.
namespace fettlefund::planning {

void add_ratios(DriveReport& report, const build::DriveTrain& drive);
void add_speeds(DriveReport& report, const build::DriveTrain& drive);
void add_chain(DriveReport& report, const build::DriveTrain& drive);
void add_pairs(DriveReport& report, const build::DriveTrain& drive);

}  // namespace fettlefund::planning
