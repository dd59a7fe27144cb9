#include "tests/fuzz/mutation.hpp"

#include <set>

#include "tests/budgets/support/random.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::test {
namespace {

using Json = nlohmann::ordered_json;
using Pointer = Json::json_pointer;

Json parsed(const std::string& text) { return Json::parse(text, nullptr, true, true); }

class Mutator {
  template <class List>
  const typename List::value_type& any(const List& list) {
    return list[static_cast<std::size_t>(random_.below(static_cast<int>(list.size())))];
  }

 public:
  Mutator(const std::vector<std::string>& builds, std::uint64_t seed) : random_(seed), builds_(builds) {
    build_ = parsed(any(builds));
  }

  std::string make() {
    for (int n = random_.between(1, 3); n > 0; --n) change();
    return build_.dump(1, ' ', false, Json::error_handler_t::replace);
  }

 private:
  /// Pointers to what holds, or does not hold, further values.
  std::vector<Pointer> places(bool holders) {
    std::vector<Pointer> found;
    collect(build_, Pointer(), holders, found);
    return found;
  }

  static void collect(const Json& json, const Pointer& at, bool holders, std::vector<Pointer>& found) {
    if (json.is_structured() == holders && !at.empty()) found.push_back(at);
    if (json.is_object())
      for (const auto& [key, value] : json.items()) collect(value, at / key, holders, found);
    if (json.is_array())
      for (std::size_t i = 0; i < json.size(); ++i) collect(json[i], at / i, holders, found);
  }

  void change() {
    const int kind = random_.below(100);
    if (kind < 55) return change_value();
    if (kind < 65) return drop();
    if (kind < 80) return copy_key();
    if (kind < 90) return double_entry();
    borrow();
  }

  /// The key under which a value stands, be it in a list: "after" of "/jobs/a/after/0".
  static std::string key_of(Pointer at) {
    while (!at.empty() && at.back().find_first_not_of("0123456789") == std::string::npos) at.pop_back();
    return at.empty() ? "" : at.back();
  }

  void change_value() {
    const auto found = places(false);
    if (found.empty()) return;
    const Pointer at = any(found);
    Json& value = build_[at];
    if (value.is_number()) {
      value = number(value);
    } else if (value.is_boolean()) {
      value = !value.get<bool>();
    } else if (value.is_string()) {
      value = text(value.get<std::string>(), key_of(at), found);
    }
  }

  Json number(const Json& old) {
    static const std::vector<double> odd = {0.25, 0.05, 2.5, 99.95, 1.1};
    static const std::vector<int> plain = {0, 1, 2, 3, 7, 12, 60, 365, 1000, 100000};
    switch (random_.below(5)) {
      case 0:
        return any(odd);
      case 1:
        return any(plain);
      case 2:
        return old.is_number_integer() ? Json(old.get<std::int64_t>() + 1) : Json(old.get<double>() + 1);
      case 3:
        return old.is_number_integer() ? Json(old.get<std::int64_t>() * 2) : Json(old.get<double>() * 2);
      default:
        return random_.below(10);
    }
  }

  /// For people: anything. Else another value that stands under such a key: an id, a day, a torque.
  Json text(const std::string& old, const std::string& key, const std::vector<Pointer>& found) {
    static const std::set<std::string> free = {"name",   "about",  "what",  "why",    "do",      "source",
                                               "target", "limits", "note",  "manual", "because", "cautions",
                                               "unit",   "tags",   "sizes", "off",    "on",      "steps"};
    static const std::vector<std::string> odd = {
        "=1+1",
        "_x0041_",
        " x ",
        "<b>&\"'",
        "\xF0\x9F\x98\x80\xF0\x9F\x91\xA8\xE2\x80\x8D\xF0\x9F\x91\xA9",
        "\xCC\x81",
        "-5",
        "2027-03-31",
        "Key",
        "|cmd",
        "\xEF\xBF\xBE",
        "\xE2\x80\xAE"
        "abc",
        "a\nb",
        "\tx",
        "85 Nm",
        "0"};
    if (free.contains(key)) {
      if (random_.chance(50)) return any(odd);
      return old + std::string(static_cast<std::size_t>(random_.between(1, 300)), 'm');
    }
    std::vector<std::string> others;
    for (const Pointer& at : found) {
      if (key_of(at) == key && build_[at].is_string()) others.push_back(build_[at].get<std::string>());
    }
    return random_.chance(5) || others.empty() ? any(odd) : any(others);
  }

  void drop() {
    const auto found = places(random_.chance(50));
    if (found.empty()) return;
    const Pointer at = any(found);
    Json& parent = build_[at.parent_pointer()];
    if (parent.is_array()) {
      parent.erase(static_cast<std::size_t>(std::stoul(at.back())));
    } else {
      parent.erase(at.back());
    }
  }

  /// Another holder of the same shape: "/jobs/a" and "/jobs/b".
  void copy_key() {
    const auto found = places(true);
    if (found.empty()) return;
    const Pointer from = any(found);
    const Json& parent = build_[from.parent_pointer()];
    if (!parent.is_object() || parent.size() < 2 || !build_[from].is_object() || build_[from].empty()) return;
    const Json entry = build_[from];
    const auto which = static_cast<std::size_t>(random_.below(static_cast<int>(entry.size())));
    const auto key = std::next(entry.begin(), static_cast<long>(which));
    const auto to = static_cast<std::size_t>(random_.below(static_cast<int>(parent.size())));
    const std::string name = std::next(parent.begin(), static_cast<long>(to)).key();
    Json& other = build_[from.parent_pointer() / name];
    if (other.is_object()) other[key.key()] = key.value();
  }

  /// A second entry like the first, under a new id where ids name them; or one list entry twice.
  void double_entry() {
    const auto found = places(true);
    if (found.empty()) return;
    const Pointer at = any(found);
    const Json entry = build_[at];
    Json& parent = build_[at.parent_pointer()];
    if (parent.is_array()) {
      parent.push_back(entry);
    } else if (at.parent_pointer().parent_pointer().empty() && !at.parent_pointer().empty()) {
      parent["other-" + std::to_string(random_.below(9))] = entry;
    }
  }

  /// An entry of another build, which mostly names things that are not here: what it lacks is let out.
  void borrow() {
    const Json other = parsed(any(builds_));
    static const std::vector<std::string> rooms = {"jobs", "removals", "articles", "fitted"};
    const std::string room = any(rooms);
    if (!other.contains(room) || !build_.contains(room) || other[room].empty()) return;
    const auto which = static_cast<long>(random_.below(static_cast<int>(other[room].size())));
    const auto entry = std::next(other[room].begin(), which);
    Json taken = entry.value();
    for (const char* key :
         {"removals", "after", "with", "uses", "tools", "needs", "one_use", "offers", "replaced_by",
          "reached_by", "takes_off", "puts_on", "for", "steps", "off", "on", "torques"})
      taken.erase(key);
    build_[room][entry.key()] = taken;
  }

  testing::Random random_;
  const std::vector<std::string>& builds_;
  Json build_;
};

}  // namespace

std::string mutated(const std::vector<std::string>& builds, std::uint64_t seed) {
  return Mutator(builds, seed).make();
}

}  // namespace fettlefund::test
