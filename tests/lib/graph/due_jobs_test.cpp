#include "lib/graph/due_jobs.hpp"

#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using budgets::make_date;

const std::vector<build::Date> evenings{make_date(2027, 1, 4), make_date(2027, 1, 11),
                                        make_date(2027, 1, 18)};

test::BuildMaker three_jobs() {
  test::BuildMaker maker;
  for (const char* id : {"a", "b", "c"}) maker.job(id);
  return maker;
}

}  // namespace

TEST_CASE("a job has the evenings up to its day and on it") {
  test::BuildMaker maker = three_jobs();
  maker.build().jobs[0].by = make_date(2027, 1, 11);
  maker.build().jobs[1].by = make_date(2027, 1, 10);
  CHECK(graph::due_sessions(maker.build(), {0, 1, 2}, {{}, {}, {}}, evenings) == std::vector{2, 1, 3});
}

TEST_CASE("what comes before a job with a day is due by it, through others too") {
  test::BuildMaker maker = three_jobs();
  maker.build().jobs[2].by = make_date(2027, 1, 4);
  CHECK(graph::due_sessions(maker.build(), {0, 1, 2}, {{}, {0}, {1}}, evenings) == std::vector{1, 1, 1});
}

TEST_CASE("jobs done together are due together, whichever of them says so") {
  test::BuildMaker maker = three_jobs();
  maker.build().jobs[0].together_with = {"b"};
  CHECK(graph::together(maker.build(), 0, 1));
  CHECK(graph::together(maker.build(), 1, 0));
  CHECK_FALSE(graph::together(maker.build(), 0, 2));
  maker.build().jobs[0].by = make_date(2027, 1, 4);
  CHECK(graph::due_sessions(maker.build(), {0, 1, 2}, {{}, {}, {}}, evenings) == std::vector{1, 1, 3});
}
