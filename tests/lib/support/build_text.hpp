#pragma once
#include <string>

#include "lib/build/read/read.hpp"
#include "lib/outcome/plan.hpp"

#include <doctest/doctest.h>

namespace fettlefund::test {

/// The text of a small build file in parts, so that a test states only what it is about. All of it is
/// invented. Four paydays on the first of January to April 2027, 100.00 each, bench three days later, 10 h a
/// stage.
struct BuildText {
  std::string opening = "100.00", keep_back = "0.00", amount = "100.00";
  std::string stages = "4";
  std::string paydays = R"({"day_of_month": 1, "from": "2027-01-01", "holidays": []})";
  std::string money_more = "";  ///< further keys of money, each with a comma in front
  std::string bench = R"("hours": 10, "days_after_payday": 3, "bother": 0)";
  std::string suppliers = R"("shop": {"name": "Corner Shop"})";
  std::string articles = "", removals = "", jobs = "", more = "";

  std::string text() const {
    return R"({"fettlefund": 1, "name": "test build", "currency": "EUR", "money": {"opening": )" + opening +
           R"(, "keep_back": )" + keep_back + R"(, "amount": )" + amount + R"(, "stages": )" + stages +
           R"(, "paydays": )" + paydays + money_more + R"(}, "bench": {)" + bench + R"(},
 "suppliers": {)" +
           suppliers + R"(},
 "articles": {)" +
           articles + R"(},
 "removals": {)" +
           removals + R"(},
 "jobs": {)" +
           jobs + "}" + more + "}\n";
  }

  /// Read without an error.
  build::Build read() const {
    build::Reading reading = build::read(text(), "test.build");
    for (const build::Diagnostic& one : reading.diagnostics) INFO(build::to_text(one));
    REQUIRE(reading.build.has_value());
    return std::move(*reading.build);
  }
};

/// The diagnostics of `check` as text, one a line.
inline std::string checked(const build::Build& build) {
  std::string all;
  for (const build::Diagnostic& one : planning::check(build)) all += build::to_text(one) + "\n";
  return all;
}

/// The plan of a build that has to have one. The build must outlive it.
inline planning::Outcome planned(const build::Build& build) {
  REQUIRE(checked(build) == "");
  planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  return std::get<planning::Outcome>(std::move(planning));
}

/// The stage (from 1) in which the plan does the job; 0 if it is left out.
inline int stage_of(const planning::Outcome& outcome, const std::string& job) {
  for (const planning::StageView& stage : outcome.stages) {
    for (const planning::JobView& one : stage.jobs) {
      if (one.id == job) return stage.number;
    }
  }
  return 0;
}

}  // namespace fettlefund::test
