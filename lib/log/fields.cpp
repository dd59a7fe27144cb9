#include "lib/log/fields.hpp"

#include <algorithm>
#include <charconv>

#include "lib/text/nearest.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::log {
namespace {

std::optional<std::string> unescaped(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\\') {
      plain += text[i];
      continue;
    }
    constexpr std::string_view codes = "\\tnr", meanings = "\\\t\n\r";
    const std::size_t code = ++i < text.size() ? codes.find(text[i]) : std::string_view::npos;
    if (code == std::string_view::npos) return std::nullopt;
    plain += meanings[code];
  }
  return plain;
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string result;
  for (const char c : text) {
    const std::size_t code = std::string_view("\\\t\n\r").find(c);
    if (code == std::string_view::npos) {
      result += c;
    } else {
      (result += '\\') += std::string_view("\\tnr")[code];
    }
  }
  return result;
}

std::optional<std::int64_t> read_whole(std::string_view text, std::int64_t low, std::int64_t high) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = error == std::errc() && end == text.data() + text.size() && !text.starts_with("-0");
  if (!whole || number < low || number > high) return std::nullopt;
  return number;
}

FieldTaker::FieldTaker(const std::vector<Field>& fields, std::size_t first) {
  if (!fields.empty()) end_ = fields.back().at + fields.back().text.size();
  for (std::size_t i = first; i < fields.size(); ++i) take_apart(fields[i]);
}

void FieldTaker::take_apart(const Field& field) {
  const std::size_t equals = field.text.find('=');
  if (equals == std::string_view::npos || equals == 0) {
    return fail(field.at, field.text, "a field like key=value");
  }
  const auto value = unescaped(field.text.substr(equals + 1));
  if (!value) return fail(field.at, field.text, "after a backslash one of \\ t n r");
  const std::string key(field.text.substr(0, equals));
  if (!values_.emplace(key, Value{*value, field.at}).second) fail(field.at, field.text, "each field once");
}

void FieldTaker::fail(std::size_t at, std::string_view found, std::string expected, std::string nearest) {
  if (fault_) return;
  fault_ = Fault{at, text::shortened(found, shown_bytes), std::move(expected), std::move(nearest)};
}

const FieldTaker::Value* FieldTaker::find(const std::string& key, bool needed) {
  taken_.push_back(key);
  const auto found = values_.find(key);
  if (found != values_.end()) return &found->second;
  if (needed) fail(end_, "", fmt::format("a field {}=...", key));
  return nullptr;
}

void FieldTaker::refuse(const std::string& key, const std::string& expected, const std::string& nearest) {
  const auto found = values_.find(key);
  if (found != values_.end()) fail(found->second.at, found->second.text, expected, nearest);
}

std::optional<std::string> FieldTaker::maybe_text(const std::string& key) {
  const Value* value = find(key, false);
  if (!value) return std::nullopt;
  if (value->text.empty()) refuse(key, "a text that is not empty");
  return value->text;
}

std::string FieldTaker::text(const std::string& key) {
  const Value* value = find(key, true);
  if (value && value->text.empty()) refuse(key, "a text that is not empty");
  return value ? value->text : "";
}

std::optional<std::int64_t> FieldTaker::maybe_whole(const std::string& key, std::int64_t low,
                                                    std::int64_t high) {
  const Value* value = find(key, false);
  if (!value) return std::nullopt;
  const auto number = read_whole(value->text, low, high);
  if (!number) refuse(key, fmt::format("a whole number from {} to {}", low, high));
  return number;
}

std::int64_t FieldTaker::whole(const std::string& key, std::int64_t low, std::int64_t high) {
  if (!find(key, true)) return 0;
  return maybe_whole(key, low, high).value_or(0);
}

Money FieldTaker::money(const std::string& key, const budgets::Currency& currency) {
  const Value* value = find(key, true);
  if (!value) return {};
  const budgets::MoneyReading reading = budgets::read_money(value->text, currency);
  if (!reading.amount || reading.amount->minor() > most_minor || reading.amount->minor() < -most_minor) {
    refuse(key, fmt::format("an amount of {}, at most 10^12 of its smallest coin", currency.code));
    return {};
  }
  return *reading.amount;
}

std::optional<Money> FieldTaker::maybe_money(const std::string& key, const budgets::Currency& currency) {
  if (!find(key, false)) return std::nullopt;
  return money(key, currency);
}

std::optional<Date> FieldTaker::maybe_date(const std::string& key) {
  const Value* value = find(key, false);
  if (!value) return std::nullopt;
  const auto date = budgets::read_date(value->text);
  if (!date) refuse(key, "a day like 2026-03-27");
  return date;
}

std::optional<Fault> FieldTaker::finish() {
  for (const auto& [key, value] : values_) {
    if (fault_ || std::find(taken_.begin(), taken_.end(), key) != taken_.end()) continue;
    fail(value.at, key, fmt::format("one of the fields {}", fmt::join(taken_, ", ")),
         text::nearest_name(key, text::Names(taken_)));
  }
  return fault_;
}

}  // namespace fettlefund::log
