#include "budgets/values/money.hpp"

#include <string>

#include <doctest/doctest.h>

using namespace fettlefund::budgets;

namespace {

/// Checks that every code of `codes` (three letters, one space between) has this many digits.
void check_digits(std::string_view codes, int digits) {
  for (std::size_t i = 0; i + 3 <= codes.size(); i += 4) {
    const std::string code(codes.substr(i, 3));
    const auto currency = find_currency(code);
    CHECK_MESSAGE(currency.has_value(), code);
    if (currency) CHECK_MESSAGE(currency->digits == digits, code);
  }
}

}  // namespace

// Source: ISO 4217:2015, Codes for the representation of currencies, list one (current currency and funds
// codes), column "minor unit".
TEST_CASE("currencies have the minor units of ISO 4217") {
  check_digits("BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF", 0);
  check_digits("AUD BRL CAD CHF CNY CZK DKK EUR GBP HKD HUF INR MXN NOK NZD PLN SEK SGD THB TRY USD ZAR", 2);
  check_digits("MGA MRU RSD XCD XCG ZWG", 2);  // fifths are not decimals: the list says 2 for MGA and MRU
  check_digits("BHD IQD JOD KWD LYD OMR TND", 3);
  check_digits("CLF UYW", 4);
}

// Source: ISO 4217, list three (historic denominations): withdrawn codes are not in use.
TEST_CASE("withdrawn currencies are not known") {
  for (const char* code : {"DEM", "FRF", "ITL", "HRK", "BGN", "ZWL", "SLL", "VEF", "ANG"})
    CHECK_MESSAGE(!find_currency(code).has_value(), code);
}
