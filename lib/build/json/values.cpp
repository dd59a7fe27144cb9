#include "lib/build/json/values.hpp"

#include <algorithm>
#include <charconv>

#include "lib/text/utf8.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace fettlefund::build {
namespace {

bool is_letter_or_digit(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool has_controls(std::string_view text, bool breaks_allowed) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool allowed = breaks_allowed && (text[i] == '\n' || text[i] == '\t');
    if (!allowed && text::starts_with_control(text.substr(i))) return true;
  }
  return false;
}

std::optional<std::string> read_words(Context& context, const Node& node, std::size_t longest, bool breaks) {
  if (node.kind != NodeKind::text) {
    const bool number = node.kind == NodeKind::number;
    context.findings.error(node.span, number ? fmt::format("text in double quotes: \"{}\"", node.text)
                                             : "text in double quotes");
    return {};
  }
  const bool blank = node.text.find_first_not_of(" \n\t") == std::string::npos;
  if (blank) {
    context.findings.error(node.span, "text that is not empty");
  } else if (has_controls(node.text, breaks)) {
    context.findings.error(node.span, breaks ? "text without control characters"
                                             : "one line of text, without control characters");
  } else if (text::has_noncharacters(node.text)) {
    context.findings.error(node.span, "text without U+FFFE and U+FFFF, which stand for no character");
  } else if (text::count_characters(node.text) > longest) {
    context.findings.error(node.span, fmt::format("text of at most {} characters", longest));
  } else {
    return node.text;
  }
  return {};
}

/// A number that stands in quotes is told to shed them.
std::string_view quotes_words(const Node& node) {
  const bool quoted = node.kind == NodeKind::text && !budgets::read_money(node.text, {"", 4}).fault;
  return quoted ? ", without quotes" : "";
}

/// Reads a number in units of 10^-decimals from `low` to `high`; anything else is told as `expected`.
std::optional<std::int64_t> read_scaled(Context& context, const Node& node, int decimals, std::int64_t low,
                                        std::int64_t high, std::string_view expected) {
  if (node.kind == NodeKind::number) {
    // The exact decimal reader for money serves any scale of up to four decimals.
    const auto reading = budgets::read_money(node.text, {"", decimals});
    if (reading.amount && reading.amount->minor() >= low && reading.amount->minor() <= high)
      return reading.amount->minor();
  }
  context.findings.error(node.span, fmt::format("{}{}", expected, quotes_words(node)));
  return {};
}

/// What an id stands for, where it is not what it should be.
std::string kind_words(const Ids& ids, const std::string& id) {
  static constexpr std::pair<const text::Names Ids::*, std::string_view> kinds[] = {
      {&Ids::jobs, "a job"},   {&Ids::removals, "a removal"},           {&Ids::fitted, "a fitted part"},
      {&Ids::tools, "a tool"}, {&Ids::goods, "a part or a consumable"}, {&Ids::suppliers, "a supplier"},
      {&Ids::steps, "a step"}};
  for (const auto& [names, what] : kinds)
    if ((ids.*names).has(id)) return fmt::format("; \"{}\" is {}", id, what);
  return "";
}

}  // namespace

bool is_id(std::string_view word) {
  return !word.empty() && word.size() <= longest_id && word.front() != '-' && word.back() != '-' &&
         std::all_of(word.begin(), word.end(), [](char c) { return c == '-' || is_letter_or_digit(c); });
}

std::string id_words() {
  return fmt::format("an id: up to {} letters, digits and hyphens, the first and last no hyphen", longest_id);
}

bool expect_list(Context& context, const Node& node) {
  if (node.kind != NodeKind::list) context.findings.error(node.span, "a list in [ ]");
  return node.kind == NodeKind::list;
}

bool expect_object(Context& context, const Node& node) {
  if (node.kind != NodeKind::object) context.findings.error(node.span, "an object in { }");
  return node.kind == NodeKind::object;
}

std::optional<std::string> read_line(Context& context, const Node& node) {
  return read_words(context, node, longest_line, false);
}

std::optional<std::string> read_text(Context& context, const Node& node) {
  return read_words(context, node, longest_text, true);
}

std::optional<Id> read_id(Context& context, const Node& node) {
  if (node.kind == NodeKind::text && is_id(node.text)) return node.text;
  context.findings.error(node.span, id_words());
  return {};
}

std::optional<bool> read_flag(Context& context, const Node& node) {
  if (node.kind == NodeKind::truth) return node.truth;
  context.findings.error(node.span, "true or false");
  return {};
}

std::optional<Date> read_day(Context& context, const Node& node) {
  if (node.kind == NodeKind::text)
    if (const auto day = budgets::read_date(node.text)) return day;
  context.findings.error(node.span, "a day of the calendar as \"yyyy-mm-dd\", from 1900 on");
  return {};
}

/// Of decimal hours, exactly the multiples of 0.05 come to whole minutes: a sixtieth of a number ends as a
/// decimal only if three divides it.
std::optional<std::int64_t> read_minutes(Context& context, const Node& node) {
  const std::string expected = fmt::format("hours from 0 to {} in steps of 0.05, three minutes", most_hours);
  const auto hundredths = read_scaled(context, node, 2, 0, most_hours * 100, expected);
  if (!hundredths) return {};
  if (*hundredths % 5 == 0) return *hundredths / 5 * 3;
  const std::int64_t nearest = (*hundredths + 2) / 5 * 5;
  context.findings.error(node.span, expected, budgets::write_money(Money::of_minor(nearest), {"", 2}));
  return {};
}

std::optional<Quantity> read_quantity(Context& context, const Node& node) {
  return read_scaled(context, node, 3, 1, most_amount * std::int64_t{1000},
                     fmt::format("an amount above 0, at most {}, with at most three decimals", most_amount));
}

std::optional<std::int64_t> read_basis_points(Context& context, const Node& node) {
  return read_scaled(context, node, 2, 0, 10'000, "a percentage from 0 to 100 with at most two decimals");
}

std::optional<int> Whole::operator()(Context& context, const Node& node) const {
  const auto value =
      read_scaled(context, node, 0, low, high, fmt::format("a whole number from {} to {}", low, high));
  if (!value) return {};
  return static_cast<int>(*value);
}

std::optional<double> Real::operator()(Context& context, const Node& node) const {
  if (node.kind == NodeKind::number) {
    double value = 0;
    const char* end = node.text.data() + node.text.size();
    const auto result = std::from_chars(node.text.data(), end, value);
    const bool read = result.ec == std::errc{} && result.ptr == end;
    if (read && value <= high && (inclusive ? value >= low : value > low)) return value;
  }
  context.findings.error(node.span, fmt::format("a number {} {:g}, at most {:g}{}",
                                                inclusive ? "from" : "above", low, high, quotes_words(node)));
  return {};
}

std::optional<std::string> OneOf::operator()(Context& context, const Node& node) const {
  if (node.kind == NodeKind::text && std::find(words.begin(), words.end(), node.text) != words.end())
    return node.text;
  context.findings.error(node.span, fmt::format("one of \"{}\"", fmt::join(words, "\", \"")));
  return {};
}

std::optional<Id> Reference::operator()(Context& context, const Node& node) const {
  const std::string expected = fmt::format("the id of {}", what);
  if (node.kind != NodeKind::text) {
    context.findings.error(node.span, expected);
    return {};
  }
  const text::Names& known = context.ids.*names;
  if (known.has(node.text)) return node.text;
  const std::string kind = kind_words(context.ids, node.text);
  if (kind.empty())
    context.findings.unknown(node.span, expected, node.text, known);
  else
    context.findings.error(node.span, expected + kind);
  return {};
}

}  // namespace fettlefund::build
