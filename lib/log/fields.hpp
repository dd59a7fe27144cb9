#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/log/line.hpp"

namespace fettlefund::log {

/// Backslash, tab, line feed and carriage return as \\ \t \n \r; all else as it is.
std::string escaped(std::string_view text);

/// The `key=value` fields of a line, to be taken one by one. The first fault stays; then nothing is taken.
class FieldTaker {
 public:
  /// Takes the fields from `first` on apart.
  FieldTaker(const std::vector<Field>& fields, std::size_t first);

  std::string text(const std::string& key);  ///< not empty
  std::optional<std::string> maybe_text(const std::string& key);
  std::int64_t whole(const std::string& key, std::int64_t low, std::int64_t high);
  std::optional<std::int64_t> maybe_whole(const std::string& key, std::int64_t low, std::int64_t high);
  Money money(const std::string& key, const budgets::Currency& currency);
  std::optional<Money> maybe_money(const std::string& key, const budgets::Currency& currency);
  std::optional<Date> maybe_date(const std::string& key);

  /// `key` is no longer to be taken but its value is wrong.
  void refuse(const std::string& key, const std::string& expected, const std::string& nearest = {});

  /// Call when all known keys are taken: any other field is a fault.
  std::optional<Fault> finish();

 private:
  struct Value {
    std::string text;
    std::size_t at = 0;
  };
  void take_apart(const Field& field);
  void fail(std::size_t at, std::string_view found, std::string expected, std::string nearest = {});
  const Value* find(const std::string& key, bool needed);

  std::map<std::string, Value> values_;
  std::vector<std::string> taken_;
  std::size_t end_ = 0;
  std::optional<Fault> fault_;
};

/// A whole number in plain digits, within the limits (both inclusive).
std::optional<std::int64_t> read_whole(std::string_view text, std::int64_t low, std::int64_t high);

}  // namespace fettlefund::log
