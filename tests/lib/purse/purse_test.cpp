#include "lib/report/text/purse.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "lib/purse/joint.hpp"
#include "lib/purse/plan.hpp"
#include "lib/report/files/csv.hpp"
#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using budgets::Money;
using test::BuildText;
namespace fs = std::filesystem;

namespace {

constexpr const char* money = R"({"opening": 100.00, "keep_back": 0.00, "amount": 100.00, "stages": 4,
  "paydays": {"day_of_month": 1, "from": "2027-01-01", "holidays": []}})";
constexpr const char* bench = R"({"hours": 10, "days_after_payday": 3, "bother": 0})";

class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "fettlefund-purse-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }
  std::string put(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return (path_ / name).string();
  }
  /// A purse of these builds.
  purse::Reading read(const std::string& builds, const std::string& its_money = money,
                      const std::string& its_bench = bench) const {
    return purse::read_file(
        put("shed.purse", R"({"fettlefund_purse": 1, "name": "The shed", "currency": "EUR",
 "money": )" + its_money + R"(, "bench": )" +
                              its_bench + R"(, "builds": )" + builds + "}\n"));
  }
  std::string told(const purse::Reading& reading) const {
    std::string all;
    for (const build::Diagnostic& one : reading.diagnostics) all += build::to_text(one) + "\n";
    const std::string folder = path_.string() + "/";
    for (std::size_t at; (at = all.find(folder)) != std::string::npos;) all.erase(at, folder.size());
    return all;
  }

 private:
  fs::path path_;
};

/// Of one supplier with delivery: a seat for a must, a lamp for a wish.
BuildText bike() {
  return {
      .suppliers = R"("shop": {"name": "Corner Shop", "delivery": 6, "free_from": 150})",
      .articles = R"("seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 90}]},
            "lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 40}]})",
      .jobs = R"("sit": {"name": "Fit the seat", "want": 9, "hours": 4, "uses": ["seat"]},
            "light": {"name": "Fit the lamp", "want": 5, "hours": 2, "uses": ["lamp"]})"};
}

BuildText van() {
  return {
      .suppliers = R"("shop": {"name": "Corner Shop", "delivery": 6, "free_from": 150})",
      .articles = R"("bed": {"name": "Bed", "kind": "part", "offers": [{"supplier": "shop", "price": 70}]},
            "hook": {"name": "Hook", "kind": "part", "offers": [{"supplier": "shop", "price": 5}]})",
      .jobs = R"("sleep": {"name": "Fit the bed", "want": 7, "hours": 6, "uses": ["bed"]},
            "hang": {"name": "Fit the hook", "must": true, "by": "2027-02-28", "hours": 1, "uses": ["hook"]})"};
}

purse::Outcome planned(const purse::Purse& purse) {
  purse::Planning planning = purse::plan(purse);
  REQUIRE(std::holds_alternative<purse::Outcome>(planning));
  return std::get<purse::Outcome>(std::move(planning));
}

purse::Purse purse_of(std::vector<build::Build> builds) {
  purse::Purse purse{"shed.purse", "The shed", {}};
  for (build::Build& one : builds) {
    const build::Build& first = purse.members.empty() ? one : purse.members.front().build;
    one.money = build::MoneyPlan(first.money);
    one.bench = build::Bench(first.bench);
    const std::string id = "b" + std::to_string(purse.members.size());
    purse.members.push_back({id, id + ".build", std::move(one)});
  }
  return purse;
}

/// All ids and references with a prefix, suppliers apart: so two builds stand in one file without meeting.
build::Build renamed(build::Build build, const std::string& with) {
  const auto all = [&](std::vector<build::Id>& ids) {
    for (build::Id& id : ids) id = with + id;
  };
  const auto uses = [&](std::vector<build::Use>& list) {
    for (build::Use& one : list) one.article = with + one.article;
  };
  for (build::Article& one : build.articles) {
    one.id = with + one.id;
    all(one.serves_for);
  }
  for (build::OnHand& one : build.on_hand) one.article = with + one.article;
  for (build::Job& one : build.jobs) {
    one.id = with + one.id;
    all(one.removals), all(one.after), all(one.together_with), all(one.tools);
    uses(one.uses);
    if (!one.one_of.empty()) one.one_of = with + one.one_of;
  }
  return build;
}

build::Build both_in_one(const build::Build& a, const build::Build& b) {
  build::Build all = renamed(a, "a-");
  const build::Build other = renamed(b, "b-");
  for (const build::Supplier& one : other.suppliers) {
    const bool known = std::any_of(all.suppliers.begin(), all.suppliers.end(),
                                   [&](const build::Supplier& there) { return there.id == one.id; });
    if (!known) all.suppliers.push_back(one);
  }
  all.articles.insert(all.articles.end(), other.articles.begin(), other.articles.end());
  all.on_hand.insert(all.on_hand.end(), other.on_hand.begin(), other.on_hand.end());
  all.jobs.insert(all.jobs.end(), other.jobs.begin(), other.jobs.end());
  return all;
}

/// The parts of a purse's plan add up to it, and every part's reserve is the purse's.
void check_sums(const purse::Outcome& outcome) {
  Money cash = outcome.build->money.opening;
  for (std::size_t t = 0; t < outcome.stages.size(); ++t) {
    const purse::StageSum& sum = outcome.stages[t];
    Money spent;
    std::int64_t minutes = 0;
    for (const Money part : sum.spent_by) spent += part;
    CHECK(spent == sum.spent);
    cash += sum.cash_in - sum.spent;
    CHECK(cash == sum.cash_after);
    CHECK(sum.cash_after >= sum.floor);
    for (const purse::Share& share : outcome.shares) {
      const planning::StageView& own = share.outcome.stages[t];
      const Money before = t == 0 ? outcome.build->money.opening : outcome.stages[t - 1].cash_after;
      CHECK(own.cash_after == sum.cash_after);
      CHECK(before + own.cash_in - own.spent == own.cash_after);
      CHECK(own.goods + own.delivery + own.hire + own.fees + own.allowance == own.spent);
      CHECK(own.minutes_used <= own.minutes_limit);
      minutes += own.minutes_used;
    }
    CHECK(minutes == sum.minutes_used);
    CHECK(minutes <= sum.minutes_limit);
  }
}

}  // namespace

TEST_CASE("a purse of one build plans as the build alone") {
  const build::Build alone = bike().read();
  const planning::Outcome single = test::planned(alone);
  const purse::Outcome outcome = planned(purse_of({alone}));
  CHECK(outcome.whole.value_want_days == single.value_want_days);
  CHECK(outcome.whole.spent == single.spent);
  CHECK(report::shopping_csv(outcome.shares[0].outcome) == report::shopping_csv(single));
  check_sums(outcome);
}

TEST_CASE("a purse of two builds plans as one build that holds both") {
  const build::Build a = bike().read(), b = van().read(), both = both_in_one(a, b);
  const planning::Outcome single = test::planned(both);
  const purse::Outcome outcome = planned(purse_of({a, b}));
  CHECK(outcome.whole.proof == planning::Proof::proven);
  CHECK(outcome.whole.value_want_days == single.value_want_days);
  CHECK(outcome.whole.spent == single.spent);
  for (std::size_t t = 0; t < single.stages.size(); ++t) {
    CHECK(outcome.stages[t].spent == single.stages[t].spent);
    CHECK(outcome.stages[t].cash_after == single.stages[t].cash_after);
    CHECK(outcome.stages[t].floor == single.stages[t].floor);
  }
  check_sums(outcome);
}

TEST_CASE("random builds on one purse add up, and one alone plans as without it") {
  int met = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const build::Build a = test::random_build(seed), b = test::random_build(seed + 1000);
    if (build::has_errors(planning::check(a)) || build::has_errors(planning::check(b))) continue;
    const planning::Planning single = planning::plan(a);
    const purse::Planning alone = purse::plan(purse_of({a}));
    CHECK(single.index() == alone.index());
    if (const auto* one = std::get_if<planning::Outcome>(&single)) {
      CHECK(std::get<purse::Outcome>(alone).whole.value_want_days == one->value_want_days);
      CHECK(std::get<purse::Outcome>(alone).whole.spent == one->spent);
    }
    build::Build other = b;  // suppliers of its own
    for (build::Supplier& one : other.suppliers) one.id += "-b";
    for (build::Article& one : other.articles) {
      for (build::Offer& offer : one.offers) offer.supplier += "-b";
    }
    const purse::Planning two = purse::plan(purse_of({a, other}));
    if (!std::holds_alternative<purse::Outcome>(two)) continue;
    check_sums(std::get<purse::Outcome>(two));
    ++met;
  }
  CHECK(met >= 3);
}

TEST_CASE("what two builds order at one supplier on a payday is one order with one delivery") {
  const Folder folder;
  folder.put("bike.build", bike().text());
  folder.put("van.build", van().text());
  const purse::Reading reading = folder.read(R"({"bike": "bike.build", "van": "van.build"})",
                                             R"({"opening": 500, "keep_back": 0, "amount": 0, "stages": 2,
                      "paydays": {"day_of_month": 1, "from": "2027-01-01", "holidays": []}})");
  CHECK(folder.told(reading) == "");
  REQUIRE(reading.purse);
  const purse::Outcome outcome = planned(*reading.purse);
  // 90 + 40 + 70 + 5, all wanted at once: above the free-from amount together, below it apart.
  CHECK(outcome.stages[0].spent == Money::of_minor(20500));
  CHECK(outcome.shares[0].outcome.stages[0].orders[0].delivery == Money());
  CHECK_FALSE(outcome.shares[1].outcome.stages[0].orders[0].free_from.has_value());
  check_sums(outcome);
}

TEST_CASE("the overview tells the reserve that the builds share, and each build its own part") {
  const Folder folder;
  folder.put("bike.build", bike().text());
  folder.put("van.build", van().text());
  const purse::Reading reading = folder.read(R"({"bike": "bike.build", "van": "van.build"})");
  REQUIRE(reading.purse);
  const std::string text = report::purse_text(planned(*reading.purse));
  CHECK(text.starts_with(
      "The shed\n2 builds on one purse. 4 stages, amounts in EUR, opening cash 100.00, at least\n"
      "0.00 kept back.\n\nStage  Payday"));
  CHECK(text.find("\nBuilds\n") != std::string::npos);
  CHECK(text.find("spent on test build") != std::string::npos);
  const auto proof = text.find("Proven best:");
  CHECK(proof != std::string::npos);
  CHECK(text.find("Proven best:", proof + 1) == std::string::npos);  // the parts claim nothing
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = text.find('\n', begin);
    CHECK(end - begin <= 80);
    begin = end + 1;
  }
}

TEST_CASE("what is wrong with a purse points to its place, and with a build to the build's") {
  const Folder folder;
  folder.put("bike.build", bike().text());
  CHECK(folder.told(folder.read(R"({"bike": "bike.build", "too": "./bike.build"})")).find("shed.purse:3:") ==
        0);
  CHECK(folder.told(folder.read(R"({"bike": "bike.build", "too": "./bike.build"})"))
            .find("expected each build once: this is the file of \"bike\"") != std::string::npos);
  CHECK(folder.told(folder.read("{}")).find("at least one build") != std::string::npos);
  CHECK(folder.told(folder.read(R"({"none": "none.build"})")).find("none.build: error: found no such file") !=
        std::string::npos);
  BuildText broken = bike();
  broken.jobs = R"("sit": {"name": "Fit the seat", "wnat": 9, "hours": 4})";
  folder.put("broken.build", broken.text());
  CHECK(folder.told(folder.read(R"({"broken": "broken.build"})")).find("broken.build:") == 0);
  std::string other = van().text();
  other.replace(other.find("\"EUR\""), 5, "\"GBP\"");
  folder.put("pounds.build", other);
  CHECK(folder.told(folder.read(R"({"pounds": "pounds.build"})"))
            .find("found a build in GBP, expected one in EUR, as the purse has") != std::string::npos);
  BuildText dear = van();
  dear.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 7, "free_from": 150})";
  folder.put("dear.build", dear.text());
  const std::string differs = folder.told(folder.read(R"({"bike": "bike.build", "dear": "dear.build"})"));
  CHECK(
      differs.find("dear.build:2:16: error: /suppliers/shop: found shop, expected delivery and free_from as "
                   "bike.build:2 has them, or another id: one id is one supplier in a purse") == 0);
  const std::string few = folder.told(folder.read(R"({"bike": "bike.build"})",
                                                  R"({"opening": 0, "keep_back": 0, "amount": 1, "stages": 3,
                                                      "paydays": {"dates": ["2027-01-01"]}})"));
  CHECK(few ==
        "shed.purse: error: /money/paydays: found 1 payday, expected 3, as many as money/stages asks for\n");
}

TEST_CASE("a purse refuses sessions, which its builds would have to share") {
  const Folder folder;
  folder.put("bike.build", bike().text());
  const std::string told = folder.told(folder.read(R"({"bike": "bike.build"})", money,
                                                   R"({"sessions": [{"weekday": "monday", "hours": 2}]})"));
  CHECK(told.find("/bench/sessions: found a list, expected no \"sessions\": a purse has \"hours\" and "
                  "\"days_after_payday\"") != std::string::npos);
}

TEST_CASE("the schema asks for the keys that the reader asks for, and knows no others") {
  std::ifstream in(std::string(FETTLEFUND_SOURCE_DIR) + "/lib/purse/purse-file.schema.json");
  const auto schema = nlohmann::json::parse(in);
  const Folder folder;
  folder.put("bike.build", bike().text());
  const auto whole = nlohmann::json::parse(
      R"({"$schema": "x", "fettlefund_purse": 1, "name": "The shed", "currency": "EUR", "money": )" +
      std::string(money) + R"(, "bench": )" + bench + R"(, "builds": {"bike": "bike.build"}})");
  const auto reads = [&](const nlohmann::json& purse) {
    return purse::read_file(folder.put("shed.purse", purse.dump())).purse.has_value();
  };
  REQUIRE(reads(whole));
  CHECK(schema["additionalProperties"] == false);
  CHECK(schema["properties"].size() == whole.size());
  for (const auto& [key, value] : whole.items()) {
    CHECK(schema["properties"].contains(key));
    auto less = whole;
    less.erase(key);
    const auto& required = schema["required"];
    CHECK(reads(less) == (std::find(required.begin(), required.end(), key) == required.end()));
  }
  auto more = whole;
  more["nmae"] = "x";
  CHECK_FALSE(reads(more));
}

TEST_CASE("musts of two builds that the purse cannot pay are told with their builds") {
  BuildText a = bike(), b = van();
  a.jobs = R"("sit": {"name": "Fit the seat", "must": true, "hours": 4, "cost": 300, "by": "2027-02-28"})";
  b.jobs = R"("sleep": {"name": "Fit the bed", "must": true, "hours": 6, "cost": 50, "by": "2027-02-28"})";
  build::Build first = a.read(), second = b.read();
  first.name = "Bike";
  second.name = "Van";
  const purse::Planning planning = purse::plan(purse_of({first, second}));
  REQUIRE(std::holds_alternative<planning::Conflict>(planning));
  const auto& conflict = std::get<planning::Conflict>(planning);
  CHECK(conflict.jobs == std::vector<std::string>{"b0/sit", "b1/sleep"});
  REQUIRE(conflict.sentences.size() >= 2);
  CHECK(
      conflict.sentences[0] ==
      "These have to be done and cannot all be: Bike: Fit the seat (by 2027-02-28) and Van: Fit the bed (by "
      "2027-02-28).");
  CHECK(conflict.sentences[1] ==
        "The money is short by 50.00 EUR; so much more at the start would release them.");
}
