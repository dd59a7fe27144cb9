#include "lib/planning/words.hpp"

namespace fettlefund::planning {
namespace {

/// `value` / 10^digits without trailing zeros.
std::string trimmed_decimal(std::int64_t value, int digits) {
  std::string tail;
  std::int64_t whole = value;
  for (int d = 0; d < digits; ++d, whole /= 10) {
    if (whole % 10 != 0 || !tail.empty()) tail.insert(tail.begin(), static_cast<char>('0' + whole % 10));
  }
  return std::to_string(whole) + (tail.empty() ? "" : "." + tail);
}

std::string with_commas(std::int64_t value) {
  std::string digits = std::to_string(value);
  for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, ",");
  return digits;
}

}  // namespace

std::string hours_text(std::int64_t minutes) {
  if (minutes % 3 == 0) return trimmed_decimal(minutes * 100 / 60, 2) + " h";
  const std::string hours = minutes >= 60 ? std::to_string(minutes / 60) + " h " : "";
  return hours + std::to_string(minutes % 60) + " min";
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
  return budgets::write_money(amount, build.currency) + " " + std::string(build.currency.code);
}

std::string stage_text(int stage, budgets::Date bench) {
  return "stage " + std::to_string(stage + 1) + " (bench " + budgets::write_date(bench) + ")";
}

std::string want_months_text(std::int64_t want_days) {
  const bool negative = want_days < 0;
  const std::int64_t tenths = (negative ? -want_days : want_days) * 160 / 487;  // 487/16 = 30.4375
  return (negative && tenths > 0 ? "-" : "") + with_commas(tenths / 10) + "." + std::to_string(tenths % 10);
}

}  // namespace fettlefund::planning
