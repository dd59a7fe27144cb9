#include "tests/lib/staging/random_sessions.hpp"

#include <algorithm>
#include <variant>

#include "tests/lib/staging/random_build.hpp"

namespace fettlefund::test {

void give_sessions(std::uint64_t seed, build::Build& build) {
  const std::int64_t hours = build.bench.minutes;
  build.bench.minutes = 0;
  if (seed % 2 == 0) build.bench.days_after_payday = 0;
  for (build::BenchException& one : build.bench.exceptions) one.minutes = 0;
  const auto evening = [&](std::uint64_t part) {
    return std::max<std::int64_t>(3, hours / static_cast<std::int64_t>(2 + part % 4) / 3 * 3);
  };
  build.bench.sessions = {{static_cast<int>(seed % 7), {}, evening(seed)},
                          {static_cast<int>((seed + 3) % 7), {}, evening(seed / 7)}};
  const budgets::Date first = std::get<budgets::ListedDays>(build.money.rule).days.front();
  build.bench.no_sessions = {first + static_cast<int>(seed % 11)};
  for (std::size_t j = 0; j < build.jobs.size(); ++j) {
    if ((seed + j) % 3 == 0) build.jobs[j].by = first + static_cast<int>((seed * 5 + j * 17) % 70);
    build.jobs[j].overnight = (seed + j) % 5 == 0;
  }
  for (std::size_t r = 0; r < build.removals.size(); ++r) build.removals[r].overnight = (seed + r) % 4 == 0;
}

build::Build random_build_by_sessions(std::uint64_t seed) {
  build::Build build = random_build(seed);
  give_sessions(seed, build);
  return build;
}

}  // namespace fettlefund::test
