#include "tests/lib/staging/random_build.hpp"

#include <algorithm>
#include <string>

#include "tests/budgets/support/random.hpp"

namespace fettlefund::test {
namespace {

using budgets::Date;
using budgets::Money;

Money minor(int amount) { return Money::of_minor(amount); }
std::string nm(int value) { return std::to_string(value) + " Nm"; }

class Maker {
 public:
  explicit Maker(std::uint64_t seed) : random_(seed) {}

  build::Build make() {
    build_.file = build_.name = "invented";
    build_.currency = *budgets::find_currency("EUR");
    make_money();
    make_bench();
    make_suppliers();
    make_goods();
    make_tools();
    make_removals();
    make_jobs();
    make_groups();
    make_fitted();
    make_clashes();
    return std::move(build_);
  }

 private:
  std::string id(const char* kind, std::size_t index) { return kind + std::to_string(index); }
  std::string a_or_b(int percent_a) { return std::string(1, random_.chance(percent_a) ? 'a' : 'b'); }
  Date some_payday() { return days_[static_cast<std::size_t>(random_.below(build_.money.stages))]; }
  Date near_payday() {
    const Date day = some_payday();
    return day + random_.between(-6, 20);
  }

  void make_money();
  void make_bench();
  void make_suppliers();
  void make_goods();
  void make_tools();
  void make_wrenches();
  void make_removals();
  void make_jobs();
  void make_job(std::size_t j);
  void make_groups();
  void make_fitted();
  void make_clashes();
  std::vector<build::Offer> offers(int least, int most, int dearest);
  std::vector<build::Use> uses(int most, int percent);
  std::vector<build::Id> tools_used(int percent);
  std::vector<build::Torque> torques(int percent);
  template <class Entry>
  Entry& add(std::vector<Entry>& list, const char* kind) {
    Entry& entry = list.emplace_back();
    entry.id = id(kind, list.size());
    entry.name = entry.id;
    return entry;
  }
  template <class Entry>
  build::Id any(const std::vector<Entry>& list) {
    return list[static_cast<std::size_t>(random_.below(static_cast<int>(list.size())))].id;
  }

  testing::Random random_;
  build::Build build_;
  std::vector<Date> days_;
  std::size_t goods_ = 0;               ///< articles before this index are goods, the rest are tools
  std::vector<build::Id> plain_tools_;  ///< tools that are no torque wrenches
};

void Maker::make_money() {
  build::MoneyPlan& money = build_.money;
  money.stages = random_.between(2, 3);
  Date day = budgets::make_date(2027, 1, 4) + random_.below(300);
  const int count = money.stages + (random_.chance(70) ? 1 : 0);
  for (int t = 0; t < count; ++t, day = day + random_.between(20, 40)) days_.push_back(day);
  money.rule = budgets::ListedDays{days_};
  money.opening = minor(random_.between(0, 40));
  money.amount = minor(random_.between(10, 45));
  if (random_.chance(50)) money.keep_back = minor(random_.below(20));
  if (random_.chance(40)) money.allowance_bp = random_.between(1, 1500);
  for (int n = random_.chance(40) ? random_.between(1, 3) : 0; n > 0; --n) {
    const Date when = near_payday();
    money.extras.push_back({when, minor(random_.between(-12, 15)), "extra"});
  }
}

void Maker::make_bench() {
  build_.bench.minutes = random_.between(25, 90);
  build_.bench.days_after_payday = random_.between(0, 12);
  build_.bench.bother = random_.chance(50) ? 0 : random_.between(1, 60);
  if (!random_.chance(25)) return;
  const int stage = random_.between(1, build_.money.stages);
  build_.bench.exceptions.push_back({stage, random_.between(0, 60), "short"});
}

void Maker::make_suppliers() {
  const bool free = random_.chance(50);
  for (int n = random_.between(1, 2); n > 0; --n) {
    build::Supplier& supplier = add(build_.suppliers, "shop");
    supplier.delivery = minor(random_.chance(30) ? 0 : random_.between(1, 6));
    if (free) supplier.free_from = minor(random_.between(1, 30));
  }
}

std::vector<build::Offer> Maker::offers(int least, int most, int dearest) {
  std::vector<build::Offer> result;
  for (int n = random_.between(least, most); n > 0; --n) {
    build::Offer& offer = result.emplace_back();
    offer.supplier = any(build_.suppliers);
    const Money price = minor(random_.between(1, dearest));
    offer.price = {price, price, price};
    offer.lead_days = random_.chance(60) ? 0 : random_.between(1, 40);
    if (random_.chance(12)) offer.from = near_payday();
    if (random_.chance(12)) offer.until = near_payday();
    if (offer.from && offer.until && *offer.until < *offer.from) offer.until.reset();
  }
  return result;
}

void Maker::make_goods() {
  const budgets::Quantity packs[] = {1000, 1000, 500, 2500, 4000};
  for (int n = random_.between(1, 4); n > 0; --n) {
    build::Article& article = add(build_.articles, "article");
    article.kind = random_.chance(50) ? build::ArticleKind::part : build::ArticleKind::consumable;
    article.pack = packs[random_.below(5)];
    if (random_.chance(35)) article.keeps_days = random_.between(0, 60);
    article.offers = offers(1, 2, 12);
    if (random_.chance(15)) article.mates["size"] = a_or_b(50);
    if (!random_.chance(30)) continue;
    build::OnHand lot{article.id, random_.between(1, 6) * 500, {}};
    if (random_.chance(50)) lot.opened = days_.front() + random_.between(-40, 0);
    build_.on_hand.push_back(lot);
  }
  goods_ = build_.articles.size();
}

void Maker::make_tools() {
  for (int n = random_.chance(40) ? 0 : random_.between(1, 2); n > 0; --n) {
    build::Article& tool = add(build_.articles, "tool");
    tool.kind = build::ArticleKind::tool;
    plain_tools_.push_back(tool.id);
    if (random_.chance(70)) tool.offers = offers(1, 2, 9);
    if (random_.chance(60)) tool.hire = minor(random_.below(6));
    if (random_.chance(25)) {
      const Date from = near_payday();
      tool.borrow.push_back({from, from + random_.below(40)});
    }
    if ((tool.offers.empty() && !tool.hire) || random_.chance(10))
      build_.on_hand.push_back({tool.id, 1000, {}});
  }
  if (random_.chance(40)) make_wrenches();
}

void Maker::make_wrenches() {
  for (int n = random_.between(1, 3); n > 0; --n) {
    build::Article& wrench = add(build_.articles, "wrench");
    wrench.kind = build::ArticleKind::tool;
    const int highest = random_.between(4, 12) * 10;
    if (random_.chance(60)) wrench.range_from = nm(random_.between(1, 3) * 10);
    wrench.range_to = nm(highest);
    if (random_.chance(70)) wrench.offers = offers(1, 1, 9);
    if (random_.chance(50)) wrench.hire = minor(random_.below(5));
    if (random_.chance(25)) build_.on_hand.push_back({wrench.id, 1000, {}});
  }
}

std::vector<build::Use> Maker::uses(int most, int percent) {
  std::vector<build::Use> result;
  for (std::size_t a = 0; a < goods_ && static_cast<int>(result.size()) < most; ++a) {
    if (random_.chance(percent)) result.push_back({build_.articles[a].id, random_.between(1, 6) * 500});
  }
  return result;
}

std::vector<build::Id> Maker::tools_used(int percent) {
  std::vector<build::Id> result;
  for (const build::Id& tool : plain_tools_) {
    if (random_.chance(percent)) result.push_back(tool);
  }
  return result;
}

std::vector<build::Torque> Maker::torques(int percent) {
  if (goods_ + plain_tools_.size() == build_.articles.size() || !random_.chance(percent)) return {};
  build::Torque torque;
  torque.on = "nut";
  torque.value = nm(random_.between(1, 12) * 10);
  torque.source = "invented";
  return {torque};
}

void Maker::make_removals() {
  const int count = random_.below(4);
  for (int r = 0; r < count; ++r) {
    build::Removal& removal = add(build_.removals, "removal");
    removal.minutes_off = random_.below(6);
    removal.minutes_on = random_.below(6);
    for (int n = 0; n < r; ++n) {
      if (random_.chance(30)) removal.needs.push_back(id("removal", static_cast<std::size_t>(n) + 1));
    }
    removal.one_use = uses(1, 20);
    removal.tools = tools_used(15);
    removal.torques = torques(20);
  }
}

void Maker::make_job(std::size_t j) {
  build::Job& job = add(build_.jobs, "job");
  job.want = random_.below(11);
  job.minutes = random_.between(0, 25);
  job.cost = minor(random_.chance(40) ? 0 : random_.between(1, 25));
  for (const build::Removal& removal : build_.removals) {
    if (random_.chance(30)) job.removals.push_back(removal.id);
  }
  job.uses = uses(2, 35);
  job.tools = tools_used(30);
  job.torques = torques(30);
  job.must = random_.chance(6);
  if (random_.chance(10)) job.not_before = near_payday();
  if (random_.chance(10)) job.by = days_.front() + random_.between(15, 90);
  for (std::size_t before = 0; before < j; ++before) {
    if (random_.chance(15)) job.after.push_back(id("job", before + 1));
  }
}

void Maker::make_jobs() {
  const int count = random_.between(2, 5);
  const int mates = random_.chance(50) ? random_.between(1, 2) : 0;
  for (int j = 0; j < count; ++j) make_job(static_cast<std::size_t>(j));
  for (build::Job& job : build_.jobs) {
    for (int m = 0; m < mates; ++m) {
      if (random_.chance(45)) job.mates[m == 0 ? "thread" : "volts"] = a_or_b(45);
    }
    if (random_.chance(10)) job.replaced_by.push_back(any(build_.jobs));
    std::erase(job.replaced_by, job.id);
  }
}

void Maker::make_groups() {
  std::vector<build::Job>& jobs = build_.jobs;
  if (random_.chance(25)) {
    const std::size_t other = 1 + static_cast<std::size_t>(random_.below(static_cast<int>(jobs.size()) - 1));
    jobs[0].together_with.push_back(jobs[other].id);
  }
  if (!random_.chance(25)) return;
  for (build::Job& job : jobs) {
    if (random_.chance(50)) job.one_of = "choice";
  }
}

void Maker::make_fitted() {
  for (int n = random_.below(4); n > 0; --n) {
    build::Fitted& fitted = add(build_.fitted, "fitted");
    if (random_.chance(40)) fitted.mates["thread"] = std::string(1, 'a');
    if (random_.chance(25)) fitted.mates["size"] = std::string(1, 'a');
    if (random_.chance(60)) fitted.replaced_by.push_back(any(build_.jobs));
    if (!build_.removals.empty() && random_.chance(50)) fitted.reached_by.push_back(any(build_.removals));
    if (random_.chance(60)) continue;
    if (!fitted.replaced_by.empty() && random_.chance(60)) {
      const build::Id other = any(build_.jobs);
      if (other != fitted.replaced_by[0]) fitted.replaced_by.push_back(other);
    }
    fitted.since = days_.front() - random_.between(300, 2000);
    fitted.life_months = random_.between(6, 60);
  }
}

void Maker::make_clashes() {
  for (int n = random_.chance(40) ? random_.between(1, 2) : 0; n > 0; --n) {
    build::Clash clash;
    clash.a = any(build_.jobs);
    clash.b = !build_.fitted.empty() && random_.chance(50) ? any(build_.fitted) : any(build_.jobs);
    if (random_.chance(60)) clash.unless.push_back(any(build_.jobs));
    if (clash.a != clash.b) build_.clashes.push_back(clash);
  }
}

}  // namespace

build::Build random_build(std::uint64_t seed) { return Maker(seed).make(); }

}  // namespace fettlefund::test
