#include <algorithm>
#include <map>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

struct Lot {
  Quantity amount = 0;
  std::optional<Date> use_by;
  bool opened = false;
};

/// What is in the house of one article, from stage to stage.
class Shelf {
 public:
  Shelf(const View& view, int article) : view_(view), article_(article) {
    for (const budgets::Lot& lot : view.problem.data().articles[index()].on_hand) {
      lots_.push_back({lot.amount, lot.use_by, lot.use_by.has_value()});
    }
  }

  /// What is usable on the bench date before anything is bought for the stage.
  Quantity there(int stage) const {
    Quantity sum = 0;
    for (const Lot& lot : lots_) sum += usable(lot, stage) ? lot.amount : 0;
    return sum;
  }

  void add_packs(std::int64_t packs) { lots_.push_back({packs * pack(), std::nullopt, false}); }

  /// Takes what a stage uses and returns what is left for later.
  Quantity use(int stage, Quantity amount) {
    std::stable_sort(lots_.begin(), lots_.end(), [](const Lot& a, const Lot& b) {
      return a.use_by.value_or(Date{INT32_MAX}) < b.use_by.value_or(Date{INT32_MAX});
    });
    std::vector<Lot> opened;
    for (Lot& lot : lots_) {
      if (!usable(lot, stage)) continue;
      const Quantity taken = std::min(lot.amount, amount);
      amount -= taken;
      lot.amount -= taken;
      if (taken > 0) open(lot, stage, opened);
    }
    lots_.insert(lots_.end(), opened.begin(), opened.end());
    return there(stage);
  }

 private:
  std::size_t index() const { return static_cast<std::size_t>(article_); }
  Quantity pack() const { return view_.article(article_).pack; }
  bool usable(const Lot& lot, int stage) const {
    return lot.amount > 0 && (!lot.use_by || *lot.use_by >= view_.stage(stage).last_day());
  }

  /// The rest of a pack that was just opened keeps from now on.
  void open(Lot& lot, int stage, std::vector<Lot>& opened) const {
    const auto& keeps = view_.article(article_).keeps_days;
    if (lot.opened || !keeps) return;
    const Quantity rest = lot.amount % pack();
    lot.amount -= rest;
    if (rest > 0) opened.push_back({rest, view_.stage(stage).bench + *keeps, true});
  }

  const View& view_;
  int article_;
  std::vector<Lot> lots_;
};

class ArticleUsers {
 public:
  ArticleUsers(const View& view, int stage, int article)
      : index_(view.staging.article_of[std::size_t(article)]) {
    for (const int j : view.cost(stage).jobs) {
      add(view.job(j), false, view.staging.demands.jobs[static_cast<std::size_t>(j)]);
    }
    for (const int r : view.cost(stage).opened) {
      add(view.removal(r), true, view.staging.demands.removals[static_cast<std::size_t>(r)]);
    }
  }

  Quantity amount = 0;
  std::vector<NeededBy> all;

 private:
  template <class Entry>
  void add(const Entry& entry, bool removal, const Demand& demand) {
    for (const ArticleDemand& line : demand.articles) {
      if (line.article != index_) continue;
      amount += line.amount;
      all.push_back({entry.id, entry.name, removal});
    }
  }

  int index_;
};

std::string order_text(const View& view, const budgets::Order& order, const budgets::OrderLine& line,
                       int article) {
  const budgets::Offer& offer = view.problem.data()
                                    .articles[static_cast<std::size_t>(article)]
                                    .offers[static_cast<std::size_t>(line.offer)];
  const std::string supplier = view.build.suppliers[static_cast<std::size_t>(order.supplier)].name;
  const std::string arrives = budgets::write_date(view.stage(order.stage).payday + offer.lead_days);
  if (order.stage == line.for_stage) return fmt::format("{}, arrives {}", supplier, arrives);
  return fmt::format("{}, ordered in stage {}, arrives {}", supplier, view.place_of(order.stage) + 1,
                     arrives);
}

UsedLine line_of(const View& view, int stage, int article, const ArticleUsers& users, Shelf& shelf) {
  const build::Article& named = view.article(article);
  UsedLine line{named.id, named.name, named.unit, users.amount, 0, {}, users.all};
  if (shelf.there(stage) > 0) line.from.push_back(from_the_house);
  for (const budgets::Order& order : view.plan.orders) {
    for (const budgets::OrderLine& bought : order.lines) {
      if (bought.article != article || bought.for_stage != stage) continue;
      shelf.add_packs(bought.packs);
      line.from.push_back(order_text(view, order, bought, article));
    }
  }
  line.left = shelf.use(stage, users.amount);
  return line;
}

}  // namespace

std::vector<std::vector<UsedLine>> used_in_stages(const View& view) {
  std::vector<std::vector<UsedLine>> used(static_cast<std::size_t>(view.problem.stage_count()));
  for (const int article : in_file_order(view.staging.article_of)) {
    Shelf shelf(view, article);
    for (int stage = 0; stage < view.problem.stage_count(); ++stage) {
      const ArticleUsers users(view, stage, article);
      if (users.amount == 0) continue;
      used[static_cast<std::size_t>(stage)].push_back(line_of(view, stage, article, users, shelf));
    }
  }
  return used;
}

}  // namespace fettlefund::planning
