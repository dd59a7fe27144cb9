#include "lib/fitment/torque.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "lib/fitment/torque_pattern.hpp"
#include "lib/fitment/torque_preload.hpp"
#include "lib/fitment/torque_wrench.hpp"
#include "lib/fitment/units.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

namespace {

constexpr auto nm = TorqueUnit::newton_metre;
constexpr auto lbf_ft = TorqueUnit::pound_foot;
constexpr auto lbf_in = TorqueUnit::pound_inch;

Torque newton_metres(double value) { return Torque::of(value, nm); }

Torque read(const std::string& text) {
  const auto reading = read_torque(text);
  REQUIRE_MESSAGE(reading.written, reading.fault);
  return reading.written->torque;
}

/// Reads `text`, writes it in `other` with `other_digits`, reads that and writes it in `unit` with `digits`.
std::string there_and_back(const std::string& text, TorqueUnit unit, int digits, TorqueUnit other,
                           int other_digits) {
  const auto first = read_torque(text);
  const auto second = read_torque(write_torque(first.written.value().torque, other, other_digits));
  return write_torque(second.written.value().torque, unit, digits);
}

}  // namespace

TEST_CASE("a torque is read in every spelling of its unit") {
  for (const char* text : {"85 Nm", "85Nm", "85 N m", "85 N.m", "85 N-m", "85 N\xC2\xB7m", "85.0 nm"}) {
    CAPTURE(text);
    CHECK(read(text) == newton_metres(85));
  }
  for (const char* text : {"63 lbf ft", "63 lbf.ft", "63 lb ft", "63 ft lbf", "63 ft-lb",
                           "63 lbf\xC2\xB7"
                           "ft"}) {
    CAPTURE(text);
    CHECK(read(text) == Torque::of(63, lbf_ft));
  }
  CHECK(read("100 lbf in") == Torque::of(100, lbf_in));
  CHECK(read("8.7 kgf m") == Torque::of(8.7, TorqueUnit::kilogram_metre));
  CHECK(read("8.7 m kgf") == Torque::of(8.7, TorqueUnit::kilogram_metre));
  CHECK(read_torque("63 lbf ft").written->unit == lbf_ft);
}

TEST_CASE("a torque without a unit or with a strange one is refused") {
  for (const char* text : {"85", "85 kNm", "85 N", "85 J", "85 mm", "Nm", "", "0 Nm", "0.0001 Nm",
                           "100001 Nm", "80-90 Nm", "8,5 Nm", "-85 Nm", "85 \xC2"}) {
    CAPTURE(text);
    CHECK_FALSE(read_torque(text).written);
    CHECK_FALSE(read_torque(text).fault.empty());
  }
}

TEST_CASE("any text is read or refused and never both") {
  CHECK(rc::check("any text", [](const std::string& text) {
    const auto reading = read_torque(text);
    RC_ASSERT(reading.written.has_value() != !reading.fault.empty());
  }));
}

TEST_CASE("a torque is printed in both units") {
  CHECK(write_torque_both(newton_metres(85)) == "85.0 N m (62.7 lbf ft)");
  CHECK(write_torque_both(newton_metres(8)) == "8.00 N m (5.90 lbf ft)");
  CHECK(write_torque_both(Torque::of(63, lbf_ft)) == "85.4 N m (63.0 lbf ft)");
  CHECK(write_torque(newton_metres(60), lbf_ft, 4) == "44.2537 lbf ft");
}

TEST_CASE("a printed torque keeps its printed digits through the other unit and back") {
  CHECK(rc::check("N m through lbf ft and back", [] {
    const int digits = *rc::gen::inRange(0, 4);
    const double value = *rc::gen::inRange(1, 70'000) / std::pow(10, digits);
    const std::string metric = write_number(value, digits) + " N m";
    const std::string imperial = write_number(value, digits) + " lbf ft";
    // A larger unit needs one digit more to say as much; a smaller one does not.
    RC_ASSERT(there_and_back(metric, nm, digits, lbf_ft, digits + 1) == metric);
    RC_ASSERT(there_and_back(imperial, lbf_ft, digits, nm, digits) == imperial);
    RC_ASSERT(there_and_back(metric, nm, digits, TorqueUnit::kilogram_metre, digits + 1) == metric);
    RC_ASSERT(there_and_back(metric, nm, digits, lbf_in, digits) == metric);
  }));
}

TEST_CASE("torques that no fastener has are refused") {
  CHECK_THROWS_AS(newton_metres(0), std::domain_error);
  CHECK_THROWS_AS(newton_metres(-5), std::domain_error);
  CHECK_THROWS_AS(newton_metres(std::nan("")), std::domain_error);
  CHECK_THROWS_AS(newton_metres(100'001), std::domain_error);
}

TEST_CASE("the end of a range written in another unit is covered") {
  for (int tenths = 1; tenths <= 2000; ++tenths) {
    CAPTURE(tenths);
    const double inches = 1.2 * tenths;
    const Torque in_feet = Torque::of(tenths / 10.0, lbf_ft), in_inches = Torque::of(inches, lbf_in);
    REQUIRE(covers({in_feet, in_feet}, in_inches));
    REQUIRE(covers({in_inches, in_inches}, in_feet));
    REQUIRE_FALSE(covers({in_feet, in_feet}, Torque::of(inches + 0.01, lbf_in)));
    REQUIRE_FALSE(covers({in_feet, in_feet}, Torque::of(inches - 0.01, lbf_in)));
  }
}

TEST_CASE("a wrench whose lowest is above its highest is refused") {
  CHECK_THROWS_AS(covers({newton_metres(50), newton_metres(20)}, newton_metres(30)), std::domain_error);
}

TEST_CASE("the range still missing spans the gaps and would close them") {
  CHECK(rc::check("missing range", [] {
    std::vector<Torque> needs;
    for (const int value : *rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 300))) {
      needs.push_back(newton_metres(value));
    }
    std::vector<WrenchRange> wrenches{{newton_metres(20), newton_metres(100)}};
    const auto missing = missing_range(needs, wrenches);
    RC_ASSERT(missing.has_value() == !uncovered(needs, wrenches).empty());
    if (!missing) return;
    wrenches.push_back(*missing);
    RC_ASSERT(uncovered(needs, wrenches).empty());
  }));
}

TEST_CASE("a sequence names every fastener once and goes in opposite pairs") {
  for (int count = 1; count <= 200; ++count) {
    CAPTURE(count);
    auto sequence = tightening_sequence(count);
    for (int i = 0; count % 2 == 0 && i < count; i += 2) CHECK(sequence[i + 1] - sequence[i] == count / 2);
    std::sort(sequence.begin(), sequence.end());
    for (int i = 0; i < count; ++i) CHECK(sequence[i] == i + 1);
  }
}

TEST_CASE("small sequences are the familiar crosses and stars") {
  CHECK(write_sequence(tightening_sequence(1)) == "1");
  CHECK(write_sequence(tightening_sequence(2)) == "1, 2");
  CHECK(write_sequence(tightening_sequence(3)) == "1, 2, 3");
  CHECK(write_sequence(tightening_sequence(4)) == "1, 3, 2, 4");
  CHECK(write_sequence(tightening_sequence(5)) == "1, 3, 5, 2, 4");
  CHECK(write_sequence(tightening_sequence(6)) == "1, 4, 2, 5, 3, 6");
  CHECK_THROWS_AS(tightening_sequence(0), std::domain_error);
  CHECK_THROWS_AS(tightening_sequence(201), std::domain_error);
}

TEST_CASE("tension and torque turn into each other") {
  CHECK(rc::check("there and back", [] {
    const double tension = *rc::gen::inRange(1'000, 200'000);
    const double diameter = *rc::gen::inRange(3, 30);
    const Torque torque = torque_for_tension(0.2, diameter, tension);
    RC_ASSERT(std::abs(tension_of_torque_n(torque, 0.2, diameter) - tension) < 1e-6);
  }));
  CHECK_THROWS_AS(torque_for_tension(0, 10, 1000), std::domain_error);
  CHECK_THROWS_AS(torque_for_tension(0.2, 0, 1000), std::domain_error);
}

TEST_CASE("a figure in the wrong unit stands out against the proof load") {
  const auto bolt = find_proof_load("8.8", "M8");
  REQUIRE(bolt);
  CHECK(share_of_proof(newton_metres(25), 0.2, *bolt) == doctest::Approx(15625.0 / 21200));
  CHECK(share_of_proof(newton_metres(220), 0.2, *bolt) > 1);
  CHECK_FALSE(find_proof_load("8.8", "M9"));
  CHECK_FALSE(find_proof_load("5.6", "M8"));
}
