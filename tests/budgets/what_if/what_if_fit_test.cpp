#include "budgets/what_if/what_if.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {

using namespace testing;

TEST_CASE("what never goes with what stays on the machine is held by mates or by clashes") {
  for (const bool by_clash : {false, true}) {
    CAPTURE(by_clash);
    ProblemData data = plain_stages(3);
    data.jobs = {plain_job(data, 5), plain_job(data, 3)};
    data.carriers = {{-1, {}, {{0, 12}}}, {0, {}, {{0, by_clash ? 12 : 24}}}};
    if (by_clash) data.clashes = {{0, 1, {}}};
    Solver solver{Problem(data)};
    const Result result = solver.solve();
    const Why told = why(solver, std::get<Proven>(result).plan, true, 0);
    REQUIRE(told.stages.size() == 3);
    for (const AtStage& at : told.stages) {
      CHECK(at.possible == Possible::no);
      CHECK(at.holds == std::vector<Hold>{by_clash ? Hold::clashes : Hold::mates});
      CHECK(at.others.empty());
      CHECK(at.cash.best.never);
    }
  }
}

}  // namespace fettlefund::budgets
