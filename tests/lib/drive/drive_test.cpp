#include "lib/drive/drive.hpp"

#include "lib/outcome/plan.hpp"
#include "lib/report/text/drive.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/machine.hpp"
#include "tests/lib/support/drive_build.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::DriveFigure;

namespace {

const DriveFigure& figure(const planning::DriveReport& report, const std::string& id) {
  for (const auto& group : report.groups) {
    for (const DriveFigure& one : group.figures) {
      if (one.id == id) return one;
    }
  }
  FAIL("no figure " << id);
  throw 0;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

bool has(const std::vector<std::string>& texts, const std::string& part) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& text) { return text.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("ratios and their change are told for the final drive and every gear") {
  const auto report = planning::drive_report(test::drive_build(test::roadster_drive));
  CHECK(figure(report, "final-ratio").before == doctest::Approx(3.0));
  CHECK(figure(report, "final-ratio").after == doctest::Approx(47.0 / 14));
  CHECK(figure(report, "final-ratio").change_percent() == doctest::Approx(100 * (47.0 / 14 / 3 - 1)));
  CHECK(figure(report, "overall-ratio-1").after == doctest::Approx(2 * 47.0 / 14));
  CHECK(report.feel == "stronger pull in every gear, more engine speed at a given road speed");
}

TEST_CASE("fewer teeth behind pull less and turn the engine slower") {
  const auto drive =
      replaced(test::roadster_drive, "\"before\": 45, \"after\": 47", "\"before\": 47, \"after\": 40");
  CHECK(planning::drive_report(test::drive_build(drive)).feel ==
        "less pull in every gear, less engine speed at a given road speed");
}

TEST_CASE(
    "a speedometer turned by the gearbox reads high after shorter gearing and one on a wheel does not") {
  const double factor = 47.0 / 14 / 3;
  const auto gearbox = planning::drive_report(test::drive_build(test::roadster_drive));
  CHECK(figure(gearbox, "speedometer-shown").after == doctest::Approx(100 * factor));
  CHECK(figure(gearbox, "speedometer-true").after == doctest::Approx(100 / factor));
  const auto wheel =
      planning::drive_report(test::drive_build(replaced(test::roadster_drive, "gearbox", "wheel")));
  CHECK(figure(wheel, "speedometer-shown").after == doctest::Approx(100));
}

TEST_CASE("the chain job uses as many links as the geometry asks whatever its entry lists") {
  const auto build = test::drive_build(test::roadster_drive);
  const auto needed = planning::links_needed(*build.drive);
  REQUIRE(needed);
  CHECK(needed->links % 2 == 0);
  CHECK(needed->links >= needed->exact);
  CHECK(needed->links - needed->exact < 2);
  const auto demands = planning::demands_of(build);
  REQUIRE(demands.jobs[0].articles.size() == 1);
  CHECK(demands.jobs[0].articles[0].amount == needed->links * 1000);
  const auto planning = planning::plan(build);
  const auto& outcome = std::get<planning::Outcome>(planning);
  CHECK(outcome.stages[0].orders[0].lines[0].packs == needed->links / 2);
  CHECK(outcome.assumptions.back() ==
        "The job \"new chain\" is counted with 112 links of chain: 110.88 with 14 and 47 teeth and the axle "
        "in the "
        "middle of its travel (632.5 mm), rounded up to an even number; the amount listed for it, 100, "
        "is not used.");
}

TEST_CASE("a chain that the job does not list is bought and brings its mates") {
  const auto build = test::drive_build(test::roadster_drive, "[]");
  CHECK(planning::demands_of(build).jobs[0].articles.size() == 1);
  CHECK(planning::mates_of(build, build.jobs[0]).at("chain-size") == "520");
}

TEST_CASE("without a chain job or article the listed amount stands and nothing is assumed") {
  const auto drive = replaced(test::roadster_drive, ", \"job\": \"new-chain\"", "");
  const auto build = test::drive_build(drive);
  CHECK(planning::demands_of(build).jobs[0].articles[0].amount == 100 * 1000);
  CHECK(planning::links_note(build).empty());
}

TEST_CASE("the rounding rule is the build's own and is named") {
  const auto up = planning::drive_report(test::drive_build(test::roadster_drive));
  const auto nearest = planning::drive_report(test::drive_build(
      replaced(test::roadster_drive, "\"primary\"", "\"rounding\": \"nearest\", \"primary\"")));
  CHECK(figure(up, "links").what == "links, rounded up to an even number");
  CHECK(figure(up, "links").after == 112);
  CHECK(figure(nearest, "links").what == "links, rounded to the nearest even number");
  CHECK(figure(nearest, "links").after == 110);
}

TEST_CASE("an odd length warns of the offset link and tells both even counts") {
  const auto report = planning::drive_report(test::drive_build(test::roadster_drive));
  CHECK(has(report.warnings,
            "The count nearest to 110.88 links is odd (111). An odd number of links needs an "
            "offset link"));
  CHECK(has(report.remarks, "a new chain of 112 links: axle distance "));
  CHECK(has(report.remarks, "Instead with 110 links: axle distance "));
}

TEST_CASE("a chain that puts the axle outside its adjuster warns") {
  const auto drive = replaced(test::roadster_drive, "\"now_mm\": 632, \"min_mm\": 615, \"max_mm\": 650",
                              "\"now_mm\": 632, \"min_mm\": 631, \"max_mm\": 634");
  const auto report = planning::drive_report(test::drive_build(drive));
  CHECK(has(report.warnings, "With 112 links, rounded up to an even number, the axle does not come to lie"));
  CHECK(has(report.remarks, "behind the adjuster's range: the chain is too long"));
}

TEST_CASE("a present chain that would have to be shorter than new is doubted") {
  CHECK_FALSE(
      has(planning::drive_report(test::drive_build(test::roadster_drive)).warnings, "shorter than new"));
  const auto drive = replaced(test::roadster_drive, "\"links\": 110", "\"links\": 114");
  CHECK(has(planning::drive_report(test::drive_build(drive)).warnings, "shorter than new"));
  const auto longer = replaced(test::roadster_drive, "\"links\": 110", "\"links\": 106");
  CHECK(has(planning::drive_report(test::drive_build(longer)).warnings, "past the usual wear limit"));
}

TEST_CASE("a present chain of another size is never said to be kept") {
  const std::string drive =
      replaced(test::roadster_drive, "\"primary\"",
               "\"wanted\": {\"ratio\": [3.0, 3.1], \"front\": [14, 15], \"rear\": [44, 46]}, \"primary\"");
  auto build = test::drive_build(drive);
  const auto same = planning::drive_report(build);
  CHECK(same.present_fits);
  REQUIRE(same.pairs.size() == 2);
  CHECK(same.pairs[0].keeps_chain);
  build.fitted[0].mates["chain-size"] = "525";
  const auto other = planning::drive_report(build);
  CHECK_FALSE(other.present_fits);
  CHECK_FALSE(other.pairs[0].keeps_chain);
  CHECK(has(other.remarks, "of another size"));
  CHECK(report::drive_text(build, other).find("present chain reaches") == std::string::npos);
}

TEST_CASE("without tooth counts the search goes round the present and new ones") {
  const auto drive =
      replaced(test::roadster_drive, "\"primary\"", "\"wanted\": {\"ratio\": [2.9, 3.1]}, \"primary\"");
  const auto report = planning::drive_report(test::drive_build(drive));
  CHECK(report.front.from == 12);
  CHECK(report.front.to == 17);
  CHECK(report.rear.from == 39);
  CHECK(report.rear.to == 53);
  for (const auto& pair : report.pairs) {
    CHECK(pair.ratio >= 2.9);
    CHECK(pair.ratio <= 3.1);
  }
  CHECK(report.pairs.size() > 5);
}
