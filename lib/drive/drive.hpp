#pragma once
#include <optional>
#include <string>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/drive/links.hpp"
#include "lib/fitment/ratio_search.hpp"

/// Everything the drive train's entry of a build comes to, worked out once for the text, the JSON report and
/// the workbook. Geometry and definitions; the machine's own manual goes before every figure of practice.
namespace fettlefund::planning {

/// One figure with its unit. `before` is with the present sprockets and chain, `after` with the new ones; a
/// figure of which only one is told has only `after`.
struct DriveFigure {
  std::string id;    ///< short word, stable: "final-ratio"
  std::string what;  ///< "final ratio"
  std::string unit;  ///< may be empty
  std::optional<double> before, after;
  int digits = 0;         ///< decimals worth showing
  bool compared = false;  ///< the change in percent says something
  /// 100 (after - before) / before where `compared` and both are there and `before` is not 0.
  std::optional<double> change_percent() const;
};

struct DriveGroup {
  std::string title;
  std::vector<DriveFigure> figures;
};

struct DriveReport {
  std::string chain;  ///< designation
  fitment::Sprockets before, after;
  std::vector<DriveGroup> groups;  ///< ratios, engine speed, road speed, speedometer, chain, axle, care, tyre
  bool present_fits = true;        ///< the present chain is not known to be of another size than the new one
  std::string feel;                ///< what the change of gearing feels like: "stronger pull in ..."
  std::optional<LinksNeeded> needed;
  std::vector<std::string> remarks;       ///< on the chain and its axle, one sentence each
  bool searched = false;                  ///< the build says which ratio is wanted
  std::vector<fitment::ToothPair> pairs;  ///< that give it, by ratio
  fitment::ToothRange front, rear;        ///< the tooth counts looked through
  std::vector<std::string> warnings;
  std::vector<std::string> notes;  ///< formulas with their sources, and what is taken for granted
};

/// The build must have a drive train as `read` leaves it (std::logic_error without one).
DriveReport drive_report(const build::Build& build);

/// Where `wanted` names no tooth counts, as many teeth around the present and new ones are looked through.
inline constexpr int front_teeth_around = 2, rear_teeth_around = 6;

/// Growth of the present chain, by its axle's measured place, that is told as a doubt about the file's
/// figures: shorter than new by more than this many percent.
inline constexpr double shorter_than_new_percent = 0.25;

}  // namespace fettlefund::planning
