#include "lib/check/goods_day.hpp"

#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

/// Tuesdays from the first of a month on: the first is 4, 1, 1 and 5 days after its payday.
test::BuildText on_tuesdays(const std::string& lead_days, const std::string& more = "") {
  test::BuildText text;
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}])" + more;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "By post", "lead_days": )" + lead_days + "}";
  text.articles = R"("bulb": {"name": "Bulb", "kind": "part", "offers": [{"supplier": "post", "price": 5}]},
                     "rag": {"name": "Rag", "kind": "consumable", "offers": [{"supplier": "shop", "price": 1},
                             {"supplier": "post", "price": 0.5}]})";
  text.jobs = R"("lamp": {"name": "Lamp", "want": 5, "hours": 1, "uses": ["bulb"]})";
  return text;
}

bool hinted(const test::BuildText& text) { return planning::goods_day_hint(text.read()).has_value(); }

}  // namespace

TEST_CASE("sessions before most goods arrive are pointed out with the days that would do") {
  const auto hint = planning::goods_day_hint(on_tuesdays("5").read());
  REQUIRE(hint.has_value());
  CHECK(build::to_text(*hint).find("hint: /bench/days_after_payday: found none beside sessions, expected "
                                   "perhaps 5: goods that arrive after a "
                                   "stage's first session are for the next stage's work, which here are 1 of "
                                   "2 articles; with 5 days the "
                                   "stage's work waits for them") != std::string::npos);
}

TEST_CASE("goods that are there by most first sessions or after a last one bring no hint nor do days given") {
  CHECK(hinted(on_tuesdays("2")));
  CHECK_FALSE(hinted(on_tuesdays("1")));
  CHECK_FALSE(hinted(on_tuesdays("30")));
  CHECK_FALSE(hinted(on_tuesdays("5", R"(, "days_after_payday": 5)")));
}
