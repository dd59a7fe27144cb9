#pragma once
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "lib/build/json/tree.hpp"
#include "lib/build/model.hpp"
#include "lib/build/read/findings.hpp"

/// Readers of single values. Each takes the Context and a Node, and returns the value, or reports what is
/// wrong and returns nothing. Those with settings are small function objects.
namespace fettlefund::build {

/// The ids of a build by what they may be used for, known before the entries are read.
struct Ids {
  text::Names suppliers, articles, goods, tools, removals, jobs, fitted, steps;
  text::Names jobs_or_fitted, jobs_or_removals;
  text::Names renewing_jobs;  ///< jobs that take off a fitted part with a service life
};

struct Context {
  Findings& findings;
  const Ids& ids;
  budgets::Currency currency;
};

inline constexpr std::size_t longest_id = 40;
inline constexpr std::size_t longest_line = 200;   ///< characters of a name
inline constexpr std::size_t longest_text = 4000;  ///< characters of a remark

/// Amounts of money of one entry: up to 10^12 minor units either way.
inline constexpr std::int64_t most_minor = 1'000'000'000'000;
inline constexpr int most_hours = 10'000;
inline constexpr int most_amount = 1'000'000;  ///< of an article, in its unit

bool is_id(std::string_view word);
std::string id_words();  ///< what an id looks like

std::optional<std::string> read_line(Context& context, const Node& node);  ///< one line, not empty
std::optional<std::string> read_text(Context& context, const Node& node);  ///< line breaks allowed
std::optional<Id> read_id(Context& context, const Node& node);
std::optional<bool> read_flag(Context& context, const Node& node);
std::optional<Date> read_day(Context& context, const Node& node);
std::optional<std::int64_t> read_minutes(Context& context, const Node& node);  ///< from hours
std::optional<Quantity> read_quantity(Context& context, const Node& node);     ///< > 0
std::optional<std::int64_t> read_basis_points(Context& context,
                                              const Node& node);  ///< from percent, 0 to 100
std::optional<Money> read_money_any(Context& context, const Node& node);
std::optional<Money> read_money_from_zero(Context& context, const Node& node);
std::optional<std::string> read_torque(Context& context, const Node& node);  ///< a figure and its unit

bool expect_list(Context& context, const Node& node);
bool expect_object(Context& context, const Node& node);

/// Whole numbers from `low` to `high`, both inclusive.
struct Whole {
  int low, high;
  std::optional<int> operator()(Context& context, const Node& node) const;
};

/// Measures and ratios above `low` (or from it, if `inclusive`) up to `high`.
struct Real {
  double low, high;
  bool inclusive = false;
  std::optional<double> operator()(Context& context, const Node& node) const;
};

struct OneOf {
  std::vector<std::string> words;
  std::optional<std::string> operator()(Context& context, const Node& node) const;
};

/// An id of one of `names`; `what` tells people which kind ("a job").
struct Reference {
  const text::Names Ids::*names;
  std::string_view what;
  std::optional<Id> operator()(Context& context, const Node& node) const;
};

/// A list whose items `read` reads; wrong items are reported and left out.
template <class Reader>
struct ListOf {
  Reader read;
  template <class Value = typename std::invoke_result_t<const Reader&, Context&, const Node&>::value_type>
  std::optional<std::vector<Value>> operator()(Context& context, const Node& node) const {
    if (!expect_list(context, node)) return {};
    std::vector<Value> items;
    for (const Node& item : node.items)
      if (auto value = read(context, item)) items.push_back(*std::move(value));
    return items;
  }
};

/// As ListOf; items that stand twice are kept once and warned of.
template <class Reader>
struct SetOf {
  Reader read;
  template <class Value = typename std::invoke_result_t<const Reader&, Context&, const Node&>::value_type>
  std::optional<std::vector<Value>> operator()(Context& context, const Node& node) const {
    if (!expect_list(context, node)) return {};
    std::vector<Value> items;
    std::set<Value> known;
    for (const Node& item : node.items) {
      auto value = read(context, item);
      if (!value) continue;
      if (known.insert(*value).second)
        items.push_back(*std::move(value));
      else
        context.findings.warning(item.span, "each item of the list once");
    }
    return items;
  }
};

template <class Reader>
constexpr ListOf<Reader> list_of(Reader read) {
  return {read};
}
template <class Reader>
constexpr SetOf<Reader> set_of(Reader read) {
  return {read};
}

}  // namespace fettlefund::build
