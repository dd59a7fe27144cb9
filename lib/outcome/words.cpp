#include "lib/outcome/words.hpp"

#include <cstdlib>

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

/// `value` / 10^digits without trailing zeros.
std::string trimmed_decimal(std::int64_t value, int digits) {
  while (digits > 0 && value % 10 == 0) value /= 10, --digits;
  std::int64_t unit = 1;
  for (int d = 0; d < digits; ++d) unit *= 10;
  return digits == 0 ? fmt::format("{}", value)
                     : fmt::format("{}.{:0{}}", value / unit, value % unit, digits);
}

std::string with_commas(std::int64_t value) {
  if (value < 1000) return fmt::format("{}", value);
  return fmt::format("{},{:03}", with_commas(value / 1000), value % 1000);
}

std::string tenths_text(std::int64_t tenths) {
  const std::int64_t size = std::abs(tenths);
  return fmt::format("{}{}.{}", tenths < 0 ? "-" : "", with_commas(size / 10), size % 10);
}

}  // namespace

std::string hours_text(std::int64_t minutes) {
  if (minutes % 3 == 0) return trimmed_decimal(minutes * 100 / 60, 2) + " h";
  if (minutes < 60) return fmt::format("{} min", minutes);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::string amount_text(budgets::Quantity amount) { return trimmed_decimal(amount, 3); }

std::string list_text(const std::vector<std::string>& items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  return text;
}

std::string money_text(const build::Build& build, budgets::Money amount) {
  return fmt::format("{} {}", budgets::write_money(amount, build.currency), build.currency.code);
}

std::string stage_text(int stage, budgets::Date bench) {
  return fmt::format("stage {} (bench {})", stage + 1, budgets::write_date(bench));
}

std::int64_t want_month_tenths(std::int64_t want_days) { return want_days * 160 / 487; }  // 487/16 = 30.4375

std::int64_t want_month_tenths_at_most(std::int64_t want_days) {
  return want_month_tenths(want_days) + (want_days * 160 % 487 > 0 ? 1 : 0);
}

std::string want_months_text(std::int64_t want_days) { return tenths_text(want_month_tenths(want_days)); }

std::string want_months_at_most_text(std::int64_t want_days) {
  return tenths_text(want_month_tenths_at_most(want_days));
}

}  // namespace fettlefund::planning
