#include "lib/questions/conflict.hpp"

#include <algorithm>

#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/staging/random_build_rules.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;

namespace {

planning::Conflict conflict(const BuildText& text) {
  const build::Build build = text.read();
  REQUIRE_FALSE(build::has_errors(planning::check(build)));
  const planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Conflict>(planning));
  return std::get<planning::Conflict>(planning);
}

std::string lines(const std::vector<std::string>& sentences) {
  std::string all;
  for (const std::string& sentence : sentences) all += sentence + "\n";
  return all;
}

}  // namespace

TEST_CASE("musts short of money are told with dates, amounts and what releases them") {
  BuildText text{.jobs =
                     R"("a": {"name": "tyres", "must": true, "by": "2027-02-04", "hours": 1, "cost": 200.00},
                            "b": {"name": "brakes", "must": true, "by": "2027-02-28", "hours": 1, "cost": 112.50},
                            "c": {"name": "bell", "want": 5, "hours": 1, "cost": 1.00})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.jobs) == "a\nb\n");
  CHECK(lines(told.sentences) ==
        "These have to be done and cannot all be: tyres (by 2027-02-04) and brakes (by 2027-02-28).\n"
        "Together they cost at least 312.50 EUR with what has to come off or be done first, delivery not "
        "counted; at most 300.00 EUR can be spent up to stage 2 (bench 2027-02-04).\n"
        "The money is short by 12.50 EUR.\n"
        "Released by 12.50 EUR more at the start.\n"
        "Released by a later date: the day 2027-03-04 (stage 3) is late enough.\n");
}

TEST_CASE("a must that money alone can never meet names no date") {
  BuildText text{.jobs = R"("a": {"name": "engine", "must": true, "hours": 1, "cost": 600.00})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.sentences) ==
        "This has to be done and cannot be: engine.\n"
        "It costs at least 600.00 EUR with what has to come off or be done first, delivery not counted; at "
        "most 500.00 EUR can be spent up to stage 4 (bench 2027-04-04).\n"
        "The money is short by 100.00 EUR.\n"
        "Released by 100.00 EUR more at the start.\n");
}

TEST_CASE("musts short of hours are told with the hours there are") {
  BuildText text{.jobs = R"("a": {"name": "a", "must": true, "by": "2027-01-31", "hours": 6},
                            "b": {"name": "b", "must": true, "by": "2027-01-31", "hours": 6})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.sentences) ==
        "These have to be done and cannot all be: a (by 2027-01-31) and b (by 2027-01-31).\n"
        "Together they take at least 12 h on the bench; the stages up to stage 1 (bench 2027-01-04) have "
        "10 h, at most 10 h in one stage.\n"
        "Released by 2 h more on the bench in each stage.\n"
        "Released by a later date: the day 2027-02-04 (stage 2) is late enough.\n");
}

TEST_CASE("two musts of one choice are told at once in a large build") {
  std::string jobs = R"("a": {"name": "loud pipe", "must": true, "hours": 1, "one_of": "exhaust"},
                        "b": {"name": "quiet pipe", "must": true, "hours": 1, "one_of": "exhaust"})";
  for (int i = 0; i < 100; ++i) {
    const std::string id = "x" + std::to_string(i);
    jobs += ", \"" + id + R"(": {"name": "extra", "want": )" + std::to_string(1 + i % 9) +
            R"(, "hours": 1, "cost": )" + std::to_string(5 + i % 17) + ".00}";
  }
  BuildText text{.jobs = jobs};
  const build::Build build = text.read();
  budgets::SolveOptions quick;
  quick.effort = budgets::Effort::quick;
  const planning::Planning planning = planning::plan(build, quick);
  REQUIRE(std::holds_alternative<planning::Conflict>(planning));
  CHECK(lines(std::get<planning::Conflict>(planning).sentences) ==
        "These have to be done and cannot all be: loud pipe and quiet pipe.\n"
        "loud pipe and quiet pipe are of one choice ('exhaust'): at most one of them is done.\n"
        "Neither more money nor more hours nor a later date releases it.\n");
}

TEST_CASE("cash that falls below the keep-back with nothing bought is told by its payday") {
  BuildText text{
      .opening = "0.00", .keep_back = "150.00", .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const planning::Conflict told = conflict(text);
  CHECK(told.jobs.empty());
  REQUIRE(told.sentences.size() == 2);
  CHECK(told.sentences[0] ==
        "Even with nothing bought, cash after the payday of 2027-01-01 is 100.00 EUR; 150.00 EUR must be "
        "left for the "
        "keep-back and the bills before the next payday.");
  CHECK(told.sentences[1] == "The money is short by 50.00 EUR.");
}

namespace {

/// A chain job that has to be done; the old sprocket of another size stays unless its own job is done.
BuildText sizes(const std::string& sprocket_job) {
  return {
      .jobs =
          R"("chain": {"name": "chain", "must": true, "by": "2027-02-28", "hours": 1, "mates": {"chain-size": "520"}},
                     "sprocket": {"name": "sprocket", "want": 5, "hours": 1)" +
          sprocket_job + "}",
      .more =
          R"(, "fitted": {"old-chain": {"name": "old chain", "mates": {"chain-size": "525"}, "replaced_by": ["chain"]},
                 "old-sprocket": {"name": "old sprocket", "mates": {"chain-size": "525"}, "replaced_by": ["sprocket"]}})"};
}

const std::string cannot = "This has to be done and cannot be: chain (by 2027-02-28).\n";
const std::string disagree = "old sprocket (chain-size 525) and chain (chain-size 520) do not agree.\n";

}  // namespace

TEST_CASE("a mate that no job changes is told with the two that disagree") {
  BuildText text{.jobs = R"("a": {"name": "pump", "must": true, "hours": 1, "mates": {"volts": "24"}})",
                 .more = R"(, "fitted": {"box": {"name": "fuse box", "mates": {"volts": "12"}}})"};
  CHECK(lines(conflict(text).sentences) ==
        "This has to be done and cannot be: pump.\n"
        "fuse box (volts 12) and pump (volts 24) do not agree.\n"
        "No job of the build takes one of the two off.\n"
        "Neither more money nor more hours nor a later date releases it.\n");
}

TEST_CASE("a job that would part two that disagree is named with its own wrong size") {
  CHECK(lines(conflict(sizes(R"(, "mates": {"chain-size": "530"})")).sentences) ==
        cannot + disagree +
            "sprocket would part them, but chain (chain-size 520) and sprocket (chain-size 530) do not agree "
            "either.\n"
            "Neither more money nor more hours nor a later date releases it.\n");
}

TEST_CASE("a job that would part two that disagree is named with the day before which it may not be done") {
  CHECK(lines(conflict(sizes(R"(, "mates": {"chain-size": "520"}, "not_before": "2027-03-01")")).sentences) ==
        cannot + disagree +
            "sprocket would part them, but it may not be done before 2027-03-01.\n"
            "Released by a later date: the day 2027-03-04 (stage 3) is late enough.\n");
}

TEST_CASE("a job that would part two that disagree is named with what it costs") {
  const std::string told =
      lines(conflict(sizes(R"(, "mates": {"chain-size": "520"}, "cost": 400.00)")).sentences);
  CHECK(told.find(disagree +
                  "sprocket would part them, but with it all costs at least 400.00 EUR, and at most "
                  "300.00 EUR can be spent in time.\n") != std::string::npos);
  CHECK(told.find("Released by 100.00 EUR more at the start.\n") != std::string::npos);
}

TEST_CASE("two musts that clash are told in the file's words with the job that would make them fit") {
  BuildText text{.jobs = R"("a": {"name": "rack", "must": true, "by": "2027-01-10", "hours": 1},
                            "b": {"name": "bags", "must": true, "by": "2027-01-10", "hours": 1},
                            "c": {"name": "bracket", "want": 1, "hours": 1, "not_before": "2027-03-01"})",
                 .more = R"(, "clashes": [{"between": ["a", "b"], "unless": ["c"], "why": "they touch"}])"};
  CHECK(lines(conflict(text).sentences) ==
        "These have to be done and cannot all be: rack (by 2027-01-10) and bags (by 2027-01-10).\n"
        "rack and bags clash: they touch.\n"
        "bracket would make them fit, but it may not be done before 2027-03-01.\n"
        "Released by a later date: the day 2027-03-04 (stage 3) is late enough.\n");
}

namespace {

/// Whether these jobs can all be done when every stage has so many minutes more, by the rules read plainly.
bool can_be_done(build::Build build, const std::vector<int>& musts, std::int64_t minutes, std::int64_t cash) {
  for (build::Job& job : build.jobs) job.must = false;
  for (const int must : musts) build.jobs[static_cast<std::size_t>(must)].must = true;
  build.bench.minutes += minutes;
  for (build::BenchException& one : build.bench.exceptions) one.minutes += minutes;
  build.money.opening += budgets::Money::of_minor(cash);
  return test::Rulebook(build).best().has_value();
}

std::vector<int> without(std::vector<int> musts, std::size_t one) {
  musts.erase(musts.begin() + static_cast<std::ptrdiff_t>(one));
  return musts;
}

struct Released {
  int all = 0, by_hours = 0, by_cash = 0;
};

void check_conflict(const build::Build& build, const budgets::Problem& problem,
                    const budgets::Impossible& impossible, Released& released) {
  ++released.all;
  const std::vector<int>& musts = impossible.musts;
  CHECK(impossible.irreducible);
  CHECK_FALSE(can_be_done(build, musts, 0, 0));
  for (std::size_t i = 0; i < musts.size(); ++i) CHECK(can_be_done(build, without(musts, i), 0, 0));
  if (impossible.short_by) {
    ++released.by_cash;
    CHECK(can_be_done(build, musts, 0, impossible.short_by->minor()));
    CHECK_FALSE(can_be_done(build, musts, 0, impossible.short_by->minor() - 1));
  }
  const budgets::Least minutes = planning::releasing_minutes(problem, impossible);
  if (minutes.never) {
    CHECK_FALSE(can_be_done(build, musts, 100'000, 0));
    return;
  }
  ++released.by_hours;
  REQUIRE(minutes.exact());
  CHECK(can_be_done(build, musts, *minutes.at_most, 0));
  CHECK_FALSE(can_be_done(build, musts, *minutes.at_most - 1, 0));
}

}  // namespace

TEST_CASE("a conflict of a random build needs each of its jobs and is released by exactly what is told") {
  const int cases = test::cases(40);
  Released released;
  for (int seed = 1; seed <= cases; ++seed) {
    CAPTURE(seed);
    build::Build build = test::random_build(static_cast<std::uint64_t>(seed) + 900'000);
    for (build::Job& job : build.jobs) job.must |= job.want.value_or(0) % 2 == 1;
    if (build::has_errors(planning::check(build))) continue;
    const budgets::Problem problem(planning::to_staging(build).problem);
    const budgets::Result result = budgets::solve(problem);
    const auto* impossible = std::get_if<budgets::Impossible>(&result);
    if (impossible == nullptr || impossible->musts.empty()) continue;
    check_conflict(build, problem, *impossible, released);
  }
  MESSAGE(released.all << " conflicts, released by money " << released.by_cash << ", by hours "
                       << released.by_hours);
  if (cases < 40) return;
  CHECK(released.by_cash > 0);
  CHECK(released.by_hours > 0);
}

TEST_CASE("a lead time that asks for an earlier payday is told where the sums alone do not add up") {
  BuildText text{
      .suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 10})",
      .articles =
          R"("seat": {"name": "seat", "kind": "part", "offers": [{"supplier": "shop", "price": 250}]})",
      .jobs =
          R"("sit": {"name": "fit the seat", "must": true, "by": "2027-02-28", "hours": 1, "uses": ["seat"]})"};
  CHECK(lines(conflict(text).sentences) ==
        "This has to be done and cannot be: fit the seat (by 2027-02-28).\n"
        "It costs at least 250.00 EUR with what has to come off or be done first, delivery not counted; at "
        "most 300.00 EUR can be spent up to stage 2 (bench 2027-02-04).\n"
        "seat has to be ordered by the payday of 2027-01-01 (stage 1) to be there in time, for at least "
        "250.00 EUR; at most 200.00 EUR can be spent up to then.\n"
        "The money is short by 50.00 EUR.\n"
        "Released by 50.00 EUR more at the start.\n"
        "Released by a later date: the day 2027-03-04 (stage 3) is late enough.\n");
}

TEST_CASE("a delivery that makes the money short is told as counted") {
  BuildText text{
      .suppliers = R"("shop": {"name": "Corner Shop", "delivery": 20})",
      .articles =
          R"("seat": {"name": "seat", "kind": "part", "offers": [{"supplier": "shop", "price": 190}]})",
      .jobs =
          R"("sit": {"name": "fit the seat", "must": true, "by": "2027-01-31", "hours": 1, "uses": ["seat"]})"};
  CHECK(lines(conflict(text).sentences).find("The money is short by 10.00 EUR, delivery counted.\n") !=
        std::string::npos);
}

TEST_CASE("a choice that lets only one of two clashes be mended is named") {
  BuildText text{.jobs = R"("bars": {"name": "high bars", "must": true, "hours": 1},
                 "pegs": {"name": "rear pegs", "must": true, "hours": 1},
                 "hoses": {"name": "long hoses", "want": 1, "hours": 1, "one_of": "kit"},
                 "linkage": {"name": "long linkage", "want": 1, "hours": 1, "one_of": "kit"})",
                 .more = R"(, "fitted": {"tank": {"name": "old tank"}},
        "clashes": [{"between": ["bars", "tank"], "unless": ["hoses"], "why": "the hoses are too short"},
                    {"between": ["pegs", "tank"], "unless": ["linkage"], "why": "the linkage is too short"}])"};
  CHECK(lines(conflict(text).sentences)
            .find("long hoses and long linkage are of one choice ('kit'): at most one of them is done.\n") !=
        std::string::npos);
}

TEST_CASE("a way out that needs one of a choice already taken says which") {
  BuildText text = sizes(R"(, "after": ["left"])");
  text.jobs += R"(, "left": {"name": "left hand cover", "want": 1, "hours": 1, "one_of": "cover"},
                    "right": {"name": "right hand cover", "must": true, "hours": 1, "one_of": "cover"})";
  CHECK(
      lines(conflict(text).sentences)
          .find("sprocket would part them, but it needs left hand cover, and only one of left hand cover and "
                "right hand cover is done ('cover').\n") != std::string::npos);
}
