#include "lib/build/read/sections.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

constexpr int most_stages = 120;

std::optional<Extra> read_extra(Context& context, const Node& node) {
  Extra extra;
  const Fields fields(context, node, Part::extra);
  fields.get("date", extra.date, read_day);
  fields.get("amount", extra.amount, read_money_any);
  fields.get("what", extra.what, read_line);
  return extra;
}

/// The days of the list as far as they increase.
budgets::ListedDays read_listed_days(Context& context, const Node& node) {
  budgets::ListedDays listed;
  if (!expect_list(context, node)) return listed;
  if (node.items.empty()) context.findings.error(node.span, "at least one day");
  for (const Node& item : node.items) {
    const auto day = read_day(context, item);
    if (!day) continue;
    if (listed.days.empty() || listed.days.back() < *day)
      listed.days.push_back(*day);
    else
      context.findings.error(item.span, "a later day than the one before it");
  }
  return listed;
}

/// The rule's one form; its keys other than `from` and `holidays`.
const std::vector<std::string_view>& forms() {
  static const std::vector<std::string_view> words = {"dates", "every_weeks", "day_of_month",
                                                      "last_working_day"};
  return words;
}

void read_form(const Fields& fields, std::string_view form, budgets::PaydayRule& rule) {
  Context& context = fields.context();
  const bool needs_from = form != "dates";
  if (needs_from && !fields.has("from"))
    context.findings.missing(fields.span(), "a key \"from\": the day on which the rule begins");
  if (!needs_from && fields.has("from"))
    context.findings.error(fields.find("from")->span, "no \"from\" beside \"dates\"");
  Date from;
  fields.get("from", from, read_day);
  const Node& value = *fields.find(form);
  if (form == "dates") {
    rule = read_listed_days(context, value);
  } else if (form == "every_weeks") {
    rule = budgets::EveryWeeks{from, Whole{1, 52}(context, value).value_or(1)};
  } else if (form == "day_of_month") {
    rule = budgets::DayOfMonth{from, Whole{1, 31}(context, value).value_or(1)};
  } else {
    if (value.kind != NodeKind::truth || !value.truth) context.findings.error(value.span, "true");
    rule = budgets::LastWorkingDay{from};
  }
}

void read_paydays(Context& context, const Node& node, MoneyPlan& money) {
  const Fields fields(context, node, Part::paydays);
  if (node.kind != NodeKind::object) return;
  std::vector<std::string_view> given;
  for (const std::string_view form : forms())
    if (fields.has(form)) given.push_back(form);
  if (given.empty())
    context.findings.missing(
        node.span, "one of the keys \"dates\", \"every_weeks\", \"day_of_month\" and \"last_working_day\"");
  for (std::size_t i = 1; i < given.size(); ++i)
    context.findings.error(fields.find(given[i])->span,
                           fmt::format("only one rule for paydays, and \"{}\" is one already", given[0]));
  if (!given.empty()) read_form(fields, given[0], money.rule);
  std::vector<Date> holidays;
  fields.get("holidays", holidays, set_of(read_day));
  money.holidays = {holidays.begin(), holidays.end()};
}

}  // namespace

void read_money_plan(Context& context, const Node& node, MoneyPlan& money) {
  const Fields fields(context, node, Part::money);
  fields.get("opening", money.opening, read_money_any);
  fields.get("keep_back", money.keep_back, read_money_from_zero);
  fields.get("amount", money.amount, read_money_from_zero);
  fields.get("stages", money.stages, Whole{1, most_stages});
  if (const Node* paydays = fields.find("paydays")) read_paydays(context, *paydays, money);
  fields.get("extras", money.extras, list_of(read_extra));
  fields.get("allowance_percent", money.allowance_bp, read_basis_points);
}

}  // namespace fettlefund::build
