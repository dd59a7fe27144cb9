#include "lib/questions/why.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/staging/ids.hpp"
#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::WhyReport;
using planning::WhyStage;
using test::BuildText;

namespace {

WhyReport ask(const planning::Standing& standing, const std::string& job, int stage = 0) {
  const planning::WhyAnswer answer = planning::why(standing, job, stage);
  REQUIRE(std::holds_alternative<WhyReport>(answer));
  return std::get<WhyReport>(answer);
}

std::string joined(const std::vector<std::string>& sentences) {
  std::string all;
  for (const std::string& sentence : sentences) all += sentence + "\n";
  return all;
}

/// What is told of one stage.
std::string told(const BuildText& text, const std::string& job, int stage) {
  const planning::Standing standing{text.read(), {}, {}};
  REQUIRE_FALSE(build::has_errors(planning::check(*standing.build)));
  const WhyReport report = ask(standing, job, stage);
  REQUIRE(report.stages.size() == 1);
  return joined(report.stages[0].sentences);
}

struct Best {
  std::optional<budgets::Plan> plan;  ///< with the job by the stage, if that was asked
  bool possible() const { return plan.has_value(); }
};

/// Plans the build anew with another opening cash, the job between two stages (from 0).
Best best(build::Build build, std::int64_t extra, int job, int first, int last) {
  build.money.opening += budgets::Money::of_minor(extra);
  const planning::Staging staging = planning::to_staging(build);
  budgets::SolveOptions options;
  if (last >= 0) options.placements = {{job, first, last, true}};
  const budgets::Result result = budgets::solve(budgets::Problem(staging.problem), options);
  if (const auto* proven = std::get_if<budgets::Proven>(&result)) return {proven->plan};
  REQUIRE(std::holds_alternative<budgets::Impossible>(result));
  return {};
}

/// Whether some best plan has the job by the stage (from 0).
bool moved(const build::Build& build, std::int64_t extra, int job, int stage) {
  const Best all = best(build, extra, job, 0, -1), with = best(build, extra, job, 0, stage);
  return with.possible() && budgets::compare(*with.plan, *all.plan) == 0;
}

struct Met {
  int stages = 0, impossible = 0, short_of_money = 0, moved = 0, never = 0;
};

/// The words tell an amount of money wherever programs are told one, and say that none does it only where
/// none is.
void check_words(const build::Build& build, const WhyStage& stage) {
  const std::string all = joined(stage.sentences);
  const budgets::LeastExtra& cash = stage.cash;
  std::vector<std::string> known;
  for (const budgets::Least* one : {&cash.allows, &cash.as_good, &cash.best}) {
    if (one->at_most && *one->at_most > 0)
      known.push_back("With " + planning::money_text(build, budgets::Money::of_minor(*one->at_most)) +
                      " more at the start");
  }
  CAPTURE(all);
  const bool told = std::any_of(known.begin(), known.end(), [&](const std::string& amount) {
    return all.find(amount) != std::string::npos;
  });
  const bool there = cash.best.at_most == 0 || cash.as_good.at_most == 0;
  CHECK((told || there || known.empty()));
  CHECK((known.empty() || all.find("No amount of money moves it there.") == std::string::npos));
}

void check_stage(const build::Build& build, int job, const WhyStage& stage, Met& met) {
  const int at = stage.number - 1;
  ++met.stages;
  CHECK_FALSE(stage.sentences.empty());
  check_words(build, stage);
  const bool possible = best(build, 0, job, at, at).possible();
  CHECK(stage.possible == (possible ? budgets::Possible::yes : budgets::Possible::no));
  met.impossible += possible ? 0 : 1;
  if (!possible) CHECK_FALSE(stage.stopped_by.empty());
  const budgets::Least &allows = stage.cash.allows, &moves = stage.cash.best;
  if (!possible && allows.at_most) {
    ++met.short_of_money;
    REQUIRE(allows.exact());
    CHECK(best(build, *allows.at_most, job, at, at).possible());
    CHECK_FALSE(best(build, *allows.at_most - 1, job, at, at).possible());
  }
  if (moves.never) {
    ++met.never;
    CHECK_FALSE(moved(build, 100'000'000, job, at));
    return;
  }
  ++met.moved;
  REQUIRE(moves.exact());
  CHECK(moved(build, *moves.at_most, job, at));
  if (*moves.at_most > 0) CHECK_FALSE(moved(build, *moves.at_most - 1, job, at));
}

}  // namespace

TEST_CASE("money that is short is told with the payday and the exact amount") {
  const BuildText text{.jobs = R"("a": {"name": "engine", "want": 5, "hours": 1, "cost": 250.00})"};
  CHECK(
      told(text, "a", 1) ==
      "Stage 1 cannot have it, because of money.\n"
      "Money would be short by 50.00 EUR on the payday of 2027-01-01 (stage 1), whatever else is left out.\n"
      "With 50.00 EUR more at the start a best plan has it in stage 1; with any less, none has.\n"
      "No bench time in stage 1 by itself moves it there.\n");
}

TEST_CASE("bench hours that are short are told with what there is and what it takes") {
  const BuildText text{.bench = R"("hours": 3, "days_after_payday": 3, "bother": 0,
                                   "stages": [{"stage": 1, "hours": 1, "why": "guests"}])",
                       .jobs = R"("a": {"name": "paint", "want": 5, "hours": 2.5})"};
  CHECK(told(text, "a", 1) ==
        "Stage 1 cannot have it, because of bench hours.\n"
        "Stage 1 has 1 h on the bench; it takes 2.5 h with what has to come off or be done with it or before "
        "it.\n"
        "With 1.5 h more there it could be.\n"
        "No amount of money moves it there.\n"
        "With 1.5 h more on the bench in stage 1 a best plan has it in stage 1; with any less, none has.\n");
}

TEST_CASE("goods that come too late are told with the day they come") {
  const BuildText text{
      .suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 20})",
      .articles =
          R"("lamp": {"name": "brass lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 9}]})",
      .jobs = R"("a": {"name": "lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]})"};
  CHECK(told(text, "a", 1) ==
        "Stage 1 cannot have it, because of delivery.\n"
        "brass lamp arrives on 2027-01-21 at the earliest; the bench date is 2027-01-04.\n"
        "No amount of money moves it there.\n"
        "No bench time in stage 1 by itself moves it there.\n");
}

TEST_CASE("a date that stands in the way is told, the job's own or that of what belongs to it") {
  const BuildText text{.jobs = R"("a": {"name": "hull", "want": 1, "hours": 1, "not_before": "2027-02-01"},
                 "b": {"name": "mast", "want": 5, "hours": 1, "after": ["a"]})"};
  CHECK(told(text, "a", 1)
            .find("Stage 1 cannot have it, because of dates.\n"
                  "It may not be done before 2027-02-01.\n") == 0);
  CHECK(told(text, "b", 1)
            .find("Stage 1 cannot have it, because of dates.\n"
                  "hull, which belongs to it, may not be done before 2027-02-01.\n"
                  "It would also be possible if this gave way: order of jobs.\n") == 0);
}

TEST_CASE("a stage that could have it is told with what it displaces") {
  const BuildText text{.jobs = R"("a": {"name": "tent", "want": 6, "hours": 1, "cost": 150.00},
                                  "b": {"name": "stove", "want": 5, "hours": 1, "cost": 150.00})"};
  const std::string sentences = told(text, "b", 1);
  CHECK(sentences.find("Stage 1 can have it, but the best plan with it there is worth 1.0 want-months less.\n"
                       "There it would move tent (stage 1 to stage 2).\n"
                       "With 100.00 EUR more at the start a best plan has it in stage 1; with any less, none "
                       "has.\n") == 0);
}

TEST_CASE("musts of others and one-of choices are told where they alone stand in the way") {
  const BuildText text{.jobs =
                           R"("a": {"name": "red", "must": true, "want": 1, "hours": 1, "one_of": "colour"},
                              "b": {"name": "blue", "want": 5, "hours": 1, "one_of": "colour"})"};
  const std::string sentences = told(text, "b", 2);
  CHECK(sentences.find("Stage 2 cannot have it, because of one-of choices.\n"
                       "blue and red are of one choice ('colour'), and red has to be done.\n"
                       "It would also be possible if this gave way: other musts.\n") == 0);
}

TEST_CASE("a job in the first stage has no earlier one, and a job left out is asked about in all") {
  const planning::Standing standing{BuildText{.jobs = R"("a": {"name": "a", "want": 5, "hours": 1},
                           "b": {"name": "b", "want": 5, "hours": 1, "cost": 5000})"}
                                        .read(),
                                    {},
                                    {}};
  CHECK(ask(standing, "a").stages.empty());
  CHECK(ask(standing, "a").stage == 1);
  CHECK(ask(standing, "b").stages.size() == 4);
  CHECK(ask(standing, "b").stage == 0);
  CHECK_FALSE(ask(standing, "b").left_out.empty());
  CHECK_THROWS_AS(planning::why(standing, "c", 0), std::invalid_argument);
}

TEST_CASE("amounts that move a job are exact when random builds are planned anew with them") {
  Met met;
  const int wanted = test::cases(40);
  for (int seed = 1; seed <= wanted; ++seed) {
    CAPTURE(seed);
    const planning::Standing standing{test::random_build(static_cast<std::uint64_t>(seed) + 700'000), {}, {}};
    const build::Build& build = *standing.build;
    if (build::has_errors(planning::check(build))) continue;
    for (std::size_t j = 0; j < build.jobs.size(); ++j) {
      CAPTURE(j);
      const planning::WhyAnswer answer = planning::why(standing, build.jobs[j].id, 0);
      if (std::holds_alternative<planning::Conflict>(answer)) break;
      for (const WhyStage& stage : std::get<WhyReport>(answer).stages) {
        check_stage(build, static_cast<int>(j), stage, met);
      }
    }
  }
  MESSAGE(met.stages << " stages asked about: " << met.impossible << " impossible, " << met.short_of_money
                     << " for want of money; moved by an exact amount " << met.moved << ", never "
                     << met.never);
  if (wanted < 40) return;
  for (const int some : {met.impossible, met.short_of_money, met.moved, met.never}) CHECK(some > wanted / 10);
}

TEST_CASE("money that makes a plan as good, if never a best one, is told beside that") {
  // One bench hour a stage: the lamp or the seat. The bell asks for no time, and for more money than there
  // is.
  const BuildText text{.opening = "0.00",
                       .stages = "2",
                       .bench = R"("hours": 1, "days_after_payday": 3, "bother": 0)",
                       .jobs = R"("lamp": {"name": "lamp", "want": 9, "hours": 1, "cost": 100},
                 "seat": {"name": "seat", "want": 8, "hours": 1, "cost": 100},
                 "bell": {"name": "bell", "want": 9, "hours": 0, "cost": 84.99})"};
  const std::string all = told(text, "seat", 1);
  CHECK(all.find(
            "With 84.99 EUR more at the start a plan worth no less than this one has it in stage 1, but no "
            "amount of money makes that a best plan.") != std::string::npos);
  CHECK(all.find("No amount of money moves") == std::string::npos);
}

TEST_CASE("a choice that stops a stage is named with the job that has to be done") {
  const BuildText text{.jobs = R"("wax": {"name": "wax", "want": 5, "hours": 1, "after": ["left"]},
                 "left": {"name": "left cover", "want": 5, "hours": 1, "one_of": "cover"},
                 "right": {"name": "right cover", "must": true, "hours": 1, "one_of": "cover"})"};
  CHECK(told(text, "wax", 1)
            .find("left cover and right cover are of one choice ('cover'), and right cover has to "
                  "be done.") != std::string::npos);
}

TEST_CASE("bench hours that others need are told as theirs, not as hours that the job would need") {
  const BuildText text{.stages = "1",
                       .bench = R"("hours": 2, "days_after_payday": 3, "bother": 0)",
                       .jobs = R"("must": {"name": "brakes", "must": true, "hours": 1.5},
                                  "wish": {"name": "bell", "want": 5, "hours": 1})"};
  CHECK(told(text, "wish", 1)
            .find("Stage 1 has 2 h on the bench; it takes 1 h with what has to come off or be done with it "
                  "or before it, "
                  "and what has to be done by then takes the rest.") != std::string::npos);
}

TEST_CASE("dates of other musts that stop a stage are told with the musts") {
  const BuildText text{.bench = R"("hours": 2, "days_after_payday": 3, "bother": 0)",
                       .jobs = R"("must": {"name": "brakes", "must": true, "by": "2027-01-31", "hours": 1.5},
                                  "wish": {"name": "bell", "want": 5, "hours": 1})"};
  CHECK(told(text, "wish", 1)
            .find("Stage 1 cannot have it, because of dates.\n"
                  "brakes (by 2027-01-31) has to be done by then and takes what it would need.\n") == 0);
}
