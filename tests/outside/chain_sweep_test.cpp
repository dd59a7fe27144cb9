// The handbook formula for chain length against exact geometry over many drives. The formula: Budynas and
// Nisbett, Shigley's Mechanical Engineering Design (10th edition, 2015), chapter 17. The bound of 0.01 link
// is ours, measured.
#include <cmath>

#include "lib/fitment/chain.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::fitment;

namespace {

struct Worst {
  double difference = 0;  // formula less exact, in links
  Sprockets sprockets;
  double pitches = 0;
  int drives = 0;
};

struct Sweep {
  int small_from, small_to, most_difference;
  int pitches_from, pitches_to;  // centre distance in pitches, by halves
};

void compare(Worst& worst, const Sprockets& sprockets, double pitches) {
  constexpr double pitch = 15.875;
  const ChainDrive drive{sprockets, pitch};
  const double centre = pitches * pitch;
  if (centre < closest_centre_mm(drive)) return;
  ++worst.drives;
  const double difference = links_by_formula(drive, centre) - links_exact(drive, centre);
  if (std::abs(difference) <= std::abs(worst.difference)) return;
  worst.difference = difference;
  worst.sprockets = sprockets;
  worst.pitches = pitches;
}

Worst run(const Sweep& sweep) {
  Worst worst;
  for (int small = sweep.small_from; small <= sweep.small_to; ++small) {
    for (int large = small; large <= small + sweep.most_difference; ++large) {
      for (int halves = 2 * sweep.pitches_from; halves <= 2 * sweep.pitches_to; ++halves) {
        compare(worst, {small, large}, halves / 2.0);
      }
    }
  }
  return worst;
}

void tell(const Worst& worst) {
  MESSAGE(worst.drives << " drives, largest difference " << worst.difference << " link at "
                       << worst.sprockets.driving << "/" << worst.sprockets.driven << " teeth, "
                       << worst.pitches << " pitches between centres");
}

}  // namespace

TEST_CASE("formula and exact geometry agree within 0_01 link on drives of usual proportions") {
  const Worst worst = run({11, 22, 42, 30, 60});
  tell(worst);
  CHECK(worst.drives >= 10'000);
  CHECK(std::abs(worst.difference) < 0.01);
  // The place of the largest difference: the largest difference of teeth at the shortest centre distance.
  CHECK(worst.sprockets.driven - worst.sprockets.driving == 42);
  CHECK(worst.pitches == 30);
}

TEST_CASE(
    "beyond usual proportions the formula is too short by more than 0_01 link so exact geometry decides") {
  const Worst worst = run({11, 22, 80, 20, 60});
  tell(worst);
  CHECK(worst.drives >= 10'000);
  CHECK(worst.difference < -0.01);
  CHECK(worst.difference > -1);
}
