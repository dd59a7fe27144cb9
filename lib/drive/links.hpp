#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/fitment/chain_length.hpp"

/// The one place where the drive train's geometry reaches the plan: how many links of chain the chain job
/// uses.
namespace fettlefund::planning {

/// How long the new chain is, counted as common practice does with the axle in the middle of its travel.
struct LinksNeeded {
  double mid_travel_mm = 0;  ///< centre distance counted with
  double by_formula = 0;     ///< fitment::links_by_formula
  double exact = 0;          ///< fitment::links_exact: the count that is rounded
  int links = 0;             ///< even, by the build's rounding rule
  int nearest_count = 0;     ///< the whole count nearest to `exact`; odd ones would need an offset link
};

/// The sprockets after the change and the chain's pitch.
fitment::ChainDrive drive_after(const build::DriveTrain& drive);
/// The sprockets before the change; the present chain is taken to have the new one's pitch.
fitment::ChainDrive drive_before(const build::DriveTrain& drive);

/// Nothing where the chain would have more than fitment::most_links. The drive train must be as `read` leaves
/// it: a chain size and tooth counts that the fitment room knows, an adjuster on which no sprockets touch.
std::optional<LinksNeeded> links_needed(const build::DriveTrain& drive);

/// What a job uses: what the file lists; and where it is the drive train's chain job and the chain has an
/// article, so many links of that article as `links_needed` says, instead of any amount listed for it.
std::vector<build::Use> uses_of(const build::Build& build, const build::Job& job);

/// One sentence for what is taken for granted, empty where `uses_of` changes nothing.
std::string links_note(const build::Build& build);

}  // namespace fettlefund::planning
