// Conversion factors against their definitions.
#include "lib/fitment/units.hpp"

#include <cmath>

#include "lib/fitment/torque.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::fitment;

namespace {

bool is_same(double a, double b) { return std::abs(a - b) <= 1e-15 * std::abs(b); }

}  // namespace

// C3: international yard and pound agreement (1959); A. Thompson and B. N. Taylor, NIST Special Publication
// 811, Guide for the Use of the International System of Units (2008), appendix B.
TEST_CASE("C3 torque factors are the exact ones") {
  CHECK(is_same(newton_metres_per(TorqueUnit::pound_foot), 1.3558179483314004));
  CHECK(is_same(newton_metres_per(TorqueUnit::pound_inch), 0.11298482902761668));
  CHECK(is_same(newton_metres_per(TorqueUnit::kilogram_metre), 9.80665));
  CHECK(newton_metres_per(TorqueUnit::newton_metre) == 1);
}

// C3: the same sources: pound 0.45359237 kg, standard gravity 9.80665 m per s2, foot 0.3048 m, inch 0.0254 m.
TEST_CASE("C3 torque factors follow from pound foot and gravity") {
  const double pound_force = 0.45359237 * 9.80665;
  CHECK(is_same(newtons_per_lbf, pound_force));
  CHECK(is_same(newton_metres_per(TorqueUnit::pound_foot), pound_force * 0.3048));
  CHECK(is_same(newton_metres_per(TorqueUnit::pound_inch), pound_force * 0.0254));
}

// C3: recomputed.
TEST_CASE("C3 60 N m are 44_2537 lbf ft") {
  CHECK(write_torque(Torque::of(60, TorqueUnit::newton_metre), TorqueUnit::pound_foot, 4) ==
        "44.2537 lbf ft");
}

// International yard and pound agreement (1959): a mile is 1760 yards of 0.9144 m.
TEST_CASE("a mile is 1760 yards and an inch a thirty-sixth of a yard") {
  CHECK(is_same(km_per_mile, 1760 * 0.9144 / 1000));
  CHECK(is_same(mm_per_inch, 914.4 / 36));
  CHECK(is_same(kmh_from_mph(60), 96.56064));
  CHECK(is_same(mph_from_kmh(96.56064), 60));
}
