#include "lib/check/hints.hpp"

#include "lib/goods/forgotten.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildMaker;

namespace {

/// What is hinted, without the place in the file.
std::string said(const build::Build& build) {
  std::string all;
  for (build::Diagnostic one : planning::hints(build)) {
    CHECK(one.severity == build::Severity::hint);
    one.file.clear();
    one.place = {};
    all += build::to_text(one).substr(2) + "\n";
  }
  return all;
}

}  // namespace

TEST_CASE("a job with neither kind nor tag is told what its name suggests") {
  BuildMaker maker;
  maker.job("a").name = "Renew the wheel bearings";
  CHECK(said(maker.build()) ==
        "hint: /jobs/a: found neither kind nor tag, expected a \"kind\", perhaps \"wheel bearings\": without "
        "it "
        "no reminder speaks\n");
  maker.build().jobs[0].name = "Write to the aunt";
  CHECK(
      said(maker.build()) ==
      "hint: /jobs/a: found neither kind nor tag, expected a \"kind\" that `fettlefund work` lists, or tags: "
      "without them no reminder speaks\n");
}

TEST_CASE("where most jobs are of one trade no other trade's kinds are suggested") {
  BuildMaker maker;
  maker.job("a").name = "Rebed the fittings";
  maker.build().jobs[0].uses = {{"tube", 1000}};
  maker.article("tube").name = "Sealant";
  CHECK(said(maker.build()).find("perhaps \"tubeless tyre\"") != std::string::npos);
  maker.job("b").kind = "antifouling";
  maker.job("c").name = "Rudder and steering";
  CHECK(said(maker.build()).find("tubeless") == std::string::npos);
  CHECK(said(maker.build()).find("perhaps \"rudder and steering\"") != std::string::npos);
}

TEST_CASE("what a job uses and its steps suggest a kind where its name does not") {
  BuildMaker maker;
  auto& job = maker.job("a");
  job.name = "Saturday";
  job.uses = {{"kit", 1000}};
  maker.article("kit").name = "Chain and sprockets";
  CHECK(said(maker.build()).find("perhaps \"chain and sprockets\"") != std::string::npos);
  maker.build().jobs[0].uses.clear();
  maker.build().jobs[0].steps = {test::step("Fill in fresh coolant")};
  CHECK(said(maker.build()).find("perhaps \"coolant\"") != std::string::npos);
}

TEST_CASE("a tag that calls for nothing is always told, with the kinds that go by it") {
  BuildMaker maker;
  maker.job("a").tags = {"springs", "my own word", "split pin"};
  maker.removal("r").tags = {"fork"};
  CHECK(
      said(maker.build()) ==
      "hint: /jobs/a/tags/0: found \"springs\", expected a tag that a rule or caution goes by; this one "
      "calls "
      "for nothing; as a job's \"kind\": \"air or leaf springs\", \"fork springs\" or \"shock absorber\"\n"
      "hint: /jobs/a/tags/1: found \"my own word\", expected a tag that a rule or caution goes by; this one "
      "calls for nothing\n"
      "hint: /removals/r/tags/0: found \"fork\", expected a tag that a rule or caution goes by; this one "
      "calls for nothing; as a job's \"kind\": \"bicycle fork\" or \"fork service\"\n");
}

TEST_CASE("a tag that calls for a caution only is told which kinds go by it, unless a reminder speaks") {
  BuildMaker maker;
  maker.job("a").tags = {"tyre"};
  CHECK(
      said(maker.build()) ==
      "hint: /jobs/a/tags/0: found \"tyre\", expected a \"kind\" besides, perhaps \"bicycle tyre\", \"inner "
      "tube and rim tape\", \"motorcycle tyre\" or others: this tag calls for a caution, for no reminder\n");
  maker.build().jobs[0].tags.push_back("split pin");
  CHECK(said(maker.build()) == "");
  maker.build().jobs[0].tags = {"tyre"};
  maker.build().jobs[0].kind = "motorcycle tyre";
  maker.build().jobs[0].minutes = 90;
  CHECK(said(maker.build()) == "");
}

// Words that home builders put under "tags" when asked what a job is about.
TEST_CASE("no natural word as a tag is passed over in silence") {
  for (const char* word :
       {"springs", "fork",     "wiring",     "tyre",        "wheel", "exhaust", "brake fluid",
        "chain",   "bearings", "gasket",     "carburettor", "oil",   "coolant", "battery",
        "lamp",    "cable",    "hose",       "paint",       "glue",  "bolt",    "spokes",
        "petrol",  "window",   "insulation", "gas",         "deck",  "rivets"}) {
    BuildMaker maker;
    maker.job("a").tags = {word};
    const bool reminds = !goods::forgotten_of_job(maker.build(), 0).empty();
    CHECK_MESSAGE((reminds || said(maker.build()).find("\"kind\"") != std::string::npos), word);
  }
}

TEST_CASE("between several articles that serve check asks") {
  BuildMaker maker;
  maker.job("a").tags = {"gasket joint"};
  maker.article("gasket");
  maker.article("paper").serves = {"gasket"};
  CHECK(said(maker.build()) ==
        "hint: /jobs/a: found several articles for \"New gasket\": gasket, paper, expected one of them under "
        "\"uses\" or \"one_use\", or with this id in its \"for\"; until then none is bought\n");
  maker.build().articles[0].serves_for = {"a"};
  CHECK(said(maker.build()) == "");
}

TEST_CASE("hours far from what the kind usually takes are asked about") {
  BuildMaker maker;
  auto& job = maker.job("a");
  job.kind = "bicycle tyre";
  job.minutes = 600;
  CHECK(said(maker.build()) ==
        "hint: /jobs/a/hours: found 10, expected 0.25 to 1 hours, as \"bicycle tyre\" usually takes without "
        "what "
        "comes off, or a good reason\n");
  maker.build().jobs[0].minutes = 30;
  CHECK(said(maker.build()) == "");
}
