#include <cmath>
#include <random>
#include <vector>

#include "budgets/risk/draw.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

namespace {

using namespace fettlefund::budgets;

constexpr std::uint64_t half = std::uint64_t{1} << 63, quarter = half / 2, top = ~std::uint64_t{0};

/// The triangular distribution of a statistics handbook: mean (a + b + c) / 3, variance
/// (a^2 + b^2 + c^2 - ab - ac - bc) / 18 (from memory), and its fourth central moment, 2.4 times the square
/// of the variance (from memory).
double mean_of(const Spread& s) { return static_cast<double>(s.low + s.likely + s.high) / 3; }
double variance_of(const Spread& s) {
  const auto a = static_cast<double>(s.low), b = static_cast<double>(s.high),
             c = static_cast<double>(s.likely);
  return (a * a + b * b + c * c - a * b - a * c - b * c) / 18;
}

struct Sample {
  double mean = 0, variance = 0;
};

Sample sample_of_sums(const std::vector<Spread>& spreads, int samples) {
  std::mt19937_64 generator;
  double sum = 0, squares = 0, start = 0;
  for (const Spread& spread : spreads) start += static_cast<double>(spread.likely);
  for (int i = 0; i < samples; ++i) {
    double total = -start;
    for (const Spread& spread : spreads) total += static_cast<double>(triangular(spread, generator()));
    sum += total;
    squares += total * total;
  }
  return {start + sum / samples, squares / samples - sum / samples * (sum / samples)};
}

}  // namespace

TEST_CASE("whole roots are right around squares and at the ends") {
  CHECK(whole_root(0) == 0);
  CHECK(whole_root(top) == 4294967295u);
  for (const std::uint64_t root : {1ull, 2ull, 3ull, 1000ull, 65536ull, 94906267ull, 4294967295ull}) {
    CHECK(whole_root(root * root) == root);
    CHECK(whole_root(root * root - 1) == root - 1);
  }
}

TEST_CASE("the generator is the one that the C++ standard fixes") {
  // ISO/IEC 14882 (C++), [rand.predef]: the 10000th value of a default-seeded mt19937_64.
  std::mt19937_64 generator;
  generator.discard(9999);
  CHECK(generator() == 9981545732273789042u);
}

TEST_CASE("shares of the triangular distribution lie where its inverse puts them") {
  // Rising only: F(x) = (x / 1000)^2, so half lies below 707.1 and a quarter below 500.
  const Spread rising{0, 1000, 1000};
  CHECK(triangular(rising, half) == 707);
  CHECK(triangular(rising, quarter) == 500);
  // Falling only: 1 - F(x) = (1 - x / 1000)^2, so half lies below 292.9.
  const Spread falling{0, 0, 1000};
  CHECK(triangular(falling, half) == 293);
  // Both: likely 200 of 1000. F(200) = 0.2; above, 1 - F(x) = (1000 - x)^2 / 800000: half lies below
  // 1000 - 632.46; a quarter below 1000 - 774.60.
  const Spread both{-50, 150, 950};
  CHECK(triangular(both, half) == -50 + 368);
  CHECK(triangular(both, quarter) == -50 + 225);
  // An eighth: x^2 / 200000 = 1/8, x = 158.11.
  CHECK(triangular(both, quarter / 2) == -50 + 158);
  CHECK(triangular(both, 0) == -50);
  CHECK(triangular(both, top) == 950);
}

TEST_CASE("what is certain is always drawn as it is") {
  for (const std::uint64_t u : {std::uint64_t{0}, half, top}) CHECK(triangular({70, 70, 70}, u) == 70);
}

TEST_CASE("draws stay within their ends and rise with the share, however wide the spread") {
  rc::check("draws are bounded and rise", [](std::uint64_t a, std::uint64_t b) {
    const int scale = *rc::gen::inRange(1, 61);
    const auto upto = (std::int64_t{1} << scale) + 1;
    const std::int64_t low = *rc::gen::inRange<std::int64_t>(0, upto);
    const std::int64_t likely = low + *rc::gen::inRange<std::int64_t>(0, upto);
    const Spread spread{low, likely, likely + *rc::gen::inRange<std::int64_t>(0, upto)};
    const std::int64_t x = triangular(spread, std::min(a, b)), y = triangular(spread, std::max(a, b));
    RC_ASSERT(spread.low <= x);
    RC_ASSERT(x <= y);
    RC_ASSERT(y <= spread.high);
  });
}

TEST_CASE("sums of triangular prices have the mean and the variance of a statistics handbook") {
  const std::vector<Spread> spreads = {
      {9000, 9550, 11000}, {39500, 41800, 45500}, {0, 0, 5000}, {20000, 26000, 26000}, {100, 4000, 90000}};
  double mean = 0, variance = 0, fourths = 0;
  for (const Spread& spread : spreads) {
    mean += mean_of(spread);
    variance += variance_of(spread);
    fourths += (2.4 - 3) * variance_of(spread) * variance_of(spread);
  }
  const double fourth = 3 * variance * variance + fourths;  // of a sum of independent terms
  constexpr int samples = 100'000;
  const Sample sample = sample_of_sums(spreads, samples);
  CHECK(std::abs(sample.mean - mean) < 3 * std::sqrt(variance / samples));
  CHECK(std::abs(sample.variance - variance) < 3 * std::sqrt((fourth - variance * variance) / samples));
}

TEST_CASE("days are rounded to the nearest: each has the share of its own neighbourhood") {
  // Lead time 3 to 21, likely 7: P(at most 9) = 1 - (21 - 9.5)^2 / (18 * 14) = 1 - 132.25 / 252.
  std::mt19937_64 generator;
  constexpr int samples = 100'000;
  int in_time = 0;
  for (int i = 0; i < samples; ++i) in_time += triangular({3, 7, 21}, generator()) <= 9 ? 1 : 0;
  const double exact = 1 - 132.25 / 252;
  CHECK(std::abs(in_time / double{samples} - exact) < 3 * std::sqrt(exact * (1 - exact) / samples));
}

TEST_CASE("of a spread of three days the ends have an eighth each") {
  // 0 to 2, likely 1: P(at least 1.5) = 0.5^2 / (2 * 1).
  std::mt19937_64 generator;
  constexpr int samples = 100'000;
  int first = 0, last = 0;
  for (int i = 0; i < samples; ++i) {
    const std::int64_t day = triangular({0, 1, 2}, generator());
    first += day == 0 ? 1 : 0;
    last += day == 2 ? 1 : 0;
  }
  const double exact = 0.125, allowed = 3 * std::sqrt(exact * (1 - exact) / samples);
  CHECK(std::abs(first / double{samples} - exact) < allowed);
  CHECK(std::abs(last / double{samples} - exact) < allowed);
}
