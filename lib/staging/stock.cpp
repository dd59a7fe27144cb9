#include "lib/staging/stock.hpp"

#include <algorithm>
#include <set>

#include "lib/goods/packs.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Quantity;

class Store {
 public:
  Store(const build::Build& build, Date day)
      : build_(build), day_(day), articles_(build.articles), lots_(build.articles.size()) {
    for (const build::OnHand& lot : build.on_hand) {
      if (const int a = articles_.find(lot.article); a >= 0) lots(a).push_back(lot);
    }
  }

  void add(const Bought& bought) {
    const int a = bought.what.kind == ShoppingKey::Kind::article ? articles_.find(bought.what.id) : -1;
    if (a < 0) return;
    if (bought.packs < 1) return;  // gone since
    const bool tool = article(a).kind == build::ArticleKind::tool;
    build::OnHand lot{bought.what.id, tool ? 1000 : bought.packs * article(a).pack, {}};
    if (bought.arrives > day_) lot.arrives = bought.arrives;
    lots(a).push_back(lot);
  }

  /// Of what was on hand at the start: a tool, or whole packs of anything else.
  void lose(const GoneFromStock& gone) {
    const int a = articles_.find(gone.article);
    if (a < 0) return;
    const bool tool = article(a).kind == build::ArticleKind::tool;
    Quantity amount = gone.packs * (tool ? 1000 : article(a).pack);
    for (build::OnHand& lot : lots(a)) {
      const Quantity taken = std::min(lot.amount, amount);
      lot.amount -= taken;
      amount -= taken;
    }
  }

  /// Uses up what a job or removal needs; what is not there goes to `lacking`.
  void use(const Demand& demand, Date day, std::vector<Quantity>& lacking) {
    for (const ArticleDemand& line : demand.articles) {
      lacking[static_cast<std::size_t>(line.article)] += take(line.article, line.amount, day);
    }
  }

  std::vector<build::OnHand> take_all() {
    std::vector<build::OnHand> all;
    for (const bool tools : {true, false}) {
      for (std::size_t a = 0; a < lots_.size(); ++a) {
        if ((build_.articles[a].kind == build::ArticleKind::tool) != tools) continue;
        for (const build::OnHand& lot : lots_[a]) {
          if (lot.amount > 0) all.push_back(lot);
        }
      }
    }
    return all;
  }

 private:
  const build::Article& article(int a) const { return build_.articles[static_cast<std::size_t>(a)]; }
  std::vector<build::OnHand>& lots(int a) { return lots_[static_cast<std::size_t>(a)]; }

  Date last_day(int a, const build::OnHand& lot) const {
    const auto& keeps = article(a).keeps_days;
    return lot.opened && keeps ? *lot.opened + *keeps : Date{INT32_MAX};
  }

  Quantity take(int a, Quantity amount, Date day) {
    std::vector<build::OnHand>& all = lots(a);
    std::stable_sort(all.begin(), all.end(),
                     [&](const auto& x, const auto& y) { return last_day(a, x) < last_day(a, y); });
    const std::size_t count = all.size();
    for (std::size_t i = 0; i < count && amount > 0; ++i) {
      if (last_day(a, all[i]) < day) continue;
      const Quantity taken = std::min(all[i].amount, amount);
      amount -= taken;
      take_from(a, i, taken, day);
    }
    return amount;
  }

  void take_from(int a, std::size_t index, Quantity taken, Date day) {
    build::OnHand& lot = lots(a)[index];
    lot.arrives.reset();  // what is used has arrived
    lot.amount -= taken;
    if (lot.opened) return;
    const Quantity open = lot.amount % article(a).pack;
    lot.amount -= open;
    if (open > 0) lots(a).push_back({article(a).id, open, day});
  }

  const build::Build& build_;
  Date day_;
  IdTable articles_;
  std::vector<std::vector<build::OnHand>> lots_;
};

void open(const build::Build& build, const IdTable& removals, const std::vector<build::Id>& ids,
          std::set<int>& opened) {
  for (const int r : removals.find_all(ids)) {
    if (opened.insert(r).second) {
      open(build, removals, build.removals[static_cast<std::size_t>(r)].needs, opened);
    }
  }
}

}  // namespace

std::vector<int> opened_by(const build::Build& build, const build::Job& job) {
  std::set<int> opened;
  open(build, IdTable(build.removals), job.removals, opened);
  return {opened.begin(), opened.end()};
}

Stock stock_on(const build::Build& build, const History& history, Date day) {
  Store store(build, day);
  for (const Bought& bought : history.bought) store.add(bought);
  for (const GoneFromStock& gone : history.gone) store.lose(gone);
  const Demands demands = demands_of(build);
  std::vector<Quantity> lacking(build.articles.size(), 0);
  std::set<std::pair<Date, int>> opened;
  for (const Done& done : history.done) {
    const int j = find_id(build.jobs, done.job);
    if (j < 0) continue;
    store.use(demands.jobs[static_cast<std::size_t>(j)], done.date, lacking);
    for (const int r : opened_by(build, build.jobs[static_cast<std::size_t>(j)])) {
      if (!opened.insert({done.date, r}).second) continue;
      store.use(demands.removals[static_cast<std::size_t>(r)], done.date, lacking);
    }
  }
  Stock stock{store.take_all(), {}};
  for (std::size_t a = 0; a < lacking.size(); ++a) {
    if (lacking[a] == 0) continue;
    const build::Article& article = build.articles[a];
    stock.notes.push_back("Used without having been recorded as bought: " +
                          goods::write_amount(lacking[a], article.unit) + " of " + article.name + ".");
  }
  return stock;
}

}  // namespace fettlefund::planning
