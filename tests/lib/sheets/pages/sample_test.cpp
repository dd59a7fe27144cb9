#include <cstdlib>
#include <string>

#include "lib/sheets/book/workbook.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

test::OutcomeFixture in_currency(budgets::Currency currency) {
  test::OutcomeFixture fixture = test::small_outcome();
  fixture.build->currency = currency;
  return fixture;
}

/// One line of 123456789.01 and an allowance that leaves the smallest fraction to round up.
test::OutcomeFixture large() {
  test::OutcomeFixture fixture = test::small_outcome();
  fixture.build->money.opening = budgets::Money::of_minor(900'000'000'000);
  fixture.build->money.allowance_bp = 9999;
  auto& line = fixture.outcome.stages[0].orders[0].lines[0];
  line.packs = 1;
  line.price = line.amount = budgets::Money::of_minor(12'345'678'901);
  test::add_up(fixture);
  return fixture;
}

}  // namespace

// Not a check by itself, so left out unless asked for (-ns): writes the workbooks that
// tests/recalc/recalc_check.sh recalculates.
TEST_CASE("sample workbooks are written where FETTLEFUND_SAMPLES says" * doctest::skip()) {
  const char* folder = std::getenv("FETTLEFUND_SAMPLES");
  REQUIRE(folder != nullptr);
  const auto write = [&](const test::OutcomeFixture& fixture, const std::string& name) {
    sheets::write_workbook(fixture.outcome, std::string(folder) + "/" + name + ".xlsx");
  };
  write(test::small_outcome(), "small");
  write(test::long_outcome(), "long");
  write(in_currency({"JPY", 0}), "no-decimals");
  write(in_currency({"KWD", 3}), "three-decimals");
  write(large(), "large");
}
