#include "tests/budgets/support/renamed.hpp"

#include <numeric>

namespace fettlefund::testing {
namespace {

using namespace budgets;

/// New places for a list, and the list so ordered.
class Order {
 public:
  Order(std::size_t count, Random& random, bool moves = true) : to_(count) {
    std::iota(to_.begin(), to_.end(), 0);
    if (moves) random.shuffle(to_);
  }

  const std::vector<int>& to() const { return to_; }
  int operator()(int index) const { return to_[index]; }

  template <class Item>
  void arrange(std::vector<Item>& items) const {
    std::vector<Item> result(items.size());
    for (std::size_t i = 0; i < items.size(); ++i) result[to_[i]] = std::move(items[i]);
    items = std::move(result);
  }

 private:
  std::vector<int> to_;
};

class Renamer {
 public:
  /// `all`: also what has no rank.
  Renamer(const ProblemData& data, Random& random, bool all)
      : data_(data),
        random_(random),
        all_(all),
        jobs_(data.jobs.size(), random),
        removals_(data.removals.size(), random),
        suppliers_(data.suppliers.size(), random),
        articles_(data.articles.size(), random, all),
        tools_(data.tools.size(), random, all),
        carriers_(data.carriers.size(), random, all) {}

  Renamed make();

 private:
  void rename(std::vector<int>& indices, const Order& order) {
    for (int& i : indices) i = order(i);
    random_.shuffle(indices);
  }
  void rename(std::vector<Need>& needs) {
    for (Need& need : needs) need.article = articles_(need.article);
    random_.shuffle(needs);
  }
  void rename(std::vector<Offer>& offers) {
    for (Offer& offer : offers) offer.supplier = suppliers_(offer.supplier);
    if (all_) random_.shuffle(offers);
  }
  void rename_work();
  void rename_goods();
  void rename_fit();
  void rename_groups(std::vector<std::vector<int>>& groups) {
    for (auto& group : groups) rename(group, jobs_);
    random_.shuffle(groups);
  }

  ProblemData data_;
  Random& random_;
  bool all_;
  Order jobs_, removals_, suppliers_, articles_, tools_, carriers_;
};

void Renamer::rename_work() {
  for (Job& job : data_.jobs) {
    rename(job.after, jobs_);
    rename(job.removals, removals_);
    rename(job.tools, tools_);
    for (auto& set : job.any_tools) rename(set, tools_);
    rename(job.needs);
  }
  for (Removal& removal : data_.removals) {
    rename(removal.needs, removals_);
    rename(removal.tools, tools_);
    for (auto& set : removal.any_tools) rename(set, tools_);
    rename(removal.one_use);
  }
  jobs_.arrange(data_.jobs);
  removals_.arrange(data_.removals);
}

void Renamer::rename_goods() {
  for (Article& article : data_.articles) {
    rename(article.offers);
    if (all_) random_.shuffle(article.on_hand);
  }
  for (Tool& tool : data_.tools) rename(tool.offers);
  suppliers_.arrange(data_.suppliers);
  articles_.arrange(data_.articles);
  tools_.arrange(data_.tools);
}

void Renamer::rename_fit() {
  for (Carrier& carrier : data_.carriers) {
    if (carrier.brought_by >= 0) carrier.brought_by = jobs_(carrier.brought_by);
    rename(carrier.replaced_by, jobs_);
    random_.shuffle(carrier.mates);
  }
  for (Clash& clash : data_.clashes) {
    clash.a = carriers_(clash.a);
    clash.b = carriers_(clash.b);
    rename(clash.adapted_by, jobs_);
  }
  carriers_.arrange(data_.carriers);
  random_.shuffle(data_.clashes);
}

Renamed Renamer::make() {
  rename_work();
  rename_goods();
  rename_fit();
  rename_groups(data_.one_of);
  rename_groups(data_.together);
  for (Renewal& renewal : data_.renewals) {
    for (int& job : renewal.jobs) job = jobs_(job);
  }
  random_.shuffle(data_.renewals);
  return {std::move(data_), jobs_.to(), removals_.to(), suppliers_.to()};
}

}  // namespace

Renamed renamed(const ProblemData& data, Random& random) { return Renamer(data, random, true).make(); }

Renamed relisted(const ProblemData& data, Random& random) {
  Renamed relisted = Renamer(data, random, false).make();
  const auto rank = [](auto& entries, const std::vector<int>& to) {
    for (std::size_t i = 0; i < to.size(); ++i) entries[to[i]].rank = static_cast<int>(i);
  };
  rank(relisted.data.jobs, relisted.job_to);
  rank(relisted.data.removals, relisted.removal_to);
  rank(relisted.data.suppliers, relisted.supplier_to);
  return relisted;
}

}  // namespace fettlefund::testing
