#include <algorithm>

#include "lib/build/read/sections.hpp"
#include "lib/fitment/chain.hpp"
#include "lib/fitment/chain_sizes.hpp"
#include "lib/fitment/tyre.hpp"
#include "lib/fitment/units.hpp"

#include <fmt/format.h>

/// The drive train. Its figures are geometry, so doubles serve. Bounds are those of the fitment room, so that
/// a build that was read can be worked out.
namespace fettlefund::build {
namespace {

constexpr Whole teeth{fitment::fewest_teeth, fitment::most_teeth};
constexpr Real ratio{0.01, 100, true};
constexpr Real length_mm{0, fitment::most_centre_mm};
constexpr int most_links = static_cast<int>(fitment::most_links);
constexpr Reference job_id{&Ids::jobs, "a job"};

std::optional<DriveEnd> read_end(Context& context, const Node& node) {
  DriveEnd end;
  const Fields fields(context, node, Part::drive_end);
  fields.get("before", end.teeth_before, teeth);
  end.teeth_after = end.teeth_before;
  fields.get("after", end.teeth_after, teeth);
  fields.get("job", end.job, job_id);
  return end;
}

void check_link_unit(Context& context, const Node& node, const Id& article, const Build& build) {
  const auto found = std::find_if(build.articles.begin(), build.articles.end(),
                                  [&](const Article& candidate) { return candidate.id == article; });
  if (found != build.articles.end() && found->unit != "link")
    context.findings.error(node.span, "an article whose unit is \"link\"");
}

std::optional<std::string> read_designation(Context& context, const Node& node) {
  const auto written = read_line(context, node);
  if (!written) return {};
  const auto reading = fitment::read_chain_size(*written);
  if (reading.size) return written;
  context.findings.error(node.span, "a chain size: " + reading.fault);
  return {};
}

std::optional<std::string> read_tyre(Context& context, const Node& node) {
  const auto written = read_line(context, node);
  if (!written) return {};
  const auto reading = fitment::read_tyre_size(*written);
  if (reading.size) return written;
  context.findings.error(node.span, fmt::format("a tyre size such as \"150/70-17\" ({})", reading.fault));
  return {};
}

void read_chain(Context& context, const Node& node, const Build& build, DriveTrain& drive) {
  const Fields fields(context, node, Part::chain);
  fields.get("designation", drive.chain, read_designation);
  fields.get("links", drive.links_before, Whole{10, most_links});
  if (fields.get("article", drive.chain_article, Reference{&Ids::goods, "a part or a consumable"}))
    check_link_unit(context, *fields.find("article"), drive.chain_article, build);
  fields.get("job", drive.chain_job, job_id);
}

void read_centre(Context& context, const Node& node, DriveTrain& drive) {
  const Fields fields(context, node, Part::centre);
  const bool now = fields.get("now_mm", drive.centre_mm, length_mm);
  const bool least = fields.get("min_mm", drive.centre_min_mm, length_mm);
  const bool most = fields.get("max_mm", drive.centre_max_mm, length_mm);
  if (!now || !least || !most) return;
  if (drive.centre_min_mm > drive.centre_mm)
    context.findings.error(fields.find("min_mm")->span, "a length not above \"now_mm\"");
  if (drive.centre_max_mm < drive.centre_mm)
    context.findings.error(fields.find("max_mm")->span, "a length not below \"now_mm\"");
  else if (drive.centre_max_mm == drive.centre_min_mm)
    context.findings.error(fields.find("max_mm")->span, "a length above \"min_mm\"");
}

/// The sprockets, whichever of them are on, must not touch anywhere along the adjuster.
void check_room(const Fields& fields, const DriveTrain& drive) {
  const auto size = fitment::read_chain_size(drive.chain).size;
  const int front = std::max(drive.front.teeth_before, drive.front.teeth_after);
  const int rear = std::max(drive.rear.teeth_before, drive.rear.teeth_after);
  if (!size || front == 0 || rear == 0 || drive.centre_min_mm <= 0) return;
  const double closest = fitment::closest_centre_mm({{front, rear}, size->pitch_mm});
  if (drive.centre_min_mm >= closest) return;
  const Node& least = *fields.find("centre")->find("min_mm");
  fields.context().findings.error(least.span,
                                  fmt::format("at least {} mm: nearer, sprockets of {} and {} teeth touch",
                                              fitment::write_number(closest, 1), front, rear));
}

/// Two figures, the second not below the first.
template <class Reader, class Value>
void read_pair(const Fields& fields, std::string_view key, const Reader& read,
               std::optional<std::pair<Value, Value>>& target) {
  std::vector<Value> ends;
  if (!fields.get(key, ends, list_of(read))) return;
  const Node& node = *fields.find(key);
  const bool sound = ends.size() == node.items.size();
  if (node.items.size() != 2 || (sound && ends[1] < ends[0]))
    fields.context().findings.error(node.span, "the lowest and the highest figure");
  else if (sound)
    target = std::pair(ends[0], ends[1]);
}

void read_wanted(Context& context, const Node& node, DriveTrain& drive) {
  const Fields fields(context, node, Part::wanted);
  read_pair(fields, "ratio", ratio, drive.wanted_ratio);
  read_pair(fields, "front", teeth, drive.front_range);
  read_pair(fields, "rear", teeth, drive.rear_range);
}

}  // namespace

void read_drive(Context& context, const Node& node, const Build& build, DriveTrain& drive) {
  const Fields fields(context, node, Part::drive);
  fields.get("front", drive.front, read_end);
  fields.get("rear", drive.rear, read_end);
  if (const Node* chain = fields.find("chain")) read_chain(context, *chain, build, drive);
  if (const Node* centre = fields.find("centre")) read_centre(context, *centre, drive);
  fields.get("rounding", drive.rounding, OneOf{{"up", "nearest"}});
  fields.get("primary", drive.primary, ratio);
  fields.get("gears", drive.gears, list_of(ratio));
  fields.get("tyre", drive.tyre, read_tyre);
  fields.get("rolling_factor", drive.rolling_factor, Real{0.9, 1.05, true});
  fields.get("speedometer", drive.speedometer, OneOf{{"wheel", "gearbox"}});
  fields.get("speeds_kmh", drive.speeds_kmh, list_of(Real{0, 1000}));
  fields.get("engine_rpm", drive.engine_rpm, list_of(Real{0, 100'000}));
  if (const Node* wanted = fields.find("wanted")) read_wanted(context, *wanted, drive);
  check_room(fields, drive);
}

}  // namespace fettlefund::build
