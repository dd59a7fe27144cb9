#pragma once
#include <memory>

#include "lib/outcome/outcome.hpp"

/// Outcomes made by hand, for tests of what shows them. Everything in them is invented.
namespace fettlefund::test {

struct OutcomeFixture {
  std::unique_ptr<build::Build> build;
  planning::Outcome outcome;  ///< of `build`
};

/// Two stages in EUR, 5 percent allowance, opening cash 100.00, 200.00 each payday, keep-back 50.00:
/// stage 1 buys 3 packs at 19.99 (59.97) with delivery 4.90, pays a fee of 20.00, and sets aside 4.25
/// (5 percent of 84.87 is 4.2435): spends 89.12, leaves 210.88.
/// stage 2 buys 1 pack at 150.00, free of delivery from 150.00, hires a tool for 12.00, and sets aside 8.10:
/// spends 170.10, leaves 240.78.
OutcomeFixture small_outcome();

/// Thirteen stages, over forty lines to buy, of a motorcycle build: for looking at, and for whole-workbook
/// checks.
OutcomeFixture long_outcome();

/// Sets goods, delivery, allowance, spent, cash_after of every stage and the totals from the lines, cash_in
/// and the build's money. Order deliveries follow charge and free-from amount.
void add_up(OutcomeFixture& fixture);

}  // namespace fettlefund::test
