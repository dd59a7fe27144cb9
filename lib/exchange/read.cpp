#include <algorithm>
#include <initializer_list>

#include "lib/exchange/exchange.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::exchange {
namespace {

using nlohmann::json;

[[noreturn]] void refuse(const std::string& where, const std::string& why) {
  throw ExchangeFault(where + ": " + why);
}

std::string at(const std::string& list, std::size_t index) {
  return list + "[" + std::to_string(index) + "]";
}

/// One JSON object at a named place; every key it holds must be among those it is asked for.
class Object {
 public:
  Object(const json& value, std::string where, std::initializer_list<const char*> keys)
      : value_(value), where_(std::move(where)) {
    if (!value.is_object()) refuse(where_, "an object is expected");
    for (const auto& [key, unused] : value.items()) {
      const bool known =
          std::any_of(keys.begin(), keys.end(), [&, k = key](const char* name) { return k == name; });
      if (!known) refuse(place(key), "unknown key");
    }
  }

  bool has(const char* key) const { return value_.contains(key) && !value_[key].is_null(); }
  std::int64_t integer(const char* key) const { return to_integer(need(key), place(key)); }
  std::int64_t integer(const char* key, std::int64_t absent) const {
    return has(key) ? integer(key) : absent;
  }

  bool flag(const char* key) const {
    if (!has(key)) return false;
    if (!value_[key].is_boolean()) refuse(place(key), "true or false is expected");
    return value_[key].get<bool>();
  }

  int index(const char* key, std::size_t size, int absent) const {
    return has(key) ? to_index(value_[key], place(key), size) : absent;
  }

  std::vector<int> indices(const char* key, std::size_t size) const {
    std::vector<int> result;
    const json& items = list(key, false);
    for (std::size_t i = 0; i < items.size(); ++i)
      result.push_back(to_index(items[i], at(place(key), i), size));
    return result;
  }

  std::vector<std::int64_t> integers(const char* key) const {
    std::vector<std::int64_t> result;
    const json& items = list(key, false);
    for (std::size_t i = 0; i < items.size(); ++i) result.push_back(to_integer(items[i], at(place(key), i)));
    return result;
  }

  const json& list(const char* key, bool needed) const {
    static const json empty = json::array();
    if (!needed && !has(key)) return empty;
    const json& value = need(key);
    if (!value.is_array()) refuse(place(key), "a list is expected");
    return value;
  }

 private:
  std::string place(const std::string& key) const { return where_.empty() ? key : where_ + "." + key; }

  const json& need(const char* key) const {
    if (!value_.contains(key)) refuse(place(key), "is missing");
    return value_[key];
  }

  static std::int64_t to_integer(const json& value, const std::string& where) {
    const bool fits = value.is_number_integer() &&
                      !(value.is_number_unsigned() && value.get<std::uint64_t>() > std::uint64_t{INT64_MAX});
    if (!fits) refuse(where, "an integer is expected, not " + value.dump());
    return value.get<std::int64_t>();
  }

  static int to_index(const json& value, const std::string& where, std::size_t size) {
    const std::int64_t index = to_integer(value, where);
    if (index < 0 || index >= static_cast<std::int64_t>(size)) {
      refuse(where, std::to_string(index) + " names none of " + std::to_string(size));
    }
    return static_cast<int>(index);
  }

  const json& value_;
  std::string where_;
};

ExchangeTask read_task(const json& value, const std::string& where, const Exchange& sizes,
                       std::size_t tasks) {
  const Object object(
      value, where,
      {"cost", "hours", "value", "opens", "after", "once", "source", "earliest", "latest", "must", "due"});
  ExchangeTask task;
  task.cost = object.integer("cost");
  task.hours = object.integer("hours");
  task.value = object.integer("value");
  task.opens = object.indices("opens", sizes.openings.size());
  task.after = object.indices("after", tasks);
  task.once = object.indices("once", sizes.once.size());
  task.source = object.index("source", sizes.sources.size(), -1);
  task.earliest = object.index("earliest", sizes.stages.size(), 0);
  task.latest = object.index("latest", sizes.stages.size(), -1);
  task.must = object.flag("must");
  const ExchangeStage& last =
      task.latest < 0 ? sizes.stages.back() : sizes.stages[static_cast<std::size_t>(task.latest)];
  task.due = object.index("due", last.hours_by.size(), -1);
  return task;
}

ExchangeOpening read_opening(const json& value, const std::string& where, std::size_t openings) {
  const Object object(value, where, {"cost", "hours", "needs"});
  return {object.integer("cost"), object.integer("hours"), object.indices("needs", openings)};
}

std::vector<std::int64_t> read_charges(const json& list, const std::string& name, const char* key) {
  std::vector<std::int64_t> result;
  for (std::size_t i = 0; i < list.size(); ++i) {
    result.push_back(Object(list[i], at(name, i), {key}).integer(key));
  }
  return result;
}

}  // namespace

Exchange read_exchange(std::string_view text) {
  json root;
  try {
    root = json::parse(text);
  } catch (const json::exception& fault) {
    refuse("JSON", fault.what());
  }
  const Object object(root, "", {"stages", "opening", "keep_back", "tasks", "openings", "once", "sources"});
  Exchange exchange;
  exchange.opening = object.integer("opening", 0);
  exchange.keep_back = object.integer("keep_back", 0);
  exchange.once = read_charges(object.list("once", false), "once", "cost");
  exchange.sources = read_charges(object.list("sources", false), "sources", "fee");
  const json& stages = object.list("stages", true);
  for (std::size_t t = 0; t < stages.size(); ++t) {
    const Object stage(stages[t], at("stages", t), {"cash_in", "hours", "hours_by"});
    exchange.stages.push_back({stage.integer("cash_in"), stage.integer("hours"), stage.integers("hours_by")});
  }
  const json& openings = object.list("openings", false);
  for (std::size_t o = 0; o < openings.size(); ++o) {
    exchange.openings.push_back(read_opening(openings[o], at("openings", o), openings.size()));
  }
  const json& tasks = object.list("tasks", true);
  if (exchange.stages.empty() && !tasks.empty()) refuse("stages", "there must be at least one");
  for (std::size_t j = 0; j < tasks.size(); ++j) {
    exchange.tasks.push_back(read_task(tasks[j], at("tasks", j), exchange, tasks.size()));
  }
  return exchange;
}

}  // namespace fettlefund::exchange
