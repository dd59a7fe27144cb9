#include <algorithm>
#include <array>

#include "lib/build/json/values.hpp"
#include "lib/fitment/torque.hpp"
#include "lib/text/ascii.hpp"

#include <fmt/format.h>

/// Amounts of money and tightening figures: a number with a unit that people like to write along.
namespace fettlefund::build {
namespace {

/// The first word of ASCII letters in `text`.
std::string first_word(std::string_view text) {
  const auto begin = std::find_if(text.begin(), text.end(), text::is_letter);
  return {begin, std::find_if_not(begin, text.end(), text::is_letter)};
}

bool has_currency_sign(std::string_view text) {
  static constexpr std::array<std::string_view, 5> signs = {"$", "\u20ac", "\u00a3", "\u00a5", "\u20b9"};
  return std::any_of(signs.begin(), signs.end(),
                     [&](std::string_view sign) { return text.find(sign) != std::string_view::npos; });
}

/// What is expected instead of a text that is no number.
std::string money_words(const std::string& text, const budgets::Currency& currency) {
  const std::string word = first_word(text);
  const bool named = budgets::find_currency(word).has_value();
  if (named && word != currency.code)
    return fmt::format("an amount in {}, the currency of this build, not in {}", currency.code, word);
  if (named || has_currency_sign(text))
    return fmt::format("the bare amount in {}, without a currency sign or code", currency.code);
  if (text.find(',') != std::string::npos) return "a point as decimal mark, and no marks between thousands";
  return fmt::format("an amount of money such as 129 or \"129.95\", in {}", currency.code);
}

std::string fault_words(const Node& node, budgets::MoneyFault fault, const budgets::Currency& currency) {
  if (fault == budgets::MoneyFault::not_a_number) return money_words(node.text, currency);
  if (fault == budgets::MoneyFault::too_many_decimals)
    return fmt::format("at most {} decimals: {} has no smaller unit", currency.digits, currency.code);
  return fmt::format("an amount of at most {}", budgets::write_money(Money::of_minor(most_minor), currency));
}

}  // namespace

std::optional<Money> read_money_any(Context& context, const Node& node) {
  if (node.kind != NodeKind::number && node.kind != NodeKind::text) {
    context.findings.error(node.span, money_words("", context.currency));
    return {};
  }
  auto reading = budgets::read_money(node.text, context.currency);
  const bool far =
      reading.amount && (reading.amount->minor() > most_minor || reading.amount->minor() < -most_minor);
  if (far) reading.fault = budgets::MoneyFault::out_of_range;
  if (!reading.fault) return reading.amount;
  context.findings.error(node.span, fault_words(node, *reading.fault, context.currency));
  return {};
}

std::optional<Money> read_money_from_zero(Context& context, const Node& node) {
  const auto amount = read_money_any(context, node);
  if (!amount || *amount >= Money()) return amount;
  context.findings.error(node.span, "an amount that is not negative");
  return {};
}

std::optional<std::string> read_torque(Context& context, const Node& node) {
  std::string fault;
  if (node.kind == NodeKind::text) {
    const auto reading = fitment::read_torque(node.text);
    if (reading.written) return node.text;
    fault = reading.fault;
  }
  context.findings.error(node.span, "a torque with its unit, such as \"85 Nm\" or \"63 lbf ft\"" +
                                        (fault.empty() ? "" : " (" + fault + ")"));
  return {};
}

}  // namespace fettlefund::build
