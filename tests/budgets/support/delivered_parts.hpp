#pragma once

#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/small.hpp"

namespace fettlefund::testing {

/// Jobs of one to three parts (of 10 to 99) from four suppliers that charge at least `delivery` minor units,
/// over six stages: amounts fall between the levels of the bound's axis.
inline budgets::ProblemData delivered_parts(std::uint64_t seed, int jobs = 14, int delivery = 3000) {
  using namespace budgets;
  Random random(seed);
  ProblemData data;
  for (int t = 0; t < 6; ++t)
    data.stages.push_back({Date{30 * t}, Date{30 * t + 9}, cents(random.between(12'000, 30'000)), {}, 300});
  for (int s = 0; s < 4; ++s)
    data.suppliers.push_back({cents(random.between(delivery, 3 * delivery + 999)), {}});
  for (int r = 0; r < 3; ++r) data.removals.push_back({cents(random.between(1000, 4999)), 10, {}, {}, {}});
  data.tools.push_back({{}, {{0, cents(random.between(5000, 9999)), 0, {}, {}}}, {}});
  for (int j = 0; j < jobs; ++j) {
    Job job = plain_job(data, random.between(10, 99));
    if (random.chance(50)) job.removals = {random.below(3)};
    if (random.chance(30)) job.tools = {0};
    job.minutes = random.between(30, 150);
    for (int a = random.between(1, 3); a > 0; --a) {
      job.needs.push_back({static_cast<int>(data.articles.size()), 1000});
      Article article{1000, {}, {}, {}};
      for (int o = random.between(1, 2); o > 0; --o)
        article.offers.push_back(
            {random.below(4), cents(random.between(1000, 9999)), random.below(12), {}, {}});
      data.articles.push_back(article);
    }
    data.jobs.push_back(job);
  }
  return data;
}

}  // namespace fettlefund::testing
