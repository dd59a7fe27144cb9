#include <algorithm>

#include "lib/drive/parts.hpp"
#include "lib/fitment/chain_length.hpp"
#include "lib/fitment/chain_sizes.hpp"
#include "lib/fitment/chain_wear.hpp"
#include "lib/fitment/units.hpp"

#include <fmt/format.h>

/// The chain: how long, where it puts the axle, its slack and its wear.
namespace fettlefund::planning {
namespace {

constexpr int pitches_measured = 20;

fitment::Adjuster adjuster_of(const build::DriveTrain& drive) {
  return {drive.centre_min_mm, drive.centre_max_mm};
}

int larger(const fitment::Sprockets& sprockets) { return std::max(sprockets.driving, sprockets.driven); }

std::string rounding_words(const build::DriveTrain& drive) {
  return drive.rounding == "nearest" ? "to the nearest even number" : "up to an even number";
}

void add_length(DriveReport& report, const build::DriveTrain& drive) {
  const LinksNeeded& needed = *report.needed;
  DriveGroup group{"Chain length", {}};
  group.figures.push_back(
      {"mid-travel", "axle distance, mid-travel", "mm", {}, needed.mid_travel_mm, 1, false});
  group.figures.push_back(
      {"links-formula", "length by the handbook formula", "links", {}, needed.by_formula, 3, false});
  group.figures.push_back({"links-exact", "length by exact geometry", "links", {}, needed.exact, 3, false});
  group.figures.push_back({"links", "links, rounded " + rounding_words(drive), "links",
                           static_cast<double>(drive.links_before), static_cast<double>(needed.links), 0,
                           false});
  report.groups.push_back(std::move(group));
  if (needed.nearest_count % 2 != 0) {
    report.warnings.push_back(fmt::format("The count nearest to {} links is odd ({}). {}",
                                          fitment::write_number(needed.exact, 2), needed.nearest_count,
                                          fitment::offset_link_warning()));
  }
}

std::string with_links(int links, const std::optional<fitment::AxlePosition>& position) {
  return fmt::format("{} links: ", links) +
         (position ? fmt::format("axle distance {} mm, {}.", fitment::write_number(position->centre_mm, 1),
                                 fitment::describe(*position))
                   : std::string("too short to go round."));
}

/// Both even counts by the computed length, the one to buy first.
void remark_on_counts(DriveReport& report, const build::DriveTrain& drive) {
  const fitment::ChainDrive after = drive_after(drive);
  auto counts = fitment::even_neighbours(after, report.needed->exact);
  if (counts[1].links == report.needed->links) std::swap(counts[0], counts[1]);
  const char* which = "With the new sprockets and a new chain of ";
  for (const fitment::ChainOffer& count : counts) {
    const auto position = fitment::axle_position(after, count.links, adjuster_of(drive));
    report.remarks.push_back(which + with_links(count.links, position));
    which = "Instead with ";
  }
  const auto bought = fitment::axle_position(after, report.needed->links, adjuster_of(drive));
  if (!bought || !fitment::is_within(bought->place)) {
    report.warnings.push_back(
        fmt::format("With {} links, rounded {}, the axle does not come to lie within its "
                    "adjuster. Look at the other count, or at other tooth counts.",
                    report.needed->links, rounding_words(drive)));
  }
}

void remark_on_present(DriveReport& report, const build::DriveTrain& drive) {
  if (report.present_fits) {
    const auto kept = fitment::axle_position(drive_after(drive), drive.links_before, adjuster_of(drive));
    report.remarks.push_back("With the new sprockets and the present chain, as good as new, of " +
                             with_links(drive.links_before, kept));
  } else {
    report.remarks.push_back("The present chain is of another size than the new one and cannot be kept.");
  }
  const double grown =
      100 * (fitment::links_exact(drive_before(drive), drive.centre_mm) / drive.links_before - 1);
  const double limit = fitment::wear_limit_percent(larger(report.before));
  report.remarks.push_back(fmt::format(
      "Where the axle stands now ({} mm), the present chain of {} links shows a growth of {} %; it "
      "is usually changed at {} %. Measure it over {} pitches before trusting this: slack enters here as "
      "well.",
      fitment::write_number(drive.centre_mm, 1), drive.links_before, fitment::write_number(grown, 2),
      fitment::write_number(limit, 1), pitches_measured));
  if (grown < -shorter_than_new_percent) {
    report.warnings.push_back(
        "The present chain would have to be shorter than new: the links, the teeth or the axle distance in "
        "the "
        "build file are not as on the machine.");
  } else if (grown > limit) {
    report.warnings.push_back(
        "By its axle's place the present chain is past the usual wear limit, or the links, the teeth or the "
        "axle "
        "distance in the build file are not as on the machine.");
  }
}

/// Centre distance after the change: where the new chain puts the axle, else mid-travel.
double centre_after(const DriveReport& report, const build::DriveTrain& drive) {
  const auto position = fitment::axle_position(drive_after(drive), report.needed->links, adjuster_of(drive));
  return position && fitment::is_within(position->place) ? position->centre_mm : report.needed->mid_travel_mm;
}

void add_axle(DriveReport& report, const build::DriveTrain& drive) {
  const auto after = fitment::axle_position(drive_after(drive), report.needed->links, adjuster_of(drive));
  const auto told = [&](double fitment::AxlePosition::*member) {
    return after ? std::optional<double>((*after).*member) : std::nullopt;
  };
  DriveGroup group{"Axle in its adjuster", {}};
  group.figures.push_back({"axle-distance", "axle distance", "mm", drive.centre_mm,
                           told(&fitment::AxlePosition::centre_mm), 1, false});
  group.figures.push_back({"travel-used", "adjuster travel used", "mm", drive.centre_mm - drive.centre_min_mm,
                           told(&fitment::AxlePosition::travel_used_mm), 1, false});
  group.figures.push_back({"travel-left", "adjuster travel left", "mm", drive.centre_max_mm - drive.centre_mm,
                           told(&fitment::AxlePosition::travel_left_mm), 1, false});
  group.figures.push_back({"wear-left",
                           "chain growth that it takes up",
                           "%",
                           {},
                           told(&fitment::AxlePosition::percent_left),
                           2,
                           false});
  report.groups.push_back(std::move(group));
}

void add_care(DriveReport& report, const build::DriveTrain& drive) {
  using namespace fitment;
  const ChainDrive before = drive_before(drive), after = drive_after(drive);
  const double now = drive.centre_mm, then = centre_after(report, drive);
  const auto slack = [](const ChainDrive& chain, double centre) {
    return usual_slack_mm(free_span_mm(chain, centre), ChainRun::usual);
  };
  const auto at_limit = [&](const Sprockets& sprockets) {
    return measured_length_mm(after.pitch_mm, pitches_measured, wear_limit_percent(larger(sprockets)));
  };
  DriveGroup group{"Chain run and wear", {}};
  group.figures.push_back({"pitch", "chain pitch", "mm", {}, after.pitch_mm, 3, false});
  group.figures.push_back(
      {"slack", "slack at mid-span, up plus down", "mm", slack(before, now), slack(after, then), 0, false});
  group.figures.push_back({"wear-limit", "usual wear limit, growth", "%",
                           wear_limit_percent(larger(report.before)),
                           wear_limit_percent(larger(report.after)), 2, false});
  group.figures.push_back({"worn-length", fmt::format("usual wear limit, over {} pitches", pitches_measured),
                           "mm", at_limit(report.before), at_limit(report.after), 1, false});
  group.figures.push_back({"wrap", "wrap on the smaller sprocket", "degrees", wrap_degrees(before, now),
                           wrap_degrees(after, then), 1, false});
  group.figures.push_back({"mesh", "teeth of it in mesh", "teeth", teeth_in_mesh(before, now),
                           teeth_in_mesh(after, then), 1, false});
  report.groups.push_back(std::move(group));
}

void add_notes(DriveReport& report) {
  report.notes.push_back(
      "Length by formula: L = 2C/p + (N1+N2)/2 + ((N2-N1)/2pi)^2 p/C (Budynas and Nisbett, Shigley's "
      "Mechanical "
      "Engineering Design, chapter 17). Exact geometry: L = 2(C/p) cos a + N2(1/2 + a/pi) + N1(1/2 - a/pi), "
      "a = asin((R2-R1)/C), R = p/(2 sin(pi/N)); the axle's places are worked out with it. The length is "
      "counted with the axle in the middle of its travel (common practice, no source).");
  report.notes.push_back(
      "Slack: 4 % of the free span. Wear limit: growth of 200/N %, N the larger sprocket's teeth, at most 3 "
      "%. "
      "Both common practice, no source; the machine's own manual goes before them.");
  report.notes.push_back("The present chain is taken to have the new one's pitch.");
  report.notes.push_back(
      "These figures say nothing about clearance, strength or what may be ridden on the road: turn the wheel "
      "by "
      "hand, engine off, and look along the chain's whole run before riding.");
}

}  // namespace

void add_chain(DriveReport& report, const build::DriveTrain& drive) {
  report.needed = links_needed(drive);
  if (report.needed) {
    add_length(report, drive);
    add_axle(report, drive);
    remark_on_counts(report, drive);
    remark_on_present(report, drive);
    add_care(report, drive);
  } else {
    report.warnings.push_back("The chain would be too long to work out.");
  }
  add_notes(report);
}

}  // namespace fettlefund::planning
