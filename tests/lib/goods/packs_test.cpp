#include "lib/goods/packs.hpp"

#include <limits>
#include <stdexcept>

#include <doctest/doctest.h>
#include <rapidcheck.h>

namespace {

using namespace fettlefund;
constexpr auto most = std::numeric_limits<budgets::Quantity>::max();

}  // namespace

TEST_CASE("packs are whole and what is over is left") {
  CHECK(goods::packs_for(0, 1000).count == 0);
  CHECK(goods::packs_for(1000, 1000).count == 1);
  CHECK(goods::packs_for(1001, 1000).count == 2);
  CHECK(goods::packs_for(1001, 1000).left_over == 999);
  CHECK_THROWS_AS(goods::packs_for(-1, 1000), std::invalid_argument);
  CHECK_THROWS_AS(goods::packs_for(1, 0), std::invalid_argument);
}

TEST_CASE("packs hold the amount and one pack fewer would not") {
  CHECK(rc::check("packs", [] {
    const auto amount = *rc::gen::inRange<budgets::Quantity>(1, 1'000'000'000);
    const auto pack = *rc::gen::inRange<budgets::Quantity>(1, 1'000'000);
    const auto packs = goods::packs_for(amount, pack);
    RC_ASSERT(packs.count * pack - amount == packs.left_over);
    RC_ASSERT(packs.left_over >= 0 && packs.left_over < pack);
  }));
}

TEST_CASE("amounts convert within length, volume, mass and count, rounded up") {
  CHECK(goods::in_unit(1500, "m", "mm") == 1'500'000);
  CHECK(goods::in_unit(1500, "mm", "m") == 2);
  CHECK(goods::in_unit(250'000, "ml", "l") == 250);
  CHECK(goods::in_unit(3000, "piece", "pair") == 1500);
  CHECK(goods::in_unit(7, "tube", "tube") == 7);
  CHECK_FALSE(goods::in_unit(1000, "ml", "g"));
  CHECK_FALSE(goods::in_unit(1000, "tube", "ml"));
  CHECK_FALSE(goods::in_unit(most, "m", "mm"));
}

TEST_CASE("amounts are written for people") {
  CHECK(goods::write_quantity(0) == "0");
  CHECK(goods::write_quantity(1500) == "1.5");
  CHECK(goods::write_quantity(10'000) == "10");
  CHECK(goods::write_quantity(25) == "0.025");
  CHECK(goods::write_amount(1000, "piece") == "1 piece");
  CHECK(goods::write_amount(2000, "piece") == "2 pieces");
  CHECK(goods::write_amount(500, "link") == "0.5 links");
  CHECK(goods::write_amount(1500, "m") == "1.5 m");
  CHECK(goods::write_amount(125, "l") == "0.125 l");
}
