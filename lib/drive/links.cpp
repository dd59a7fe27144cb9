#include "lib/drive/links.hpp"

#include <algorithm>

#include "lib/fitment/chain_sizes.hpp"
#include "lib/fitment/chain_wear.hpp"
#include "lib/fitment/units.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

constexpr budgets::Quantity one_link = 1000;

double pitch_of(const build::DriveTrain& drive) {
  const auto reading = fitment::read_chain_size(drive.chain);
  return reading.size ? reading.size->pitch_mm : 0;
}

/// The links that the chain job uses of the chain's article, where the build names both.
std::optional<LinksNeeded> links_bought(const build::Build& build) {
  if (!build.drive || build.drive->chain_job.empty() || build.drive->chain_article.empty()) return {};
  return links_needed(*build.drive);
}

}  // namespace

fitment::ChainDrive drive_after(const build::DriveTrain& drive) {
  return {{drive.front.teeth_after, drive.rear.teeth_after}, pitch_of(drive)};
}

fitment::ChainDrive drive_before(const build::DriveTrain& drive) {
  return {{drive.front.teeth_before, drive.rear.teeth_before}, pitch_of(drive)};
}

std::optional<LinksNeeded> links_needed(const build::DriveTrain& drive) {
  const fitment::ChainDrive after = drive_after(drive);
  LinksNeeded needed;
  needed.mid_travel_mm = fitment::mid_travel_mm({drive.centre_min_mm, drive.centre_max_mm});
  needed.by_formula = fitment::links_by_formula(after, needed.mid_travel_mm);
  needed.exact = fitment::links_exact(after, needed.mid_travel_mm);
  if (needed.exact > fitment::most_links - 2) return {};
  const bool nearest = drive.rounding == "nearest";
  needed.links = fitment::round_links(
      needed.exact, nearest ? fitment::LinkRounding::nearest_even : fitment::LinkRounding::next_even_up);
  needed.nearest_count = fitment::round_links(needed.exact, fitment::LinkRounding::allow_odd);
  return needed;
}

std::vector<build::Use> uses_of(const build::Build& build, const build::Job& job) {
  std::vector<build::Use> uses = job.uses;
  if (!build.drive || build.drive->chain_job != job.id) return uses;
  const auto needed = links_bought(build);
  if (!needed) return uses;
  const budgets::Quantity amount = needed->links * one_link;
  const auto listed = std::find_if(uses.begin(), uses.end(), [&](const build::Use& use) {
    return use.article == build.drive->chain_article;
  });
  if (listed == uses.end()) {
    uses.push_back({build.drive->chain_article, amount});
    return uses;
  }
  listed->amount = amount;
  uses.erase(std::remove_if(listed + 1, uses.end(),
                            [&](const build::Use& use) { return use.article == listed->article; }),
             uses.end());
  return uses;
}

std::string links_note(const build::Build& build) {
  const auto needed = links_bought(build);
  if (!needed) return {};
  const build::DriveTrain& drive = *build.drive;
  const int job = find_id(build.jobs, drive.chain_job);
  if (job < 0) return {};
  const build::Job& chain_job = build.jobs[static_cast<std::size_t>(job)];
  std::string note = fmt::format(
      "The job \"{}\" is counted with {} links of chain: {} with {} and {} teeth and the axle in the middle "
      "of "
      "its travel ({} mm), rounded {} even number",
      chain_job.name, needed->links, fitment::write_number(needed->exact, 2), drive.front.teeth_after,
      drive.rear.teeth_after, fitment::write_number(needed->mid_travel_mm, 1),
      drive.rounding == "nearest" ? "to the nearest" : "up to an");
  for (const build::Use& use : chain_job.uses) {
    if (use.article != drive.chain_article || use.amount == needed->links * one_link) continue;
    note += fmt::format("; the amount listed for it, {}, is not used", amount_text(use.amount));
  }
  return note + ".";
}

}  // namespace fettlefund::planning
