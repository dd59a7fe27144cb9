#include "lib/build/read/read.hpp"

#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;
using fettlefund::budgets::make_date;

namespace {

Build every_key() {
  const Reading reading = read_file((golden() / "good" / "every-key.build").string());
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  return *reading.build;
}

Money cents(std::int64_t minor) { return Money::of_minor(minor); }

}  // namespace

TEST_CASE("names, money and bench come through exactly") {
  const Build build = every_key();
  CHECK(build.name == "Every key \u00e9");
  CHECK(build.about == "Two\nlines");
  CHECK(build.currency.code == "EUR");
  CHECK(build.money.opening == cents(-1230));
  CHECK(build.money.keep_back == cents(5000));
  CHECK(build.money.amount == cents(12000));
  CHECK(build.money.stages == 4);
  CHECK(std::get<fettlefund::budgets::LastWorkingDay>(build.money.rule).from == make_date(2027, 1, 1));
  CHECK(build.money.holidays == std::set<Date>{make_date(2027, 1, 29), make_date(2027, 3, 31)});
  REQUIRE(build.money.extras.size() == 1);
  CHECK(build.money.extras[0].date == make_date(2027, 2, 10));
  CHECK(build.money.extras[0].amount == cents(-4550));
  CHECK(build.money.extras[0].what == "road tax");
  CHECK(build.money.allowance_bp == 225);
  CHECK(build.bench.minutes == 381);
  CHECK(build.bench.days_after_payday == 3);
  CHECK(build.bench.bother == 12);
  REQUIRE(build.bench.exceptions.size() == 1);
  CHECK(build.bench.exceptions[0].stage == 2);
  CHECK(build.bench.exceptions[0].minutes == 0);
  CHECK(build.bench.exceptions[0].why == "away");
}

TEST_CASE("suppliers and offers come through, an offer without lead time has its suppliers") {
  const Build build = every_key();
  REQUIRE(build.suppliers.size() == 2);
  CHECK(build.suppliers[0].id == "harbour");
  CHECK(build.suppliers[0].delivery == cents(590));
  CHECK(build.suppliers[0].free_from == cents(15000));
  CHECK(build.suppliers[1].delivery == cents(0));
  CHECK_FALSE(build.suppliers[1].free_from.has_value());
  CHECK_FALSE(build.suppliers[0].lead_spread.has_value());
  CHECK(build.suppliers[1].lead_days == 2);
  REQUIRE(build.suppliers[1].lead_spread.has_value());
  CHECK(build.suppliers[1].lead_spread->low == 1);
  CHECK(build.suppliers[1].lead_spread->high == 9);
  const Article& chain = build.articles.at(0);
  REQUIRE(chain.offers.size() == 2);
  CHECK(chain.offers[0].price.low == cents(9000));
  CHECK(chain.offers[0].price.likely == cents(9550));
  CHECK(chain.offers[0].price.high == cents(11000));
  CHECK(chain.offers[0].lead_days == 0);
  CHECK(chain.offers[0].from == make_date(2027, 1, 1));
  CHECK(chain.offers[0].until == make_date(2027, 6, 30));
  CHECK(chain.offers[1].lead_days == 3);
  CHECK(chain.offers[1].price.low == cents(9900));
  CHECK(chain.offers[1].price.high == cents(9900));
}

TEST_CASE("an offer has its suppliers range of lead times unless it states its own") {
  const std::string text = small_build(R"("suppliers": {"slow": {"name": "Slow, invented",
        "lead_days": {"low": 4, "likely": 6, "high": 20}}},
      "articles": {"bulb": {"name": "Bulb", "kind": "part", "offers": [
        {"supplier": "slow", "price": 4},
        {"supplier": "slow", "price": 4, "lead_days": 3},
        {"supplier": "slow", "price": 4, "lead_days": {"low": 0, "likely": 1, "high": 1}}]}},)");
  const Reading reading = read(text, "leads.build");
  CHECK(told(reading) == "");
  const std::vector<Offer>& offers = reading.build.value().articles.at(0).offers;
  CHECK(offers.at(0).lead_days == 6);
  CHECK(offers.at(0).lead_spread.value().high == 20);
  CHECK(offers.at(1).lead_days == 3);
  CHECK_FALSE(offers.at(1).lead_spread.has_value());
  CHECK(offers.at(2).lead_days == 1);
  CHECK(offers.at(2).lead_spread.value().low == 0);
}

TEST_CASE("articles, tools and things on hand come through in file order") {
  const Build build = every_key();
  REQUIRE(build.articles.size() == 4);
  const Article& chain = build.articles[0];
  CHECK(chain.kind == ArticleKind::part);
  CHECK(chain.unit == "link");
  CHECK(chain.pack == 120000);
  CHECK(chain.keeps_days == 400);
  CHECK(chain.mates == Mates{{"chain-size", "520"}});
  CHECK(chain.serves == std::vector<Id>{"drive-chain"});
  const Article& wrench = build.articles[1];
  CHECK(wrench.kind == ArticleKind::tool);
  CHECK(wrench.hire == cents(400));
  REQUIRE(wrench.borrow.size() == 1);
  CHECK(wrench.borrow[0].until == make_date(2027, 2, 28));
  CHECK(wrench.range_from == "10 Nm");
  CHECK(wrench.range_to == "100 Nm");
  CHECK(wrench.sizes == std::vector<std::string>{"1/2 inch square"});
  CHECK_FALSE(build.articles[2].range_from.has_value());
  CHECK(build.articles[2].range_to == "250 Nm");
  CHECK(build.articles[3].kind == ArticleKind::consumable);
  CHECK(build.articles[3].unit == "piece");
  CHECK(build.articles[3].pack == 1000);
  REQUIRE(build.on_hand.size() == 2);
  CHECK(build.on_hand[0].amount == 2500);
  CHECK(build.on_hand[0].opened == make_date(2026, 12, 1));
  CHECK(build.on_hand[1].article == "wrench");
}

TEST_CASE("removals come through with their steps, torques and checks") {
  const Build build = every_key();
  REQUIRE(build.removals.size() == 5);
  CHECK(build.removals[0].minutes_on == 3);
  const Removal& wheel = build.removals[1];
  CHECK(wheel.minutes_off == 30);
  CHECK(wheel.minutes_on == 45);
  CHECK(wheel.needs == std::vector<Id>{"stand"});
  CHECK(wheel.one_use.at(0).article == "pin");
  CHECK(wheel.one_use.at(0).amount == 2000);
  CHECK(wheel.tools == std::vector<Id>{"wrench"});
  const Torque& torque = wheel.torques.at(0);
  CHECK(torque.on == "axle nut");
  CHECK(torque.value == "85 Nm");
  CHECK(torque.source == "the manual, page 41");
  CHECK(torque.pattern == "opposite pairs");
  CHECK(torque.fasteners == 2);
  CHECK(wheel.checks.at(0).what == "chain slack");
  CHECK(wheel.checks.at(0).target == "30 mm");
  CHECK(wheel.checks.at(0).limits == "25 to 35 mm");
  CHECK(wheel.off.at(0).text == "Draw the axle");
  CHECK(wheel.on.at(0).id == "set-in");
  CHECK(wheel.on.at(0).after == std::vector<Id>{"rivet"});
  CHECK(wheel.on.at(0).helper);
  CHECK(wheel.tags == std::vector<std::string>{"wheel"});
  CHECK(wheel.helper);
  CHECK(wheel.place.line == 57);
  CHECK(wheel.place.column == 5);
}

TEST_CASE("jobs come through with their dates, links and notes") {
  const Build build = every_key();
  REQUIRE(build.jobs.size() == 2);
  const Job& job = build.jobs[0];
  CHECK(job.want == 7);
  CHECK(job.must);
  CHECK(job.by == make_date(2027, 5, 31));
  CHECK(job.not_before == make_date(2027, 2, 1));
  CHECK(job.minutes == 90);
  CHECK(job.cost == cents(1250));
  CHECK(job.removals == std::vector<Id>{"wheel", "guard-for-good"});
  CHECK(job.takes_off == std::vector<Id>{"guard"});
  CHECK(job.puts_on == std::vector<Id>{"long-guard"});
  CHECK(job.after == std::vector<Id>{"clean"});
  CHECK(job.together_with == std::vector<Id>{"clean"});
  CHECK(job.one_of == "chain choice");
  CHECK(job.uses.at(0).amount == 108000);
  CHECK(job.tools == std::vector<Id>{"big-wrench"});
  CHECK(job.torques.at(0).value == "63 lbf ft");
  CHECK(job.torques.at(0).fasteners == 1);
  CHECK(job.checks.size() == 1);
  CHECK(job.steps.at(0).id == "rivet");
  CHECK(job.steps.at(1).text == "Oil it");
  CHECK(job.tags == std::vector<std::string>{"chain riveting"});
  CHECK_FALSE(job.helper);
  CHECK(job.mates == Mates{{"links", "108"}});
  CHECK(job.replaced_by == std::vector<Id>{"clean"});
  CHECK(job.cautions == std::vector<std::string>{"Mind the spring"});
  CHECK(job.manual == "Chapter 5");
  CHECK(job.note == "A remark");
  CHECK_FALSE(build.jobs[1].want.has_value());
}

TEST_CASE("fitted parts, clashes, rules, silences and cautions come through") {
  const Build build = every_key();
  CHECK(build.fitted.at(0).since == make_date(2020, 5, 1));
  CHECK(build.fitted.at(0).life_months == 48);
  CHECK(build.fitted.at(0).mates == Mates{{"chain-size", "525"}});
  CHECK(build.fitted.at(0).replaced_by == std::vector<Id>{"new-chain", "clean"});
  CHECK(build.fitted.at(0).reached_by == std::vector<Id>{"wheel"});
  CHECK(build.fitted.at(1).life_months == 30);
  CHECK(build.clashes.at(0).a == "old-hose");
  CHECK(build.clashes.at(0).b == "new-chain");
  CHECK(build.clashes.at(0).unless == std::vector<Id>{"clean"});
  CHECK(build.clashes.at(0).why == "They touch");
  CHECK(build.rules.at(0).id == "fresh-pin");
  CHECK(build.rules.at(0).article == "split-pin");
  CHECK(build.rules.at(0).amount == 1500);
  CHECK(build.silences.at(0).only_for == "wheel");
  CHECK(build.silences.at(0).because == "A lock nut is fitted");
  CHECK(build.cautions == std::vector<std::string>{"The floor slopes"});
}

TEST_CASE("the drive train comes through, teeth after are those before unless told") {
  const DriveTrain drive = every_key().drive.value();
  CHECK(drive.front.teeth_before == 15);
  CHECK(drive.front.teeth_after == 14);
  CHECK(drive.front.job == "new-chain");
  CHECK(drive.rear.teeth_after == 43);
  CHECK(drive.chain == "520");
  CHECK(drive.links_before == 110);
  CHECK(drive.chain_article == "chain");
  CHECK(drive.chain_job == "new-chain");
  CHECK(drive.centre_mm == 600.5);
  CHECK(drive.centre_min_mm == 585);
  CHECK(drive.centre_max_mm == 620);
  CHECK(drive.rounding == "nearest");
  CHECK(drive.primary == 2.1);
  CHECK(drive.gears == std::vector<double>{2.8, 1.9, 1.4});
  CHECK(drive.tyre == "150/70-17");
  CHECK(drive.rolling_factor == 0.97);
  CHECK(drive.speedometer == "gearbox");
  CHECK(drive.speeds_kmh == std::vector<double>{50, 100});
  CHECK(drive.engine_rpm == std::vector<double>{4000});
  CHECK(drive.wanted_ratio == std::pair(2.6, 2.9));
  CHECK(drive.front_range == std::pair(13, 16));
  CHECK(drive.rear_range == std::pair(40, 48));
}

TEST_CASE("each rule for paydays comes through") {
  const auto rule_of = [](const std::string& rule) {
    std::string text = small_build("");
    const std::string shipped = R"("day_of_month": 25, "from": "2027-01-01")";
    text.replace(text.find(shipped), shipped.size(), rule);
    const Reading reading = read(text, "paydays.build");
    CHECK(told(reading) == "");
    return reading.build.value().money.rule;
  };
  using namespace fettlefund::budgets;
  const auto listed = std::get<ListedDays>(rule_of(R"("dates": ["2027-01-29", "2027-02-26"])"));
  CHECK(listed.days == std::vector<Date>{make_date(2027, 1, 29), make_date(2027, 2, 26)});
  const auto weeks = std::get<EveryWeeks>(rule_of(R"("every_weeks": 2, "from": "2027-01-08")"));
  CHECK(weeks.first == make_date(2027, 1, 8));
  CHECK(weeks.weeks == 2);
  const auto monthly = std::get<DayOfMonth>(rule_of(R"("day_of_month": 31, "from": "2027-01-08")"));
  CHECK(monthly.from == make_date(2027, 1, 8));
  CHECK(monthly.day == 31);
}

TEST_CASE("a byte order mark, carriage returns and comments change nothing") {
  std::string text = content(golden() / "good" / "every-key.build");
  std::string changed = "\xEF\xBB\xBF";
  for (const char c : text)
    changed += c == '\n' ? std::string(" /* more */ // and more\r\n") : std::string(1, c);
  const Reading reading = read(changed, "changed.build");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->jobs.size() == 2);
  CHECK(reading.build->removals[1].place.line == 57);
  CHECK(reading.build->removals[1].place.column == 5);
}

TEST_CASE("the file is named as the user named it") {
  const Reading reading = read(small_build(""), "my own.build");
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->file == "my own.build");
}

TEST_CASE("what is no readable file is refused by its path") {
  CHECK(told(read_file("/no/such/file.build")) ==
        "/no/such/file.build: error: found no such file, expected the path of a build file\n");
  CHECK(told(read_file("/")) == "/: error: found no regular file, expected the path of a build file\n");
  CHECK(told(read_file("/dev/zero")) ==
        "/dev/zero: error: found no regular file, expected the path of a build file\n");
}

TEST_CASE("a job goes without a want only as a must or where it renews an ageing part") {
  const auto reads = [](const std::string& job_keys, const std::string& fitted) {
    std::string text = small_build("\"fitted\": {\"old\": {\"name\": \"Old\"" + fitted + "}},", job_keys);
    text.replace(text.find("\"want\": 3, "), 11, "");
    return read(text, "want.build").build.has_value();
  };
  CHECK_FALSE(reads("", ""));
  CHECK(reads(", \"must\": true", ""));
  CHECK_FALSE(reads(", \"must\": false", ""));
  CHECK_FALSE(reads("", ", \"replaced_by\": [\"lamp\"]"));
  CHECK(reads("", ", \"replaced_by\": [\"lamp\"], \"since\": \"2020-01-01\", \"life_years\": 5"));
  CHECK_FALSE(reads("", ", \"since\": \"2020-01-01\", \"life_years\": 5"));
}

TEST_CASE("amounts are read from their digits, not through floating point") {
  const auto cost = [](const std::string& number) {
    return read(small_build("", ", \"cost\": " + number), "cost.build").build.value().jobs[0].cost;
  };
  CHECK(cost("0.29") == cents(29));
  CHECK(cost("1.005e1") == cents(1005));
  CHECK(cost("8.700") == cents(870));
  CHECK(cost("\"4.35\"") == cents(435));
  CHECK(cost("10000000000.00") == cents(1'000'000'000'000));
  CHECK_FALSE(read(small_build("", ", \"cost\": 10000000000.01"), "cost.build").build.has_value());
}
