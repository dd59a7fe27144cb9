#include "lib/drive/drive.hpp"

#include <algorithm>
#include <stdexcept>

#include "lib/drive/parts.hpp"
#include "lib/fitment/chain_sizes.hpp"
#include "lib/fitment/ratio.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/machine.hpp"

namespace fettlefund::planning {
namespace {

fitment::ToothRange around(int before, int after, int teeth) {
  const auto [least, most] = std::minmax(before, after);
  return {std::max(least - teeth, fitment::fewest_teeth), std::min(most + teeth, fitment::most_teeth)};
}

fitment::ToothRange range_of(const std::optional<std::pair<int, int>>& asked, const build::DriveEnd& end,
                             int teeth) {
  if (asked) return {asked->first, asked->second};
  return around(end.teeth_before, end.teeth_after, teeth);
}

/// Whether what the chain job takes off says the same of each mate as what it puts on.
bool present_chain_fits(const build::Build& build) {
  const int job = find_id(build.jobs, build.drive->chain_job);
  if (job < 0) return true;
  const build::Job& chain_job = build.jobs[static_cast<std::size_t>(job)];
  const build::Mates fresh = mates_of(build, chain_job);
  for (const build::Fitted& fitted : build.fitted) {
    const auto& by = fitted.replaced_by;
    if (std::find(by.begin(), by.end(), chain_job.id) == by.end()) continue;
    for (const auto& [key, value] : fitted.mates) {
      if (const auto found = fresh.find(key); found != fresh.end() && found->second != value) return false;
    }
  }
  return true;
}

}  // namespace

std::optional<double> DriveFigure::change_percent() const {
  if (!compared || !before || !after || *before == 0) return {};
  return 100 * (*after - *before) / *before;
}

void add_ratios(DriveReport& report, const build::DriveTrain& drive) {
  const double before = fitment::final_ratio(report.before), after = fitment::final_ratio(report.after);
  DriveGroup ratios{"Ratios", {}};
  ratios.figures.push_back(
      {"front-teeth", "front sprocket", "teeth", report.before.driving, report.after.driving, 0, false});
  ratios.figures.push_back(
      {"rear-teeth", "rear sprocket", "teeth", report.before.driven, report.after.driven, 0, false});
  ratios.figures.push_back({"final-ratio", "final ratio", "", before, after, 3, true});
  for (std::size_t g = 0; g < drive.gears.size(); ++g) {
    const std::string gear = std::to_string(g + 1);
    ratios.figures.push_back({"overall-ratio-" + gear, "overall ratio, gear " + gear, "",
                              fitment::overall_ratio(drive.primary, drive.gears[g], before),
                              fitment::overall_ratio(drive.primary, drive.gears[g], after), 3, true});
  }
  report.groups.push_back(std::move(ratios));
  report.feel = fitment::describe_change(before, after);
  report.notes.push_back(
      "Ratios are turns in for one turn out, so a larger one is a lower gear: final = rear teeth / front "
      "teeth; overall = primary x gear x final (definitions). What a change feels like is common practice, "
      "no "
      "source.");
}

void add_pairs(DriveReport& report, const build::DriveTrain& drive) {
  if (!drive.wanted_ratio) return;
  report.searched = true;
  report.front = range_of(drive.front_range, drive.front, front_teeth_around);
  report.rear = range_of(drive.rear_range, drive.rear, rear_teeth_around);
  const bool nearest = drive.rounding == "nearest";
  fitment::ToothSearch search;
  search.driving = report.front;
  search.driven = report.rear;
  search.ratio_from = drive.wanted_ratio->first;
  search.ratio_to = drive.wanted_ratio->second;
  search.pitch_mm = drive_after(drive).pitch_mm;
  search.adjuster = {drive.centre_min_mm, drive.centre_max_mm};
  if (report.present_fits) search.has_links = drive.links_before;
  search.rounding = nearest ? fitment::LinkRounding::nearest_even : fitment::LinkRounding::next_even_up;
  report.pairs = fitment::tooth_pairs(search);
  std::string note = "Pairs whose sprockets would touch are left out.";
  if (report.present_fits) {
    note +=
        " A pair keeps the present chain where that chain, as good as new, puts the axle within its "
        "adjuster.";
  }
  report.notes.push_back(std::move(note));
}

DriveReport drive_report(const build::Build& build) {
  if (!build.drive) throw std::logic_error("a drive report of a build without a drive train");
  const build::DriveTrain& drive = *build.drive;
  DriveReport report;
  report.chain = drive.chain;
  report.before = drive_before(drive).sprockets;
  report.after = drive_after(drive).sprockets;
  report.present_fits = present_chain_fits(build);
  add_ratios(report, drive);
  add_speeds(report, drive);
  add_chain(report, drive);
  add_pairs(report, drive);
  return report;
}

}  // namespace fettlefund::planning
