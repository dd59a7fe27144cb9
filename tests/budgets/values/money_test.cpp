#include "budgets/values/money.hpp"

#include <cstdint>
#include <limits>
#include <string>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::budgets;

namespace {

const Currency kEuro{"EUR", 2};
const Currency kYen{"JPY", 0};
const Currency kDinar{"KWD", 3};
const Currency kUnit{"CLF", 4};
constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();
constexpr std::int64_t kLeast = std::numeric_limits<std::int64_t>::min();

std::int64_t minor_of(std::string_view text, const Currency& currency = kEuro) {
  const MoneyReading reading = read_money(text, currency);
  REQUIRE_MESSAGE(reading.amount.has_value(), std::string(text));
  REQUIRE_FALSE(reading.fault.has_value());
  return reading.amount->minor();
}

MoneyFault fault_of(std::string_view text, const Currency& currency = kEuro) {
  const MoneyReading reading = read_money(text, currency);
  REQUIRE_MESSAGE(reading.fault.has_value(), std::string(text));
  REQUIRE_FALSE(reading.amount.has_value());
  return *reading.fault;
}

}  // namespace

TEST_CASE("plain decimal text is read to the minor unit") {
  CHECK(minor_of("129.95") == 12995);
  CHECK(minor_of("-4") == -400);
  CHECK(minor_of("+4") == 400);
  CHECK(minor_of("0.5") == 50);
  CHECK(minor_of("0") == 0);
  CHECK(minor_of("-0.00") == 0);
  CHECK(minor_of("007.50") == 750);
  CHECK(minor_of("1200", kYen) == 1200);
  CHECK(minor_of("1.234", kDinar) == 1234);
  CHECK(minor_of("1.2345", kUnit) == 12345);
}

TEST_CASE("an exponent moves the point exactly") {
  CHECK(minor_of("1e2") == 10000);
  CHECK(minor_of("12995E-2") == 12995);
  CHECK(minor_of("1.5e+1") == 1500);
  CHECK(minor_of("0.0001e4") == 100);
  CHECK(minor_of("1200000e-5", kYen) == 12);
  CHECK(minor_of("0e999999999999999999999") == 0);
  CHECK(minor_of("1e0000000000000000000000002") == 10000);
}

TEST_CASE("amounts that a double cannot hold are read exactly") {
  CHECK(minor_of("0.29") == 29);  // 0.29 * 100 is below 29 in binary floating point
  CHECK(minor_of("90071992547409.93") == 9007199254740993);
  CHECK(minor_of("92233720368547758.07") == kMost);
  CHECK(minor_of("-92233720368547758.08") == kLeast);
}

TEST_CASE("surplus decimals are a fault unless they are zeros") {
  CHECK(minor_of("129.9500000") == 12995);
  CHECK(minor_of("12.000", kYen) == 12);
  CHECK(fault_of("129.955") == MoneyFault::too_many_decimals);
  CHECK(fault_of("0.5", kYen) == MoneyFault::too_many_decimals);
  CHECK(fault_of("1e-3") == MoneyFault::too_many_decimals);
  CHECK(fault_of("1.2345", kDinar) == MoneyFault::too_many_decimals);
  CHECK(fault_of("1e-99999999999999999999999") == MoneyFault::too_many_decimals);
  CHECK(fault_of("100000000000000000000000.001") == MoneyFault::too_many_decimals);
}

TEST_CASE("an amount outside 64 bits is a fault and costs no memory") {
  CHECK(fault_of("92233720368547758.08") == MoneyFault::out_of_range);
  CHECK(fault_of("-92233720368547758.09") == MoneyFault::out_of_range);
  CHECK(fault_of("1e17") == MoneyFault::out_of_range);
  CHECK(fault_of("1e999999999999999999999999") == MoneyFault::out_of_range);
  CHECK(fault_of(std::string(100000, '9')) == MoneyFault::out_of_range);
  const std::string zeros(50000, '0');
  CHECK(minor_of(std::string("1").append(zeros).append("e-50000")) == 100);
  CHECK(minor_of(std::string("0.").append(zeros).append("1e50001")) == 100);
}

TEST_CASE("text that is not one plain number is refused") {
  for (const char* text :
       {"",    "-",  "+",    ".",     ".5",   "5.",  "1,5", "1 200", " 1",  "1 ",    "--1",   "-+1",     "1e",
        "1e+", "e5", "1.e2", "1.2.3", "0x10", "NaN", "inf", "1e2.5", "12a", "EUR 5", "1'000", "\xD9\xA1"})
    CHECK_MESSAGE(fault_of(text) == MoneyFault::not_a_number, text);
  CHECK(fault_of(std::string_view("1\0", 2)) == MoneyFault::not_a_number);
}

TEST_CASE("amounts are written with the decimals of their currency") {
  CHECK(write_money(Money::of_minor(12995), kEuro) == "129.95");
  CHECK(write_money(Money::of_minor(-400), kEuro) == "-4.00");
  CHECK(write_money(Money::of_minor(-5), kEuro) == "-0.05");
  CHECK(write_money(Money::of_minor(95), kEuro) == "0.95");
  CHECK(write_money(Money(), kEuro) == "0.00");
  CHECK(write_money(Money::of_minor(1200), kYen) == "1200");
  CHECK(write_money(Money(), kYen) == "0");
  CHECK(write_money(Money::of_minor(7), kDinar) == "0.007");
  CHECK(write_money(Money::of_minor(kLeast), kEuro) == "-92233720368547758.08");
  CHECK(write_money(Money::of_minor(kMost), kUnit) == "922337203685477.5807");
}

TEST_CASE("what is written reads back as the same amount") {
  CHECK(rc::check([](std::int64_t minor, unsigned char digits) {
    const Currency currency{"XXX", digits % 5};
    return minor_of(write_money(Money::of_minor(minor), currency), currency) == minor;
  }));
}

TEST_CASE("reading any bytes sets exactly one of amount and fault") {
  CHECK(rc::check([](const std::string& text) {
    const MoneyReading reading = read_money(text, kEuro);
    return reading.amount.has_value() != reading.fault.has_value();
  }));
}

TEST_CASE("arithmetic that leaves 64 bits throws") {
  const Money most = Money::of_minor(kMost), least = Money::of_minor(kLeast), one = Money::of_minor(1);
  CHECK_THROWS_AS(most + one, MoneyOverflow);
  CHECK_THROWS_AS(least - one, MoneyOverflow);
  CHECK_THROWS_AS(most * 2, MoneyOverflow);
  CHECK_THROWS_AS(least * -1, MoneyOverflow);
  CHECK_THROWS_AS(percentage_rounded_up(most, 2), MoneyOverflow);
  Money sum = most;
  CHECK_THROWS_AS(sum += one, MoneyOverflow);
  CHECK(sum == most);
  CHECK((least + most).minor() == -1);
}

TEST_CASE("a percentage is rounded up to the minor unit") {
  const auto part = [](std::int64_t minor, std::int64_t bp) {
    return percentage_rounded_up(Money::of_minor(minor), bp).minor();
  };
  CHECK(part(10000, 1000) == 1000);
  CHECK(part(10001, 1000) == 1001);
  CHECK(part(1, 1) == 1);
  CHECK(part(0, 1000) == 0);
  CHECK(part(999, 0) == 0);
  CHECK(part(12345, 10000) == 12345);
}

TEST_CASE("a percentage is the least amount that is not too little") {
  CHECK(rc::check([](std::uint32_t minor, std::uint16_t points) {
    const std::int64_t bp = points % 10001;
    const std::int64_t part = percentage_rounded_up(Money::of_minor(minor), bp).minor();
    return part * 10000 >= minor * bp && (part - 1) * 10000 < minor * bp;
  }));
}

TEST_CASE("a currency is found by its exact code only") {
  REQUIRE(find_currency("EUR").has_value());
  CHECK(find_currency("EUR")->code == "EUR");
  CHECK(find_currency("EUR")->digits == 2);
  for (const char* code : {"", "eur", "EU", "EURO", "UR ", "XXX", "XTS", "XAU", "ED ", "AED ", "ZZZ"})
    CHECK_MESSAGE(!find_currency(code).has_value(), code);
}

TEST_CASE("the nearest currency is the one a slip of the finger meant") {
  CHECK(nearest_currency("eur") == "EUR");
  CHECK(nearest_currency("zar") == "ZAR");
  CHECK(nearest_currency("EURO") == "EUR");
  CHECK(nearest_currency("UER") == "EUR");
  CHECK(nearest_currency("GPB") == "GBP");
  CHECK(nearest_currency("JPX") == "JPY");
  CHECK(nearest_currency("CHFF") == "CHF");
  CHECK(nearest_currency("") == "AED");
  CHECK(find_currency(nearest_currency(std::string(1000000, 'Q'))).has_value());
}
