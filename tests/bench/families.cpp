#include "tests/bench/families.hpp"

#include <algorithm>
#include <fstream>
#include <numeric>
#include <set>
#include <sstream>

#include "tests/budgets/support/random.hpp"

namespace fettlefund::bench {
namespace {

using testing::Random;

/// Mostly small, sometimes large: the product of two even draws.
int skewed(Random& random, int least, int most) {
  const int first = random.between(0, 100);
  const int second = random.between(0, 100);
  return least + (most - least) * first * second / 10000;
}

std::vector<int> some_of(Random& random, int count, int most) {
  std::set<int> chosen;
  for (int i = random.between(0, most); i > 0 && count > 0; --i) chosen.insert(random.below(count));
  return {chosen.begin(), chosen.end()};
}

/// Openings in short chains: each may need one of the three before it.
void make_openings(Random& random, Exchange& x, int count) {
  for (int r = 0; r < count; ++r) {
    ExchangeOpening opening{random.chance(50) ? 0 : random.between(2, 20), random.between(1, 6), {}};
    if (r > 0 && random.chance(50)) opening.needs.push_back(std::max(0, r - random.between(1, 3)));
    x.openings.push_back(opening);
  }
}

ExchangeTask make_task(Random& random, const Exchange& x, int index) {
  ExchangeTask task;
  task.cost = skewed(random, 10, 600);
  task.hours = random.between(1, 12);
  task.value = random.between(1, 10);
  task.opens = some_of(random, static_cast<int>(x.openings.size()), 2);
  if (random.chance(35)) task.once.push_back(random.below(static_cast<int>(x.once.size())));
  if (random.chance(75)) task.source = random.below(static_cast<int>(x.sources.size()));
  if (index > 0 && random.chance(35)) task.after.push_back(random.below(index));
  return task;
}

/// What everything would cost if each task were done in a stage of its own, and the hours then; a half of the
/// charges that neighbours could share is taken off.
struct Totals {
  std::int64_t cost = 0;
  std::int64_t hours = 0;
  std::int64_t longest = 0;  ///< hours of the longest task with all it opens
};

void open_all(const Exchange& x, const std::vector<int>& opens, std::set<int>& opened) {
  for (int r : opens) {
    if (opened.insert(r).second) open_all(x, x.openings[r].needs, opened);
  }
}

Totals totals(const Exchange& x) {
  Totals sum;
  sum.cost = std::accumulate(x.once.begin(), x.once.end(), std::int64_t{0});
  for (const ExchangeTask& task : x.tasks) {
    std::int64_t shared_cost = task.source < 0 ? 0 : x.sources[task.source];
    std::int64_t shared_hours = 0;
    std::set<int> opened;
    open_all(x, task.opens, opened);
    for (int r : opened) shared_cost += x.openings[r].cost, shared_hours += x.openings[r].hours;
    sum.cost += task.cost + shared_cost / 2;
    sum.hours += task.hours + shared_hours / 2;
    sum.longest = std::max(sum.longest, task.hours + shared_hours);
  }
  return sum;
}

}  // namespace

const std::vector<Family>& families() {
  static const std::vector<Family> all = [] {
    const Family sizes[] = {{"small", 15, 8, true},
                            {"medium", 25, 12, true},
                            {"large", 40, 12, true},
                            {"long", 60, 18, true},
                            {"huge", 200, 24, true}};
    std::vector<Family> result;
    for (const Family& size : sizes) {
      result.push_back({size.name + "_n", size.tasks, size.stages, true});
      result.push_back({size.name + "_h", size.tasks, size.stages, false});
    }
    return result;
  }();
  return all;
}

std::optional<Family> find_family(std::string_view name) {
  for (const Family& family : families()) {
    if (family.name == name) return family;
  }
  return {};
}

Exchange make_instance(const Family& family, std::uint64_t seed) {
  Random random(seed * 1000 + static_cast<std::uint64_t>(family.tasks));
  Exchange x;
  make_openings(random, x, family.tasks / 4);
  for (int k = family.tasks / 6; k > 0; --k) x.once.push_back(random.between(30, 200));
  for (int q = std::max(2, family.tasks / 8); q > 0; --q) x.sources.push_back(random.between(5, 25));
  for (int j = 0; j < family.tasks; ++j) x.tasks.push_back(make_task(random, x, j));
  const Totals sum = totals(x);
  const std::int64_t pay = sum.cost * 7 / 10 / family.stages;
  const std::int64_t evenings = sum.hours * 8 / 10 / family.stages;
  for (int t = 0; t < family.stages; ++t) {
    const bool weekend = t % 4 == 3;
    const std::int64_t bound_hours = weekend ? std::max(sum.longest, evenings) : evenings;
    x.stages.push_back({pay, family.hours_bind ? bound_hours : sum.hours * 2});
  }
  return x;
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  if (!file) throw ExchangeFault(path + ": cannot be read");
  return text.str();
}

}  // namespace fettlefund::bench
