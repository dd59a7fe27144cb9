#include "budgets/risk/risk.hpp"

#include <cmath>
#include <stdexcept>

#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

constexpr std::int64_t many = 100'000;

/// Jobs that each use one piece of an article of their own, all from one supplier without delivery.
ProblemData shop(int stages, const std::vector<std::int64_t>& prices) {
  ProblemData data = plain_stages(stages);
  for (Stage& stage : data.stages) stage.cash_in = {};
  data.suppliers.push_back({});
  for (std::size_t a = 0; a < prices.size(); ++a) {
    Article& article = data.articles.emplace_back();
    article.offers.push_back({0, cents(prices[a]), 5, std::nullopt, std::nullopt});
    data.jobs.push_back(plain_job(data, 1));
    data.jobs.back().needs = {{static_cast<int>(a), 1000}};
  }
  return data;
}

/// The plan at likely prices, whatever the cash.
Plan plan_of(ProblemData data, const std::vector<int>& stages) {
  data.opening = cents(1'000'000'000);
  const auto result = cost(Problem(data), {stages, std::vector<int>(data.tools.size(), -1)});
  REQUIRE(std::holds_alternative<Plan>(result));
  return std::get<Plan>(result);
}

Risk risk_of(const ProblemData& data, const std::vector<int>& stages, const Spreads& spreads,
             std::int64_t samples = many) {
  return risk(Problem(data), plan_of(data, stages), spreads, samples);
}

bool near(const Chance& chance, double exact, double errors = 3) {
  const double error = std::sqrt(exact * (1 - exact) / static_cast<double>(chance.samples));
  return std::abs(chance.share() - exact) <= errors * error;
}

/// Two articles, each from 100.00, most often that, to 200.00, bought on the first payday of two.
struct Pair {
  ProblemData data = shop(2, {10000, 10000});
  Spreads spreads = certain_spreads(data);
  Pair() {
    for (auto& offers : spreads.articles) offers[0].price = {10000, 10000, 20000};
  }
  Risk risk(std::int64_t opening, std::int64_t samples = many) {
    data.opening = cents(opening);
    return risk_of(data, {0, 0}, spreads, samples);
  }
};

}  // namespace

TEST_CASE("two uncertain prices keep to their sum as often as an integral says") {
  // With x and y the two prices above 100.00, in hundreds: density 2 (1 - x) from 0 to 1 each.
  // P(x + y <= 1) = integral 0..1 of 2 (1 - x) (1 - (1 - (1 - x))^2) dx = integral of 2 (1 - x) (1 - x^2) dx
  //               = 2 (1 - 1/2 - 1/3 + 1/4) = 5/6.
  Pair pair;
  const Risk risk = pair.risk(30000);
  CHECK(near(risk.kept.all, 5.0 / 6));
  CHECK(risk.kept.all.hits == risk.kept.stages[0].hits);
  CHECK(risk.kept.all.hits == risk.kept.stages[1].hits);
  CHECK(risk.planned[0] == cents(10000));
  CHECK(risk.lowest[0] < cents(-9000));
  CHECK(risk.lowest[0] >= cents(-10000));
  CHECK(risk.uncertain_prices == 2);
}

TEST_CASE("the buffer of two uncertain prices is the one an integral gives") {
  // For 1 <= s <= 2 and t = 2 - s: P(x + y > s) = integral 0..t of 2 y (t - y)^2 dy = t^4 / 6. It is 0.1
  // where t = 0.6^(1/4) = 0.8801, s = 1.1199: 11.99 more than 300.00.
  Pair pair;
  const Buffer buffer = pair.risk(30000).kept.buffer;
  CHECK(buffer.low < buffer.amount);
  CHECK(buffer.amount < buffer.high);
  CHECK(buffer.low <= cents(1199));
  CHECK(cents(1199) <= buffer.high);
  CHECK(buffer.high - buffer.low < cents(200));
}

TEST_CASE("the buffer is exact on the sample: with it nine in ten hold, with a cent less fewer do") {
  Pair pair;
  for (const std::int64_t samples : {100, 999, 1000, 12345}) {
    const std::int64_t buffer = pair.risk(30000, samples).kept.buffer.amount.minor();
    REQUIRE(buffer > 0);
    CHECK(10 * pair.risk(30000 + buffer, samples).kept.all.hits >= 9 * samples);
    CHECK(10 * pair.risk(30000 + buffer - 1, samples).kept.all.hits < 9 * samples);
  }
}

TEST_CASE("where nine in ten hold already no buffer is needed") {
  Pair pair;
  const Risk risk = pair.risk(35000);
  CHECK(risk.kept.all.share() > 0.9);
  CHECK(risk.kept.buffer.amount == Money());
}

TEST_CASE("estimates draw near the exact chance and standard errors shrink as the samples grow") {
  Pair pair;
  double error_before = 1;
  for (const std::int64_t samples : {100, 1000, 10'000, 100'000}) {
    const Risk risk = pair.risk(30000, samples);
    CHECK(near(risk.kept.all, 5.0 / 6));
    const double error = risk.kept.all.standard_error();
    CHECK(error == doctest::Approx(std::sqrt(5.0 / 36 / static_cast<double>(samples))).epsilon(0.2));
    CHECK(error < error_before / 2);
    error_before = error;
  }
}

TEST_CASE("articles share the variance as their own variances do") {
  // Variances of what is paid, by (a^2 + b^2 + c^2 - ab - ac - bc) / 18 (statistics handbook, from memory):
  // widths 60, 120 and 0 of the same shape and two packs of the first: 4 * 60^2 : 120^2, which is half each.
  ProblemData data = shop(1, {3000, 5000, 700});
  data.jobs[0].needs[0].amount = 2000;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].price = {2000, 3000, 8000};
  spreads.articles[1][0].price = {3000, 5000, 15000};
  const Risk risk = risk_of(data, {0, 0, 0}, spreads);
  REQUIRE(risk.shares.size() == 2);
  for (const RiskShare& share : risk.shares) {
    CHECK(std::abs(share.share - 0.5) < 3 * share.standard_error);
    CHECK(share.standard_error < 0.004);
    CHECK(share.tool == -1);
  }
  CHECK(risk.shares[0].share >= risk.shares[1].share);
}

TEST_CASE("the errors of an article's offers add up as squares do") {
  ProblemData data = shop(2, {10000, 10000});
  data.jobs[1].needs[0].article = 0;  // from another offer, by then the only one
  data.articles[0].offers[0].until = data.stages[0].payday;
  data.articles[0].offers.push_back({0, cents(10000), 5, data.stages[1].payday, std::nullopt});
  Spreads spreads = certain_spreads(data);
  for (OfferSpread& offer : spreads.articles[0]) offer.price = {9000, 10000, 11000};
  const Risk risk = risk_of(data, {0, 1}, spreads);
  REQUIRE(risk.shares.size() == 1);
  CHECK(risk.shares[0].share == doctest::Approx(1).epsilon(0.02));
  const double of_each = 2 * std::sqrt(0.5) * 0.5 / std::sqrt(static_cast<double>(many));
  CHECK(std::abs(risk.shares[0].standard_error / (std::sqrt(2.0) * of_each) - 1) < 0.05);
}

TEST_CASE("what is bought after the stage in danger carries none of its risk") {
  ProblemData data = shop(2, {10000, 10000});
  data.opening = cents(14000);
  data.stages[1].cash_in = cents(90000);
  Spreads spreads = certain_spreads(data);
  for (auto& offers : spreads.articles) offers[0].price = {10000, 10000, 20000};
  const Risk risk = risk_of(data, {0, 1}, spreads);
  REQUIRE(risk.shares.size() == 1);
  CHECK(risk.shares[0].article == 0);
  CHECK(risk.shares[0].share == doctest::Approx(1));
  CHECK(near(risk.kept.stages[0], 1 - 0.36));  // P(price <= 140.00) = 1 - 0.6^2
  CHECK(risk.kept.stages[1].hits == many);
}

TEST_CASE("an offer has one price for all its orders") {
  // The same article twice: 2 x <= 1 has the chance 1 - (1 - 1/2)^2 = 3/4, not 5/6.
  ProblemData data = shop(2, {10000});
  data.opening = cents(30000);
  data.jobs.push_back(data.jobs[0]);
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].price = {10000, 10000, 20000};
  const Risk risk = risk_of(data, {0, 1}, spreads);
  CHECK(risk.uncertain_prices == 1);
  CHECK(near(risk.kept.stages[1], 0.75));
}

TEST_CASE("delivery is charged by the drawn prices") {
  // Price 90.00 to 110.00, likely 100.00, free from 100.00, else 5.00. With 100.00 in hand it holds for
  // prices up to 95.00, chance 25 / 200, and at exactly 100.00, about 0.01 / 10.
  ProblemData data = shop(1, {10000});
  data.opening = cents(10000);
  data.suppliers[0] = {cents(500), cents(10000)};
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].price = {9000, 10000, 11000};
  CHECK(near(risk_of(data, {0}, spreads).kept.all, 0.126));
}

TEST_CASE("the allowance is kept as a cushion in one reading and spent in the other") {
  Pair pair;
  pair.data.allowance_bp = 500;
  const Risk risk = pair.risk(31000);  // the allowance is 5 percent of 200.00: 10.00
  CHECK(risk.planned[0] == cents(11000));
  CHECK(near(risk.spent.all, 5.0 / 6));
  CHECK(near(risk.kept.all, 1 - std::pow(0.9, 4) / 6));  // 310.00 in hand: s = 1.1, t = 0.9
  CHECK(std::abs((risk.spent.buffer.amount - risk.kept.buffer.amount - cents(1000)).minor()) <= 1);
}

TEST_CASE("a certain plan always holds and is told without shares or buffer") {
  ProblemData data = shop(2, {5000, 2500});
  data.opening = cents(7500);
  const Risk risk = risk_of(data, {0, 1}, certain_spreads(data), 100);
  CHECK(risk.kept.all.hits == 100);
  CHECK(risk.kept.all.always_or_never());
  CHECK(risk.kept.all.standard_error() == 0);
  CHECK(risk.kept.all.rule_of_three() == doctest::Approx(0.03));
  CHECK(risk.all_in_time.hits == 100);
  CHECK(risk.kept.buffer.high == Money());
  CHECK(risk.shares.empty());
  CHECK(risk.late.empty());
  CHECK(risk.planned == std::vector<Money>{cents(2500), cents(0)});
  CHECK(risk.lowest == risk.planned);
}

TEST_CASE("floors of all stages count") {
  Pair pair;
  pair.data.stages[1].floor = cents(5000);
  const Risk risk = pair.risk(35000);
  CHECK(risk.kept.stages[0].hits > risk.kept.stages[1].hits);
  CHECK(near(risk.kept.stages[1], 5.0 / 6));
  CHECK(risk.kept.all.hits == risk.kept.stages[1].hits);
}

TEST_CASE("a bench date is missed when anything ordered for it arrives later") {
  // Bench is 10 days after payday. Lead 3 to 21 days, likely 7: late from day 11 on, that is with
  // (21 - 10.5)^2 / (18 * 14) = 0.4375; 2 to 12, likely 5: (12 - 10.5)^2 / (10 * 7).
  ProblemData data = shop(2, {100, 100, 100});
  data.articles[0].offers[0].lead_days = 7;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {3, 7, 21};
  spreads.articles[1][0].lead_days = {2, 5, 12};
  const Risk risk = risk_of(data, {0, 0, 1}, spreads);
  const double first = 0.4375, second = 2.25 / 70;
  REQUIRE(risk.late.size() == 2);
  CHECK(risk.late[0].article == 0);
  CHECK(near(risk.late[0].late, first));
  CHECK(near(risk.late[1].late, second));
  // One order, one draw: whenever the second is late the first is.
  CHECK(risk.in_time[0].hits == many - risk.late[0].late.hits);
  CHECK(risk.in_time[1].hits == many);
  CHECK(risk.all_in_time.hits == risk.in_time[0].hits);
  CHECK(risk.uncertain_leads == 2);
}

TEST_CASE("orders of different suppliers have lead times of their own") {
  ProblemData data = shop(2, {100, 100, 100});
  data.suppliers.push_back(data.suppliers[0]);
  data.articles[0].offers[0].lead_days = 7;
  data.articles[1].offers[0].supplier = 1;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {3, 7, 21};
  spreads.articles[1][0].lead_days = {2, 5, 12};
  const Risk risk = risk_of(data, {0, 0, 1}, spreads);
  CHECK(near(risk.in_time[0], (1 - 0.4375) * (1 - 2.25 / 70)));
}

TEST_CASE("a must that may wait is in time when its goods are there on its last bench date") {
  ProblemData data = shop(2, {100});
  data.articles[0].offers[0].lead_days = 7;
  data.jobs[0].must = true;
  data.jobs[0].latest = 0;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {3, 7, 21};
  const Risk hurried = risk_of(data, {0}, spreads);
  REQUIRE(hurried.musts.size() == 1);
  CHECK(near(hurried.musts[0].in_time, 0.5625));
  CHECK(hurried.musts[0].in_time.hits == hurried.in_time[0].hits);
  data.jobs[0].latest = 1;  // a month later everything is there
  const Risk patient = risk_of(data, {0}, spreads);
  CHECK(patient.in_time[0].hits == hurried.in_time[0].hits);
  CHECK(patient.musts[0].in_time.hits == many);
}

TEST_CASE("a must waits for what the removals spoil that it opens, through others too") {
  ProblemData data = shop(1, {100});
  data.jobs[0].needs.clear();
  data.removals = {{{}, 0, {}, {{0, 1000}}, {}}, {{}, 0, {0}, {}, {}}};
  data.jobs[0].removals = {1};
  data.jobs[0].must = true;
  data.articles[0].offers[0].lead_days = 7;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {3, 7, 21};
  const Risk risk = risk_of(data, {0}, spreads);
  REQUIRE(risk.musts.size() == 1);
  CHECK(near(risk.musts[0].in_time, 0.5625));
}

TEST_CASE("goods ordered ahead have the days from their own payday") {
  // Ordered 40 days before the bench date that needs them: 45 days at most, likely 38, at least 31.
  ProblemData data = shop(2, {100});
  data.articles[0].offers[0].lead_days = 38;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {31, 38, 45};
  const Risk risk = risk_of(data, {1}, spreads);
  CHECK(near(risk.in_time[1], 1 - 4.5 * 4.5 / (14 * 7)));
}

TEST_CASE("goods that are never late are not told as late") {
  ProblemData data = shop(1, {100});
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {4, 5, 6};
  const Risk risk = risk_of(data, {0}, spreads);
  CHECK(risk.uncertain_leads == 1);
  CHECK(risk.late.empty());
}

TEST_CASE("goods of just the free-from amount have no delivery") {
  ProblemData data = shop(1, {100});
  data.opening = cents(150);
  data.suppliers[0] = {cents(20), cents(100)};
  CHECK(risk_of(data, {0}, certain_spreads(data)).planned[0] == cents(50));
  data.suppliers[0].free_from = cents(101);
  CHECK(risk_of(data, {0}, certain_spreads(data)).planned[0] == cents(30));
}

TEST_CASE("orders of different paydays have lead times of their own") {
  ProblemData data = shop(2, {100});
  data.articles[0].offers[0].lead_days = 7;
  data.jobs.push_back(data.jobs[0]);
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].lead_days = {3, 7, 21};
  const Risk risk = risk_of(data, {0, 1}, spreads);
  CHECK(near(risk.in_time[0], 0.5625));
  CHECK(near(risk.in_time[1], 0.5625));
  CHECK(near(risk.all_in_time, 0.5625 * 0.5625));
}

TEST_CASE("the same question gets the same answer") {
  Pair pair;
  const Risk once = pair.risk(30000, 5000), again = pair.risk(30000, 5000);
  CHECK(once.kept.all.hits == again.kept.all.hits);
  CHECK(once.lowest == again.lowest);
  CHECK(once.kept.buffer.amount == again.kept.buffer.amount);
  CHECK(once.shares[0].share == again.shares[0].share);
}

TEST_CASE("spreads that are not the problems and odd numbers of samples are refused") {
  Pair pair;
  CHECK_THROWS_AS(pair.risk(30000, least_samples - 1), std::invalid_argument);
  CHECK_THROWS_AS(pair.risk(30000, most_samples + 1), std::invalid_argument);
  const Spreads sound = pair.spreads;
  pair.spreads.articles.pop_back();
  CHECK_THROWS_AS(pair.risk(30000, 100), std::invalid_argument);
  for (const Spread wrong :
       {Spread{10001, 10000, 20000}, Spread{10000, 10000, 9999}, Spread{0, 9999, 20000}}) {
    pair.spreads = sound;
    pair.spreads.articles[0][0].price = wrong;
    CHECK_THROWS_AS(pair.risk(30000, 100), std::invalid_argument);
  }
}

TEST_CASE("prices beyond all counting overflow instead of wrapping round") {
  ProblemData data = shop(1, {1});
  data.jobs[0].needs[0].amount = 1'000'000'000;
  Spreads spreads = certain_spreads(data);
  spreads.articles[0][0].price = {1, 1, std::int64_t{1} << 60};
  CHECK_THROWS_AS(risk_of(data, {0}, spreads, 100), MoneyOverflow);
}
