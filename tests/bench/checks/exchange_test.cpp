#include "lib/exchange/exchange.hpp"

#include "budgets/problem/plan.hpp"
#include "tests/bench/families.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::bench;
using namespace fettlefund::budgets;

std::string fault_of(const std::string& text) {
  try {
    read_exchange(text);
  } catch (const ExchangeFault& fault) {
    return fault.what();
  }
  return "accepted";
}

std::string with_task(const std::string& task) {
  return R"({"stages": [{"cash_in": 9, "hours": 3}], "tasks": [)" + task + "]}";
}

}  // namespace

TEST_CASE("an exchange file that is wrong is refused with the place") {
  CHECK(fault_of(R"({"stages": [], "tasks": []})") == "accepted");
  CHECK(fault_of(R"({"stages": [], "tasks": [], "task": 1})") == "task: unknown key");
  CHECK(fault_of(R"({"stages": []})") == "tasks: is missing");
  CHECK(fault_of(with_task(R"({"cost": 1, "hours": 1})")) == "tasks[0].value: is missing");
  CHECK(fault_of(with_task(R"({"cost": 1.5, "hours": 1, "value": 1})")) ==
        "tasks[0].cost: an integer is expected, not 1.5");
  CHECK(fault_of(with_task(R"({"cost": 1e30, "hours": 1, "value": 1})")) ==
        "tasks[0].cost: an integer is expected, not 1e+30");
  CHECK(fault_of(with_task(R"({"cost": 18446744073709551615, "hours": 1, "value": 1})")) ==
        "tasks[0].cost: an integer is expected, not 18446744073709551615");
  CHECK(fault_of(with_task(R"({"cost": 1, "hours": 1, "value": 1, "opens": [0]})")) ==
        "tasks[0].opens[0]: 0 names none of 0");
  CHECK(fault_of(with_task(R"({"cost": 1, "hours": 1, "value": 1, "worth": 1})")) ==
        "tasks[0].worth: unknown key");
  CHECK(fault_of(with_task(R"({"cost": 1, "hours": 1, "value": 1, "must": 1})")) ==
        "tasks[0].must: true or false is expected");
  CHECK(fault_of(with_task("7")) == "tasks[0]: an object is expected");
  CHECK(fault_of("{").substr(0, 5) == "JSON:");
}

TEST_CASE("what is due within a stage is read, written and held") {
  const std::string text = R"({"stages": [{"cash_in": 9, "hours": 6, "hours_by": [2, 4]}], "tasks": [
    {"cost": 1, "hours": 3, "value": 1, "due": 1}, {"cost": 1, "hours": 2, "value": 1, "due": 1}]})";
  const Exchange exchange = read_exchange(text);
  CHECK(write_exchange(read_exchange(write_exchange(exchange))) == write_exchange(exchange));
  const Problem problem = staging_problem(exchange);
  CHECK(overdue_in(problem, 0, {0, 1}).has_value());
  CHECK_FALSE(overdue_in(problem, 0, {0}).has_value());
  CHECK(fault_of(with_task(R"({"cost": 1, "hours": 1, "value": 1, "due": 0})")) ==
        "tasks[0].due: 0 names none of 0");
}

TEST_CASE("every family writes instances that read back the same") {
  for (const Family& family : families()) {
    CAPTURE(family.name);
    const std::string text = write_exchange(make_instance(family, 3));
    const Exchange back = read_exchange(text);
    CHECK(write_exchange(back) == text);
    const Problem problem = staging_problem(back);
    CHECK(problem.job_count() == family.tasks);
    CHECK(problem.stage_count() == family.stages);
    CHECK(write_exchange(make_instance(family, 4)) != text);
  }
  CHECK_FALSE(find_family("tiny").has_value());
}

TEST_CASE("every charge of the exchange form reaches the plan once where it should") {
  const Exchange exchange = read_exchange(R"({
    "opening": 10, "keep_back": 4,
    "stages": [{"cash_in": 100, "hours": 50}, {"cash_in": 20, "hours": 50}],
    "openings": [{"cost": 3, "hours": 2}, {"cost": 5, "hours": 4, "needs": [0]}],
    "once": [{"cost": 17}], "sources": [{"fee": 8}],
    "tasks": [{"cost": 10, "hours": 7, "value": 6, "opens": [1], "once": [0], "source": 0},
              {"cost": 0, "hours": 1, "value": 1, "opens": [0], "once": [0], "source": 0},
              {"cost": 2, "hours": 1, "value": 2, "opens": [1], "after": [0], "source": null}]})");
  const Problem problem = staging_problem(exchange);
  const auto result = cost(problem, {{0, 0, 1}, {0}});
  REQUIRE(std::holds_alternative<Plan>(result));
  const Plan& plan = std::get<Plan>(result);
  CHECK(plan.stages[0].spent.minor() == 10 + 0 + 3 + 5 + 17 + 8);
  CHECK(plan.stages[1].spent.minor() == 2 + 3 + 5);
  CHECK(plan.value == 6 * 2 + 1 * 2 + 2);
  CHECK(plan.minutes == 7 + 1 + 6 + 1 + 6);
  CHECK(problem.data().stages[1].floor.minor() == 4);
}
