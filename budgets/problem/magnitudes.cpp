#include <algorithm>
#include <stdexcept>

#include "budgets/problem/check.hpp"

namespace fettlefund::budgets {
namespace {

/// A sum that stops growing once it is beyond every limit, so that it cannot overflow itself.
class Sum {
 public:
  void add(std::int64_t amount, std::int64_t times = 1) {
    add_wide(__extension__ static_cast<__int128>(amount) * times);
  }
  bool over(std::int64_t limit) const { return total_ > limit; }
  std::int64_t value() const { return total_; }

 private:
  __extension__ void add_wide(__int128 amount) {
    constexpr std::int64_t most = std::int64_t{1} << 61;
    total_ = amount > most - total_ ? most : total_ + static_cast<std::int64_t>(amount);
  }
  std::int64_t total_ = 0;
};

void check(const Sum& sum, std::int64_t limit, const char* what) {
  if (!sum.over(limit)) return;
  throw std::invalid_argument(std::string(what) + ": could sum to more than " + std::to_string(limit));
}

std::int64_t stages(const ProblemData& data) { return static_cast<std::int64_t>(data.stages.size()); }

/// The most of each article that a plan could need over all stages.
std::vector<Sum> most_needed(const ProblemData& data) {
  std::vector<Sum> needed(data.articles.size());
  for (const Job& job : data.jobs) {
    for (const Need& need : job.needs) needed[need.article].add(need.amount);
  }
  for (const Removal& removal : data.removals) {
    for (const Need& need : removal.one_use) needed[need.article].add(need.amount, stages(data));
  }
  return needed;
}

std::int64_t dearest(const std::vector<Offer>& offers) {
  std::int64_t price = 0;
  for (const Offer& offer : offers) price = std::max(price, offer.price.minor());
  return price;
}

/// Each stage buys at most one pack more than its share of the need.
void add_articles(const ProblemData& data, Sum& money) {
  const std::vector<Sum> needed = most_needed(data);
  Sum quantity;
  for (std::size_t a = 0; a < data.articles.size(); ++a) {
    const Article& article = data.articles[a];
    quantity.add(needed[a].value());
    quantity.add(article.pack, stages(data));
    for (const Lot& lot : article.on_hand) quantity.add(lot.amount);
    money.add(dearest(article.offers), needed[a].value() / article.pack + stages(data));
  }
  check(quantity, Limits::quantity, "articles");
}

void check_money_sums(const ProblemData& data) {
  Sum spent;
  for (const Job& job : data.jobs) spent.add(job.cost.minor());
  for (const Removal& removal : data.removals) spent.add(removal.cost.minor(), stages(data));
  for (const Supplier& supplier : data.suppliers) spent.add(supplier.delivery.minor(), stages(data));
  for (const Tool& tool : data.tools) {
    spent.add(dearest(tool.offers));
    if (tool.hire) spent.add(tool.hire->minor(), stages(data));
  }
  add_articles(data, spent);
  check(spent, Limits::money, "money spent");
  Sum held;
  held.add(std::abs(data.opening.minor()));
  for (const Stage& stage : data.stages) held.add(std::abs(stage.cash_in.minor()));
  check(held, Limits::money, "opening and cash_in");
}

}  // namespace

void check_magnitudes(const ProblemData& data) {
  check_money_sums(data);
  Sum worth;
  Sum minutes;
  Sum removal_minutes;
  for (const Job& job : data.jobs) {
    worth.add(*std::max_element(job.worth.begin(), job.worth.end()));
    minutes.add(job.minutes);
  }
  for (const Renewal& renewal : data.renewals) {
    for (const auto& one : renewal.worth) worth.add(*std::max_element(one.begin(), one.end()));
  }
  for (const Removal& removal : data.removals) removal_minutes.add(removal.minutes, stages(data));
  minutes.add(removal_minutes.value());
  check(minutes, Limits::minutes, "minutes");
  worth.add(data.bother, removal_minutes.value());
  check(worth, Limits::worth, "worth and bother");
}

}  // namespace fettlefund::budgets
