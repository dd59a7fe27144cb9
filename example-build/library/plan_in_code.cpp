// Plans three jobs over four paydays with the staging solver alone, then an example build file with all of
// the library.
#include <iostream>

#include "budgets/solve.hpp"
#include "lib/build/read/read.hpp"
#include "lib/outcome/plan.hpp"

namespace budgets = fettlefund::budgets;

int main(int argc, char** argv) {
  budgets::ProblemData data;
  data.opening = budgets::Money::of_minor(50'00);
  for (int month = 1; month <= 4; ++month) {
    budgets::Stage& stage = data.stages.emplace_back();
    stage.payday = budgets::make_date(2027, static_cast<unsigned>(month), 28);
    stage.bench = stage.payday;
    stage.cash_in = budgets::Money::of_minor(100'00);
    stage.minutes = 6 * 60;
  }
  for (const std::int64_t cost : {120'00, 180'00, 60'00}) {
    budgets::Job& job = data.jobs.emplace_back();
    job.worth = {40, 30, 20, 10};  // less for each later stage
    job.cost = budgets::Money::of_minor(cost);
    job.minutes = 3 * 60;
  }
  const budgets::Result result = budgets::solve(budgets::Problem(data));
  if (const budgets::Plan* plan = budgets::plan_of(result)) {
    for (std::size_t job = 0; job < data.jobs.size(); ++job) {
      std::cout << "job " << job << ": stage " << plan->schedule.stage_of[job] + 1 << '\n';
    }
  }
  if (argc < 2) return 0;
  const fettlefund::build::Reading reading = fettlefund::build::read_file(argv[1]);
  if (!reading.build) return 2;
  const auto planning = fettlefund::planning::plan(*reading.build);
  if (const auto* outcome = std::get_if<fettlefund::planning::Outcome>(&planning)) {
    std::cout << reading.build->name << ": " << outcome->stages.size() << " stages planned\n";
  }
}
