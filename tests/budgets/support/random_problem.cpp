#include "tests/budgets/support/random_problem.hpp"

#include <algorithm>
#include <cstdlib>
#include <numeric>

#include "tests/budgets/support/random.hpp"

namespace fettlefund::testing {
namespace {

using namespace budgets;

Money minor(int amount) { return Money::of_minor(amount); }

/// Fills one problem; each feature is switched on or off for the whole problem.
class Maker {
 public:
  Maker(std::uint64_t seed, int most_jobs, int most_stages) : random_(seed) {
    jobs_ = random_.between((most_jobs + 1) / 2, most_jobs);
    stages_ = random_.between((most_stages + 1) / 2, most_stages);
  }

  ProblemData make() {
    data_.allowance_bp = random_.chance(40) ? random_.between(1, 1500) : 0;
    data_.bother = random_.chance(50) ? random_.between(1, 2) : 0;
    data_.opening = minor(random_.between(0, 40));
    make_stages();
    make_suppliers();
    make_articles();
    make_tools();
    make_removals();
    make_jobs();
    make_fit();
    make_groups();
    if (data_.tools.size() >= 2 && feature(35)) make_any_tools();
    return data_;
  }

 private:
  bool feature(int percent) { return random_.chance(percent); }
  int stage() { return random_.below(stages_); }
  int some(std::size_t size) { return random_.below(static_cast<int>(size)); }

  /// A day around that date of some stage. Two statements: the order of the draws must not be the compiler's.
  Date near(Date Stage::*date, int low, int high) {
    const Date day = data_.stages[stage()].*date;
    return day + random_.between(low, high);
  }

  void make_stages();
  void make_suppliers();
  void make_articles();
  void make_tools();
  void make_removals();
  void make_jobs();
  void make_job(int index);
  void make_fit();
  void make_groups();
  void make_renewals();
  void make_any_tools();
  std::vector<Offer> offers(int least, int most);
  std::vector<Need> needs(int most);
  std::vector<int> distinct(int most, std::size_t size);

  Random random_;
  int jobs_ = 1;
  int stages_ = 1;
  ProblemData data_;
};

void Maker::make_stages() {
  const bool bills = feature(30);
  const bool floors = feature(40);
  const int rich = random_.between(8, 45);
  Date payday{20000 + random_.below(1000)};
  for (int t = 0; t < stages_; ++t) {
    const int gap = random_.between(7, 35);
    Stage stage{payday, payday + random_.below(gap), minor(random_.between(rich / 2, rich)), {}, 0};
    if (bills && random_.chance(30)) stage.cash_in = minor(-random_.below(15));
    if (floors) stage.floor = minor(random_.between(-5, 20));
    stage.minutes = random_.chance(10) ? 0 : random_.between(4, 40);
    data_.stages.push_back(stage);
    payday = payday + gap;
  }
}

void Maker::make_suppliers() {
  const int count = random_.between(1, 3);
  const bool free = feature(50);
  for (int s = 0; s < count; ++s) {
    Supplier supplier{minor(random_.chance(30) ? 0 : random_.between(1, 9)), {}};
    if (free && random_.chance(70)) supplier.free_from = minor(random_.between(0, 45));
    data_.suppliers.push_back(supplier);
  }
}

std::vector<Offer> Maker::offers(int least, int most) {
  std::vector<Offer> result(random_.between(least, most));
  const bool windows = feature(25);
  for (Offer& offer : result) {
    offer.supplier = some(data_.suppliers.size());
    offer.price = minor(random_.chance(8) ? 0 : random_.between(1, 14));
    offer.lead_days = random_.chance(40) ? 0 : random_.between(1, 50);
    if (windows && random_.chance(40)) offer.from = near(&Stage::payday, -3, 3);
    if (windows && random_.chance(40)) offer.until = near(&Stage::payday, -3, 3);
  }
  return result;
}

void Maker::make_articles() {
  const int count = random_.chance(20) ? 0 : random_.between(1, 5);
  const int packs[] = {1000, 1000, 500, 2500, 4000};
  for (int a = 0; a < count; ++a) {
    Article article;
    article.pack = packs[random_.below(5)];
    if (random_.chance(40)) article.keeping_days = random_.between(0, 70);
    for (int lots = random_.chance(30) ? random_.between(1, 2) : 0; lots > 0; --lots) {
      Lot lot{random_.between(1, 8) * 500, {}, {}};
      if (random_.chance(50)) lot.use_by = near(&Stage::bench, -2, 40);
      if (random_.chance(40)) lot.from = near(&Stage::bench, -5, 5);
      article.on_hand.push_back(lot);
    }
    article.offers = offers(random_.chance(8) ? 0 : 1, 3);
    data_.articles.push_back(article);
  }
}

void Maker::make_tools() {
  const int count = random_.chance(40) ? 0 : random_.between(1, 3);
  for (int k = 0; k < count; ++k) {
    Tool tool;
    if (random_.chance(35)) {
      for (int t = 0; t < stages_; ++t) tool.free.push_back(random_.chance(40) ? 1 : 0);
    }
    if (random_.chance(75)) tool.offers = offers(1, 2);
    if (random_.chance(60)) tool.hire = minor(random_.between(0, 7));
    data_.tools.push_back(tool);
  }
}

std::vector<int> Maker::distinct(int most, std::size_t size) {
  std::vector<int> all(size);
  std::iota(all.begin(), all.end(), 0);
  random_.shuffle(all);
  all.resize(std::min<std::size_t>(size, random_.between(0, most)));
  return all;
}

std::vector<Need> Maker::needs(int most) {
  std::vector<Need> result;
  for (int a : distinct(most, data_.articles.size())) result.push_back({a, random_.between(1, 7) * 500});
  return result;
}

void Maker::make_removals() {
  const int count = random_.chance(25) ? 0 : random_.between(1, 4);
  std::vector<int> rank(count);
  std::iota(rank.begin(), rank.end(), 0);
  random_.shuffle(rank);
  for (int r = 0; r < count; ++r) {
    Removal removal;
    removal.cost = minor(random_.chance(60) ? 0 : random_.between(1, 5));
    removal.minutes = random_.between(0, 8);
    for (int n = 0; n < count; ++n) {
      if (rank[n] < rank[r] && random_.chance(30)) removal.needs.push_back(n);
    }
    if (random_.chance(40)) removal.one_use = needs(2);
    if (random_.chance(20)) removal.tools = distinct(1, data_.tools.size());
    data_.removals.push_back(removal);
  }
}

void Maker::make_job(int index) {
  Job& job = data_.jobs[index];
  const int want = random_.between(1, 12);
  const bool odd = random_.chance(15);
  for (int t = 0; t < stages_; ++t) {
    job.worth.push_back(odd ? random_.between(0, 30) : static_cast<std::int64_t>(want) * (stages_ - t));
  }
  job.cost = minor(random_.chance(30) ? 0 : random_.between(1, 25));
  job.minutes = random_.between(0, 15);
  if (random_.chance(60)) job.removals = distinct(2, data_.removals.size());
  if (random_.chance(70)) job.needs = needs(2);
  if (random_.chance(35)) job.tools = distinct(2, data_.tools.size());
  if (random_.chance(15)) job.earliest = stage();
  if (random_.chance(15)) job.latest = stage();
  job.must = random_.chance(8);
}

void Maker::make_jobs() {
  data_.jobs.resize(jobs_);
  std::vector<int> rank(jobs_);
  std::iota(rank.begin(), rank.end(), 0);
  random_.shuffle(rank);
  const int density = random_.chance(40) ? 0 : random_.between(5, 30);
  for (int j = 0; j < jobs_; ++j) {
    make_job(j);
    for (int before = 0; before < jobs_; ++before) {
      if (rank[before] < rank[j] && random_.chance(density)) data_.jobs[j].after.push_back(before);
    }
  }
}

void Maker::make_fit() {
  if (!feature(40)) return;
  const int count = random_.between(1, 4);
  for (int c = 0; c < count; ++c) {
    Carrier carrier;
    if (random_.chance(70)) carrier.brought_by = random_.below(jobs_);
    carrier.replaced_by = distinct(2, jobs_);
    std::erase(carrier.replaced_by, carrier.brought_by);
    for (int mates = random_.below(3); mates > 0; --mates) {
      carrier.mates.push_back({random_.below(2), carrier.brought_by < 0 ? 0 : random_.below(2)});
    }
    data_.carriers.push_back(carrier);
  }
  for (int clashes = count < 2 ? 0 : random_.below(3); clashes > 0; --clashes) {
    Clash clash{random_.below(count), 0, distinct(2, jobs_)};
    clash.b = (clash.a + random_.between(1, count - 1)) % count;
    const bool both_from_start =
        data_.carriers[clash.a].brought_by < 0 && data_.carriers[clash.b].brought_by < 0;
    if (!both_from_start) data_.clashes.push_back(clash);
  }
}

void Maker::make_renewals() {
  for (int count = random_.between(1, 2); count > 0; --count) {
    Renewal renewal{distinct(3, jobs_), {}};
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i) {
      std::vector<std::int64_t>& worth = renewal.worth.emplace_back();
      const int want = random_.between(0, 9);
      for (int t = 0; t < stages_; ++t)
        worth.push_back(random_.chance(20) ? random_.below(20)
                                           : static_cast<std::int64_t>(want) * (stages_ - t));
    }
    data_.renewals.push_back(renewal);
  }
}

void Maker::make_any_tools() {
  const auto add = [&](std::vector<std::vector<int>>& any, int percent) {
    while (random_.chance(percent)) {
      any.push_back(distinct(3, data_.tools.size()));
      if (any.back().empty()) any.pop_back();
    }
  };
  for (Job& job : data_.jobs) add(job.any_tools, 45);
  for (Removal& removal : data_.removals) add(removal.any_tools, 20);
}

void Maker::make_groups() {
  if (jobs_ < 2) return;
  if (feature(25)) data_.one_of.push_back(distinct(3, jobs_));
  if (feature(25)) data_.together.push_back(distinct(3, jobs_));
  if (feature(20)) make_renewals();
}

}  // namespace

ProblemData random_problem(std::uint64_t seed, int most_jobs, int most_stages) {
  return Maker(seed, most_jobs, most_stages).make();
}

budgets::ProblemData with_days(std::uint64_t seed, budgets::ProblemData data) {
  Random random(seed ^ 0x5e55105u);
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    Stage& stage = data.stages[t];
    const bool known = t + 1 < data.stages.size();
    const int gap = known ? data.stages[t + 1].payday - stage.bench : 30;
    if (gap < 2 || random.chance(20)) continue;
    stage.last = stage.bench + random.between(1, gap - 1);
    std::int64_t so_far = -1;
    for (Date day = stage.bench; day < *stage.last; day = day + random.between(1, 9)) {
      if (so_far >= stage.minutes || random.chance(25)) continue;
      so_far += random.between(1, static_cast<int>(stage.minutes - so_far));
      stage.marks.push_back({day, so_far});
    }
  }
  for (budgets::Job& job : data.jobs) {
    if (!random.chance(50)) continue;
    const Stage& stage = data.stages[random.below(static_cast<int>(data.stages.size()))];
    job.by = stage.bench + random.below(stage.last_day() - stage.bench + 1);
  }
  return data;
}

ScheduleDraw random_schedule(std::uint64_t seed, const ProblemData& data) {
  Random random(seed);
  const int stages = static_cast<int>(data.stages.size());
  ScheduleDraw draw;
  for (const Job& job : data.jobs) {
    const int last = job.latest < 0 ? stages - 1 : job.latest;
    const bool out = last < job.earliest || random.chance(25);
    draw.stage_of.push_back(out ? -1 : random.between(job.earliest, last));
  }
  for (const Tool& tool : data.tools) {
    draw.tool_bought.push_back(tool.offers.empty() || random.chance(60) ? -1 : random.below(stages));
  }
  return draw;
}

int random_cases(int usual) {
  const char* wanted = std::getenv("FETTLEFUND_CASES");
  const int cases = wanted ? std::atoi(wanted) : 0;
  return cases > 0 ? cases : usual;
}

int first_random_case() {
  const char* wanted = std::getenv("FETTLEFUND_FIRST_CASE");
  return wanted ? std::atoi(wanted) : 0;
}

}  // namespace fettlefund::testing
