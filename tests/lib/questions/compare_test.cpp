#include "lib/questions/compare.hpp"

#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::Changed;
using planning::CompareColumn;
using planning::Comparison;
using test::BuildText;

namespace {

budgets::Money cents(std::int64_t amount) { return budgets::Money::of_minor(amount); }

build::Build sample() {
  return BuildText{
      .articles = R"("rope": {"name": "rope", "kind": "part", "offers": [
                       {"supplier": "shop", "price": {"low": 18.00, "likely": 20.00, "high": 26.00}}]})",
      .jobs =
          R"("mast": {"name": "mast", "want": 6, "hours": 4, "cost": 180.00, "uses": [{"article": "rope"}]},
                 "deck": {"name": "deck", "want": 5, "hours": 8, "cost": 90.00},
                 "flag": {"name": "flag", "want": 1, "hours": 1, "cost": 5.00, "after": ["mast"]})"}
      .read();
}

std::string refused(const std::string& text) {
  build::Build build = sample();
  return planning::change(build, text);
}

build::Build with(const std::string& text) {
  build::Build build = sample();
  REQUIRE(planning::change(build, text) == "");
  return build;
}

}  // namespace

TEST_CASE("each change changes the one figure it names") {
  CHECK(with("amount=300").money.amount == cents(30'000));
  CHECK(with("opening=-5.50").money.opening == cents(-550));
  CHECK(with("keep-back=12").money.keep_back == cents(1200));
  CHECK(with("allowance=2.5").money.allowance_bp == 250);
  CHECK(with("hours=7.5").bench.minutes == 450);
  CHECK(with("want:mast=9").jobs[0].want == 9);
  CHECK(with("must:deck").jobs[1].must);
  CHECK(with("by:deck=2027-03-01").jobs[1].by == budgets::make_date(2027, 3, 1));
  CHECK(with("by:deck=2027-03-01").jobs[1].must);
  CHECK(with("extra:2027-02-10=40").money.extras.size() == 1);
  CHECK(with("price:rope=9.99").articles[0].offers[0].price.likely == cents(999));
  CHECK(with("price:rope=+1.50").articles[0].offers[0].price.likely == cents(2150));
  CHECK(with("price:rope=-18").articles[0].offers[0].price.low == cents(0));
}

TEST_CASE("a change that cannot be is refused and says what was expected, and leaves the build as it is") {
  for (const char* text : {"amount=-1", "amount=", "amount", "amount=1.234", "hours=0.01", "hours=x",
                           "want:mast=11", "want:mast=1.5", "drop:mast=1", "by:mast=soon", "price:rope=-19",
                           "allowance=101", "extra:2027-02-30=4", "keep-back=12 EUR", ""}) {
    CAPTURE(text);
    build::Build build = sample();
    CHECK(planning::change(build, text) != "");
    CHECK(build.money.amount == sample().money.amount);
    CHECK(build.articles[0].offers[0].price.low == cents(1800));
  }
  CHECK(refused("amuont=3").find("did you mean 'amount'?") != std::string::npos);
  CHECK(refused("want:mats=3").find("did you mean 'mast'?") != std::string::npos);
  CHECK(refused("price:ropes=3").find("did you mean 'rope'?") != std::string::npos);
}

TEST_CASE("a dropped job is not done, nor what comes after it") {
  const build::Build build = sample();
  const Comparison all = planning::compare(build, {{"drop:mast", with("drop:mast")}});
  REQUIRE(all.columns.size() == 2);
  CHECK(all.columns[0].jobs_done == 3);
  CHECK(all.columns[1].stage_of == std::vector<int>{0, 1, 0});
  CHECK(all.columns[1].jobs_done == 1);
}

TEST_CASE("columns are what planning each build by itself gives, on random builds") {
  for (int seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const build::Build build = test::random_build(static_cast<std::uint64_t>(seed) + 800'000);
    build::Build richer = build;
    richer.money.amount += cents(7);
    if (build::has_errors(planning::check(build)) || build::has_errors(planning::check(richer))) continue;
    const Comparison all = planning::compare(build, {{"richer", richer}});
    for (const build::Build* one : {&build, static_cast<const build::Build*>(&richer)}) {
      const CompareColumn& column = all.columns[one == &build ? 0 : 1];
      const planning::Planning planning = planning::plan(*one);
      const auto* outcome = std::get_if<planning::Outcome>(&planning);
      CHECK(column.planned == (outcome != nullptr));
      CHECK(column.impossible == std::holds_alternative<planning::Conflict>(planning));
      if (outcome == nullptr) continue;
      CHECK(column.value_want_days == outcome->value_want_days);
      CHECK(column.spent == outcome->spent);
      CHECK(column.left == outcome->left);
    }
  }
}

TEST_CASE("a frontier of a small build tells the exact amount with which a job fits") {
  const build::Build build =
      BuildText{.jobs = R"("a": {"name": "engine", "want": 5, "hours": 1, "cost": 333.33})"}.read();
  const planning::FrontierReport report =
      planning::frontier(build, {cents(5000), cents(10'000), cents(15'000)});
  REQUIRE(report.rows.size() == 3);
  CHECK(report.complete_from == cents(5000));
  // 100.00 and n paydays come to 333.33: from 58.34 in stage 4, 77.78 in stage 3, 116.67 in stage 2.
  REQUIRE(report.changes.size() == 3);
  CHECK(report.changes[0].at.amount == cents(5834));
  CHECK(report.changes[1].at.amount == cents(7778));
  CHECK(report.changes[2].at.amount == cents(11'667));
  CHECK(report.changes[2].moves == std::vector<std::string>{"engine: stage 3 to stage 2"});
  CHECK(report.rows[0].jobs_done == 0);
  CHECK_FALSE(report.rows[0].finish);
  CHECK(report.rows[1].finish == budgets::make_date(2027, 3, 4));
  CHECK(report.rows[1].left == cents(50'000 - 33'333));
}

TEST_CASE("rows of a frontier are what planning each amount by itself gives, on random builds") {
  for (int seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    build::Build build = test::random_build(static_cast<std::uint64_t>(seed) + 810'000);
    if (build::has_errors(planning::check(build))) continue;
    const planning::FrontierReport report = planning::frontier(build, {cents(5), cents(20), cents(45)});
    for (const planning::FrontierRow& row : report.rows) {
      build.money.amount = row.amount;
      const planning::Planning planning = planning::plan(build);
      const auto* outcome = std::get_if<planning::Outcome>(&planning);
      REQUIRE(row.planned == (outcome != nullptr));
      if (outcome == nullptr) continue;
      CHECK(row.proven);
      CHECK(row.value_want_days == outcome->value_want_days);
      CHECK(row.spent == outcome->spent);
      CHECK(row.left == outcome->left);
    }
  }
}
