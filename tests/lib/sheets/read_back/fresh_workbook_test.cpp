#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "lib/outcome/plan.hpp"
#include "lib/sheets/book/workbook.hpp"
#include "lib/sheets/read_back/settle.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/cases.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using testing::Random;

namespace {

/// Texts as the reader lets them in: signs of formulas, escapes of the file format, blanks at the ends,
/// characters beyond U+FFFF, a combining mark alone, quotes.
std::string odd_text(Random& random, const std::string& plain) {
  static const std::vector<std::string> texts = {"=1+1",
                                                 "_x0041_ bolt",
                                                 " blanks around ",
                                                 "<&>\"'",
                                                 "\xF0\x9F\x98\x80\xF0\x9F\x98\x80",
                                                 "\xCC\x81 alone",
                                                 "-5",
                                                 "2027-01-01",
                                                 "x",
                                                 "7",
                                                 "@\xEF\xBF\xBD|",
                                                 "Key",
                                                 "Paid"};
  return random.chance(50) ? plain
                           : texts[static_cast<std::size_t>(random.below(static_cast<int>(texts.size())))];
}

build::Torque odd_torque(Random& random) {
  return {odd_text(random, "axle nut"), std::to_string(random.between(5, 90)) + " Nm", "the manual", "", 1};
}

template <class Entry>
void decorate(Random& random, Entry& entry) {
  static const std::vector<std::string> tags = {"filament bulb", "bearing drawn", "cable end",
                                                "adhesive joint"};
  entry.name = odd_text(random, entry.name);
  for (const std::string& tag : tags)
    if (random.chance(40)) entry.tags.push_back(tag);
  if (random.chance(30)) entry.helper = true;
  if (random.chance(30)) entry.torques.push_back(odd_torque(random));
  if (random.chance(30)) entry.torques.push_back(odd_torque(random));
  if (random.chance(40))
    entry.checks.push_back({odd_text(random, "play"), odd_text(random, "none"), "0 to 1 mm"});
}

void decorate_job(Random& random, build::Job& job) {
  decorate(random, job);
  if (random.chance(30)) job.cost = budgets::Money::of_minor(random.between(1, 200));
  if (random.chance(50)) job.steps.push_back({odd_text(random, "fit it"), "", {}, random.chance(30)});
  if (random.chance(30)) job.steps.push_back({odd_text(random, "look at it"), "", {}, false});
  if (random.chance(30)) job.cautions.push_back(odd_text(random, "mind the edge"));
  job.manual = odd_text(random, "");
  job.note = odd_text(random, "");
}

/// One id for a removal and a job, wherever they are named.
void share_an_id(build::Build& build) {
  if (build.removals.empty() || build.jobs.empty()) return;
  const build::Id shared = build.jobs.front().id, old = build.removals.front().id;
  const auto rename = [&](std::vector<build::Id>& ids) { std::replace(ids.begin(), ids.end(), old, shared); };
  build.removals.front().id = shared;
  for (build::Removal& removal : build.removals) rename(removal.needs);
  for (build::Job& job : build.jobs) rename(job.removals);
  for (build::Fitted& fitted : build.fitted) rename(fitted.reached_by);
}

build::Build odd_build(std::uint64_t seed) {
  build::Build build = test::random_build(seed);
  Random random(seed + 77);
  build.name = odd_text(random, build.name);
  for (build::Supplier& supplier : build.suppliers) supplier.name = odd_text(random, supplier.name);
  for (build::Article& article : build.articles) article.name = odd_text(random, article.name);
  for (build::Removal& removal : build.removals) decorate(random, removal);
  for (build::Job& job : build.jobs) decorate_job(random, job);
  if (random.chance(50)) build.money.allowance_bp = random.between(0, 1000);
  if (random.chance(50)) build.cautions.push_back(odd_text(random, "a caution"));
  if (random.chance(50)) share_an_id(build);
  return build;
}

/// What a workbook tells in which nobody typed; empty: nothing.
std::string told_by_fresh(const planning::Outcome& outcome) {
  const sheets::Readback back = sheets::read_back(test::TypedWorkbook(outcome).stored());
  log::Log log;
  log.currency = outcome.build->currency;
  const sheets::Settled settled = sheets::settle(back, *outcome.build, log, budgets::make_date(2030, 1, 1));
  std::string all = test::told(settled.remarkable);
  for (const sheets::Proposed& one : settled.proposed)
    all += one.sheet + " " + one.cell + ": " + log::in_words(one.entry.event, outcome.build->currency) + "\n";
  if (back.ticks_for_the_eye > 0) all += "ticks\n";
  return all;
}

}  // namespace

TEST_CASE("a workbook in which nobody typed tells nothing whatever the build") {
  const int wanted = test::cases(100);
  int written = 0;
  budgets::SolveOptions options;
  options.effort = budgets::Effort::quick;
  for (int seed = 1; seed <= wanted; ++seed) {
    CAPTURE(seed);
    const build::Build build = odd_build(static_cast<std::uint64_t>(seed));
    if (build::has_errors(planning::check(build))) continue;
    const planning::Planning planning = planning::plan(build, options);
    const auto* outcome = std::get_if<planning::Outcome>(&planning);
    if (outcome == nullptr) continue;
    ++written;
    CHECK(told_by_fresh(*outcome) == "");
  }
  MESSAGE(written << " workbooks of " << wanted << " builds");
  CHECK(written > wanted / 4);
}

TEST_CASE("a job and a removal of one id with a tag in common give no two rows of one key") {
  test::BuildText text;
  text.removals = R"("lamp": {"name": "Lamp off", "hours_off": 1, "hours_on": 1, "tags": ["filament bulb"]})";
  text.jobs = R"("lamp": {"name": "Fit the lamp", "want": 5, "hours": 1, "removals": ["lamp"],
    "tags": ["filament bulb"]})";
  const build::Build build = text.read();
  const planning::Outcome outcome = test::planned(build);
  std::set<std::string> keys;
  for (const auto& reminder : outcome.stages.front().reminders) keys.insert(reminder.key);
  CHECK(!outcome.stages.front().reminders.empty());  // what is needed twice stands in one row
  CHECK(keys.size() == outcome.stages.front().reminders.size());
  CHECK(keys.count("bulb-spare@removal:lamp@1") == 1);
  CHECK(told_by_fresh(outcome) == "");
}

TEST_CASE("each torque that no owned tool covers has a row of its own among the tools") {
  test::BuildText text;
  text.jobs = R"("bolts": {"name": "Tighten", "want": 5, "hours": 1, "torques": [
    {"on": "bolt", "value": "10 Nm", "source": "the manual"},
    {"on": "nut", "value": "20 Nm", "source": "the manual"}]})";
  const build::Build build = text.read();
  const planning::Planning planning = planning::plan(build);
  const auto& outcome = std::get<planning::Outcome>(planning);
  CHECK(outcome.tools.size() == 2);
  CHECK(told_by_fresh(outcome) == "");
}
