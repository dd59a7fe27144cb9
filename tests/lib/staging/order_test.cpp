#include <algorithm>
#include <string>

#include "lib/build/read/read.hpp"
#include "lib/outcome/plan.hpp"
#include "tests/budgets/support/plan_text.hpp"
#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/staging/shuffled.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

template <class Entry>
std::vector<std::string> ids_of(const std::vector<Entry>& entries) {
  std::vector<std::string> ids;
  for (const Entry& entry : entries) ids.push_back(entry.id);
  return ids;
}

std::vector<std::string> ids_at(const build::Build& build, const std::vector<int>& table) {
  std::vector<std::string> ids;
  for (const int a : table) ids.push_back(build.articles[static_cast<std::size_t>(a)].id);
  return ids;
}

/// The plan of a build by ids, with bound and steps.
std::string plan_by_ids(const build::Build& build, const budgets::SolveOptions& options) {
  const planning::Staging staging = planning::to_staging(build);
  const testing::Names names{ids_of(build.jobs), ids_of(build.removals), ids_of(build.suppliers),
                             ids_at(build, staging.article_of), ids_at(build, staging.tool_of)};
  const budgets::Result result = budgets::solve(budgets::Problem(staging.problem), options);
  return testing::result_text(staging.problem, result, names);
}

/// An example of the folder `example-build`.
build::Build example(const std::string& name) {
  build::Reading reading = build::read_file(std::string(FETTLEFUND_SOURCE_DIR) + "/example-build/" + name);
  REQUIRE(reading.build);
  return *reading.build;
}

}  // namespace

TEST_CASE("the order of the entries of a build changes no plan") {
  const int cases = test::cases(200);
  int sound = 0;
  for (int seed = 1; seed <= cases; ++seed) {
    CAPTURE(seed);
    const build::Build build = test::random_build(static_cast<std::uint64_t>(seed) + 900'000);
    if (build::has_errors(planning::check(build))) continue;
    ++sound;
    testing::Random random(static_cast<std::uint64_t>(seed));
    budgets::SolveOptions options;
    if (random.chance(30)) options.steps = random.between(1, 30) * 1000;
    const build::Build other = test::shuffled(build, random);
    REQUIRE(plan_by_ids(build, options) == plan_by_ids(other, options));
  }
  MESSAGE(sound << " builds of " << cases);
  CHECK(sound > cases / 2);
}

TEST_CASE("the order of the entries of the example builds changes no plan") {
  testing::Random random(1);
  budgets::SolveOptions options;
  options.steps = 100'000'000;
  for (const char* name : {"camper.build", "outfit.build"}) {
    CAPTURE(name);
    const build::Build build = example(name);
    const std::string plan = plan_by_ids(build, options);
    REQUIRE(plan.starts_with("value "));
    for (int draw = 0; draw < 3; ++draw) CHECK(plan_by_ids(test::shuffled(build, random), options) == plan);
  }
}

TEST_CASE("of two shops alike the plan buys from the one whose id comes first") {
  build::Build build = example("camper.build");
  for (const bool turned : {false, true}) {
    CAPTURE(turned);
    build::Build two = build;
    for (build::Article& article : two.articles) {
      if (article.offers.empty()) continue;
      build::Offer offer = article.offers.front();
      article.offers = {offer, offer};
    }
    build::Supplier alike = two.suppliers.front();
    alike.id = "a-shop-alike";
    for (build::Article& article : two.articles) {
      for (build::Offer& offer : article.offers) offer.supplier = two.suppliers.front().id;
      if (!article.offers.empty()) article.offers[turned ? 0 : 1].supplier = alike.id;
    }
    two.suppliers.push_back(alike);
    budgets::SolveOptions options;
    options.steps = 100'000'000;
    const std::string plan = plan_by_ids(two, options);
    CHECK(plan.find("from " + alike.id) != std::string::npos);
    CHECK(plan.find("from " + two.suppliers.front().id) == std::string::npos);
  }
}
