#include "lib/log/matter.hpp"

namespace fettlefund::log {
namespace {

/// The part of a key that names the thing: "tyre" of "tyre@2", "delivery:shop" of "delivery:shop@2".
std::string_view thing_of(std::string_view key) { return key.substr(0, key.find('@')); }

/// Whether two lines of two people may speak of one happening.
struct OneMatter {
  const Entry &a, &b;

  bool one_day() const { return a.date == b.date; }

  template <class A, class B>
  bool operator()(const A&, const B&) const {
    return false;
  }
  bool operator()(const Bought& one, const Bought& other) const {
    if (one.key == other.key) return true;
    return thing_of(one.key) == thing_of(other.key) &&
           (one_day() || (one.packs == other.packs && one.paid == other.paid));
  }
  bool operator()(const Paid& one, const Paid& other) const { return one.key == other.key; }
  bool operator()(const Balance& one, const Balance& other) const { return one.key == other.key; }
  bool operator()(const Arrives& one, const Arrives& other) const { return one.key == other.key; }
  bool operator()(const Fitted& one, const Fitted& other) const { return one.job == other.job; }
  bool operator()(const GivenUp& one, const GivenUp& other) const { return one.job == other.job; }
  bool operator()(const Fitted& one, const GivenUp& other) const { return one.job == other.job; }
  bool operator()(const GivenUp& one, const Fitted& other) const { return one.job == other.job; }
  bool operator()(const Begun& one, const GivenUp& other) const { return one.job == other.job; }
  bool operator()(const GivenUp& one, const Begun& other) const { return one.job == other.job; }
  bool operator()(const Begun& one, const Begun& other) const { return one.job == other.job && one_day(); }
  bool operator()(const Counted&, const Counted&) const { return one_day(); }
  bool operator()(const AgreedPlan&, const AgreedPlan&) const { return one_day(); }
  bool operator()(const Gone& one, const Gone& other) const {
    return one.article == other.article && one_day();
  }
  bool operator()(const Moved& one, const Moved& other) const {
    return one.amount == other.amount && one_day();
  }
};

}  // namespace

std::string key_of(const Event& event) {
  if (const auto* one = std::get_if<Bought>(&event)) return one->key;
  if (const auto* one = std::get_if<Paid>(&event)) return one->key;
  if (const auto* one = std::get_if<Balance>(&event)) return one->key;
  if (const auto* one = std::get_if<Arrives>(&event)) return one->key;
  return {};
}

std::string subject_of(const Entry& entry) {
  const Event& event = entry.event;
  const std::string key = key_of(event);
  if (!key.empty()) return "thing:" + std::string(thing_of(key));
  if (const auto* one = std::get_if<Fitted>(&event)) return "job:" + one->job;
  if (const auto* one = std::get_if<Begun>(&event)) return "job:" + one->job;
  if (const auto* one = std::get_if<GivenUp>(&event)) return "job:" + one->job;
  if (const auto* one = std::get_if<Gone>(&event)) return "gone:" + one->article;
  return std::string(kind_of(event)) + ":" + budgets::write_date(entry.date);
}

bool one_matter(const Entry& a, const Entry& b) { return std::visit(OneMatter{a, b}, a.event, b.event); }

bool may_repeat(const Event& event) {
  return std::holds_alternative<Moved>(event) || std::holds_alternative<Gone>(event) ||
         std::holds_alternative<Begun>(event);
}

}  // namespace fettlefund::log
