#include "budgets/problem/check.hpp"

#include <algorithm>
#include <stdexcept>

namespace fettlefund::budgets {
namespace {

/// Where a value stands, for messages: `jobs[3].needs[0].article`.
std::string at(const std::string& list, std::size_t index) {
  return list + "[" + std::to_string(index) + "]";
}

[[noreturn]] void refuse(const std::string& where, const std::string& why) {
  throw std::invalid_argument(where + ": " + why);
}

void check_range(const std::string& where, std::int64_t value, std::int64_t low, std::int64_t high) {
  if (value >= low && value <= high) return;
  if (high < low) refuse(where, std::to_string(value) + " names something in an empty list");
  refuse(where, std::to_string(value) + " is outside " + std::to_string(low) + " to " + std::to_string(high));
}

template <class List>
void check_index(const std::string& where, int value, const List& list) {
  check_range(where, value, 0, static_cast<std::int64_t>(list.size()) - 1);
}

template <class List>
void check_indices(const std::string& where, const std::vector<int>& values, const List& list) {
  for (std::size_t i = 0; i < values.size(); ++i) check_index(at(where, i), values[i], list);
}

void check_money(const std::string& where, Money amount) {
  check_range(where, amount.minor(), 0, Limits::money);
}

void check_date(const std::string& where, Date date) {
  check_range(where, date.days, -Limits::calendar, Limits::calendar);
}

void check_needs(const std::string& where, const std::vector<Need>& needs, const ProblemData& data) {
  for (std::size_t i = 0; i < needs.size(); ++i) {
    check_index(at(where, i) + ".article", needs[i].article, data.articles);
    check_range(at(where, i) + ".amount", needs[i].amount, 1, Limits::quantity);
  }
}

void check_any(const std::string& where, const std::vector<std::vector<int>>& sets, const ProblemData& data) {
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (sets[i].empty()) refuse(at(where, i), "is empty");
    check_indices(at(where, i), sets[i], data.tools);
  }
}

void check_marks(const std::string& where, const Stage& stage) {
  if (stage.last) check_date(where + ".last", *stage.last);
  if (stage.last && *stage.last < stage.bench) refuse(where + ".last", "is before the stage's bench date");
  for (std::size_t i = 0; i < stage.marks.size(); ++i) {
    const std::string here = at(where + ".marks", i);
    const Mark* before = i == 0 ? nullptr : &stage.marks[i - 1];
    check_range(here + ".minutes", stage.marks[i].minutes, before ? before->minutes + 1 : 0, stage.minutes);
    if (stage.marks[i].day < stage.bench) refuse(here + ".day", "is before the stage's bench date");
    if (stage.marks[i].day >= stage.last_day()) refuse(here + ".day", "is not before the stage's last day");
    if (before && stage.marks[i].day <= before->day) refuse(here + ".day", "is not after the day before");
  }
}

void check_stage(const std::string& where, const Stage& stage, const Stage* before) {
  check_date(where + ".payday", stage.payday);
  check_date(where + ".bench", stage.bench);
  check_range(where + ".cash_in", stage.cash_in.minor(), -Limits::money, Limits::money);
  check_range(where + ".floor", stage.floor.minor(), -Limits::money, Limits::money);
  check_range(where + ".minutes", stage.minutes, 0, Limits::minutes);
  if (stage.bench < stage.payday) refuse(where + ".bench", "is before the stage's payday");
  if (before && stage.payday <= before->payday) refuse(where + ".payday", "is not after the payday before");
  if (before && stage.payday <= before->bench) {
    refuse(where + ".payday", "is not after the bench date before");
  }
  if (before && stage.payday <= before->last_day()) {
    refuse(where + ".payday", "is not after the last day of bench time before");
  }
  check_marks(where, stage);
}

void check_worth(const std::string& where, const std::vector<std::int64_t>& worth, const ProblemData& data) {
  if (worth.size() != data.stages.size()) {
    refuse(where, "has " + std::to_string(worth.size()) + " entries for " +
                      std::to_string(data.stages.size()) + " stages");
  }
  for (std::size_t t = 0; t < worth.size(); ++t) check_range(at(where, t), worth[t], 0, Limits::worth);
}

void check_job(const std::string& where, const Job& job, const ProblemData& data) {
  const auto stages = static_cast<std::int64_t>(data.stages.size());
  check_worth(where + ".worth", job.worth, data);
  check_money(where + ".cost", job.cost);
  check_range(where + ".minutes", job.minutes, 0, Limits::minutes);
  check_indices(where + ".removals", job.removals, data.removals);
  check_indices(where + ".after", job.after, data.jobs);
  check_needs(where + ".needs", job.needs, data);
  check_indices(where + ".tools", job.tools, data.tools);
  check_any(where + ".any_tools", job.any_tools, data);
  check_range(where + ".earliest", job.earliest, 0, stages);
  check_range(where + ".latest", job.latest, -1, stages - 1);
  if (job.by) check_date(where + ".by", *job.by);
}

void check_removal(const std::string& where, const Removal& removal, const ProblemData& data) {
  check_money(where + ".cost", removal.cost);
  check_range(where + ".minutes", removal.minutes, 0, Limits::minutes);
  check_indices(where + ".needs", removal.needs, data.removals);
  check_needs(where + ".one_use", removal.one_use, data);
  check_indices(where + ".tools", removal.tools, data.tools);
  check_any(where + ".any_tools", removal.any_tools, data);
}

void check_supplier(const std::string& where, const Supplier& supplier) {
  check_money(where + ".delivery", supplier.delivery);
  if (supplier.free_from) check_money(where + ".free_from", *supplier.free_from);
}

void check_offers(const std::string& where, const std::vector<Offer>& offers, const ProblemData& data) {
  for (std::size_t i = 0; i < offers.size(); ++i) {
    const std::string here = at(where, i);
    check_index(here + ".supplier", offers[i].supplier, data.suppliers);
    check_money(here + ".price", offers[i].price);
    check_range(here + ".lead_days", offers[i].lead_days, 0, Limits::days);
    if (offers[i].from) check_date(here + ".from", *offers[i].from);
    if (offers[i].until) check_date(here + ".until", *offers[i].until);
  }
}

void check_article(const std::string& where, const Article& article, const ProblemData& data) {
  check_range(where + ".pack", article.pack, 1, Limits::quantity);
  if (article.keeping_days) check_range(where + ".keeping_days", *article.keeping_days, 0, Limits::days);
  for (std::size_t i = 0; i < article.on_hand.size(); ++i) {
    const std::string here = at(where + ".on_hand", i);
    check_range(here + ".amount", article.on_hand[i].amount, 1, Limits::quantity);
    if (article.on_hand[i].use_by) check_date(here + ".use_by", *article.on_hand[i].use_by);
    if (article.on_hand[i].from) check_date(here + ".from", *article.on_hand[i].from);
  }
  check_offers(where + ".offers", article.offers, data);
}

void check_tool(const std::string& where, const Tool& tool, const ProblemData& data) {
  if (!tool.free.empty() && tool.free.size() != data.stages.size()) {
    refuse(where + ".free", "has " + std::to_string(tool.free.size()) + " entries for " +
                                std::to_string(data.stages.size()) + " stages");
  }
  check_offers(where + ".offers", tool.offers, data);
  if (tool.hire) check_money(where + ".hire", *tool.hire);
}

void check_clash(const std::string& where, const Clash& clash, const ProblemData& data) {
  check_index(where + ".a", clash.a, data.carriers);
  check_index(where + ".b", clash.b, data.carriers);
  if (clash.a == clash.b) refuse(where + ".b", "is the same carrier as a");
  check_indices(where + ".adapted_by", clash.adapted_by, data.jobs);
}

void check_carrier(const std::string& where, const Carrier& carrier, const ProblemData& data) {
  if (carrier.brought_by != -1) check_index(where + ".brought_by", carrier.brought_by, data.jobs);
  check_indices(where + ".replaced_by", carrier.replaced_by, data.jobs);
}

void check_groups(const std::string& where, const std::vector<std::vector<int>>& groups,
                  const ProblemData& data) {
  for (std::size_t g = 0; g < groups.size(); ++g) {
    check_indices(at(where, g), groups[g], data.jobs);
    std::vector<int> sorted = groups[g];
    std::sort(sorted.begin(), sorted.end());
    const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
    if (twice != sorted.end()) refuse(at(where, g), "job " + std::to_string(*twice) + " is listed twice");
  }
}

void check_renewal(const std::string& where, const Renewal& renewal, const ProblemData& data) {
  check_groups(where + ".jobs", {renewal.jobs}, data);
  if (renewal.worth.size() != renewal.jobs.size()) refuse(where + ".worth", "has not one entry a job");
  for (std::size_t i = 0; i < renewal.worth.size(); ++i)
    check_worth(at(where + ".worth", i), renewal.worth[i], data);
}

template <class Item, class Check>
void check_each(const std::string& name, const std::vector<Item>& items, Check check) {
  for (std::size_t i = 0; i < items.size(); ++i) check(at(name, i), items[i]);
}

void check_stages(const ProblemData& data) {
  if (data.stages.empty()) refuse("stages", "there must be at least one");
  for (std::size_t i = 0; i < data.stages.size(); ++i) {
    check_stage(at("stages", i), data.stages[i], i == 0 ? nullptr : &data.stages[i - 1]);
  }
}

}  // namespace

void check_fields(const ProblemData& data) {
  using std::string;
  check_range("opening", data.opening.minor(), -Limits::money, Limits::money);
  check_range("allowance_bp", data.allowance_bp, 0, 10000);
  check_range("bother", data.bother, 0, Limits::worth);
  check_stages(data);
  check_each("jobs", data.jobs, [&](const string& w, const Job& x) { check_job(w, x, data); });
  check_each("removals", data.removals,
             [&](const string& w, const Removal& x) { check_removal(w, x, data); });
  check_each("suppliers", data.suppliers, check_supplier);
  check_each("articles", data.articles,
             [&](const string& w, const Article& x) { check_article(w, x, data); });
  check_each("tools", data.tools, [&](const string& w, const Tool& x) { check_tool(w, x, data); });
  check_each("carriers", data.carriers,
             [&](const string& w, const Carrier& x) { check_carrier(w, x, data); });
  check_each("clashes", data.clashes, [&](const string& w, const Clash& x) { check_clash(w, x, data); });
  check_groups("one_of", data.one_of, data);
  check_groups("together", data.together, data);
  check_each("renewals", data.renewals,
             [&](const string& w, const Renewal& x) { check_renewal(w, x, data); });
}

}  // namespace fettlefund::budgets
