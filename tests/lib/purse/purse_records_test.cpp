#include <random>

#include "lib/purse/standing.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/cases.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::Date;
using budgets::Money;
using test::BuildText;
using test::cents;
using test::day;

namespace {

using Entries = std::vector<log::NewEntry>;

/// A part and a job that fits it, at a supplier that charges 6.00 for delivery.
build::Build build_of(const std::string& thing, const std::string& price, const std::string& hours = "2") {
  BuildText text;
  text.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 6, "free_from": 150})";
  text.articles = "\"" + thing + R"(": {"name": ")" + thing +
                  R"(", "kind": "part", "offers": [{"supplier": "shop", "price": )" + price + "}]}";
  text.jobs = "\"fit-" + thing + R"(": {"name": "Fit )" + thing + R"(", "want": 5, "hours": )" + hours +
              R"(, "uses": [")" + thing + "\"]}";
  build::Build build = text.read();
  build.name = thing + " build";
  return build;
}

/// A seat and a bed on one purse: 100.00 in hand and 100.00 on the first of January to April, bench on the
/// fourth, 10 h.
purse::Purse pair() {
  purse::Purse purse{"shed.purse", "The shed", {}};
  purse.members.push_back({"bike", "bike.build", build_of("seat", "90")});
  purse.members.push_back({"van", "van.build", build_of("bed", "70")});
  return purse;
}

std::vector<log::Log> logs_of(const Entries& bike, const Entries& van) {
  return {test::log_of(bike), test::log_of(van)};
}

Money cash(const std::vector<log::Log>& logs, const std::string& on) {
  std::vector<planning::History> histories;
  for (const log::Log& log : logs) histories.push_back(planning::history_of(log, day(on)));
  return purse::cash_on(pair(), histories, day(on)).amount;
}

purse::Outcome replanned(const std::vector<log::Log>& logs, const std::string& on) {
  const purse::Standing standing = purse::stand_on(pair(), logs, day(on), 0);
  REQUIRE(standing.purse);
  purse::Planning planning = purse::replan(standing);
  REQUIRE(std::holds_alternative<purse::Outcome>(planning));
  return std::get<purse::Outcome>(std::move(planning));
}

/// Two people record what happens to their builds; somebody keeps a plain account of the one cash.
class Account {
 public:
  explicit Account(unsigned seed) : random_(seed), now_(day("2026-12-28")) {}

  void live(int days) {
    for (int d = 0; d < days; ++d) {
      now_ = now_ + 1;
      if (now_ == day("2027-01-01") || now_ == day("2027-02-01") || now_ == day("2027-03-01") ||
          now_ == day("2027-04-01"))
        cash_ += cents(10000);
      for (int events = upto(3); events > 0; --events) happen(upto(2));
      if (upto(9) == 0) count(upto(2));  // in the evening
      CHECK(cash({test::log_of(entries_[0]), test::log_of(entries_[1])}, budgets::write_date(now_)) == cash_);
    }
  }

 private:
  int upto(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }
  Money some() { return cents(1 + upto(5000)); }
  void tell(int whose, log::Event event) {
    entries_[whose].push_back(
        {now_, std::move(event), cents(upto(99999))});  // of a build alone: not looked at
  }

  struct Purchase {
    std::string key;
    Money paid, rest;
  };

  void happen(int whose) {
    std::vector<Purchase>& bought = bought_[whose];
    const int what = upto(5);
    if (what == 0 || bought.empty()) return buy(whose);
    Purchase& one = bought[static_cast<std::size_t>(upto(static_cast<int>(bought.size())))];
    if (what == 1) {
      const Money amount = upto(2) == 0 ? some() : Money() - some();
      cash_ += amount;
      tell(whose, log::Moved{amount, "this and that"});
    } else if (what == 2) {
      const Money paid = some();
      cash_ -= paid - one.paid;
      one.paid = paid;
      tell(whose, log::Paid{one.key, paid});
    } else if (what == 3 && one.rest > Money()) {
      cash_ -= one.rest;
      tell(whose, log::Balance{one.key, one.rest});
      one.rest = Money();
    } else {
      buy(whose);
    }
  }

  void buy(int whose) {
    Purchase fresh{"thing-" + std::to_string(++number_) + "@1", some(), upto(3) == 0 ? some() : Money()};
    cash_ -= fresh.paid;
    tell(whose, log::Bought{fresh.key, 1, fresh.paid, {}, {}, fresh.rest, {}});
    bought_[whose].push_back(fresh);
  }

  void count(int whose) {
    cash_ += cents(upto(301) - 150);
    tell(whose, log::Counted{cash_});
  }

  std::mt19937 random_;
  Date now_;
  Money cash_ = cents(10000);
  Entries entries_[2];
  std::vector<Purchase> bought_[2];
  int number_ = 0;
};

}  // namespace

TEST_CASE("money recorded of either build moves the one cash of their purse") {
  CHECK(cash(logs_of({}, {}), "2026-12-31") == cents(10000));
  CHECK(cash(logs_of({}, {}), "2027-01-01") == cents(20000));
  const Entries bike = {{day("2027-01-01"), log::Bought{"seat@1", 1, cents(9000)}, cents(777)}};
  const Entries van = {{day("2027-01-02"), log::Moved{cents(1250), "old bed sold"}, cents(1)}};
  CHECK(cash(logs_of(bike, {}), "2027-01-02") == cents(11000));
  CHECK(cash(logs_of({}, van), "2027-01-02") == cents(21250));
  CHECK(cash(logs_of(bike, van), "2027-01-02") == cents(12250));
}

TEST_CASE("cash counted in one record is the cash of the purse, and the other record goes on from there") {
  const Entries bike = {{day("2027-01-02"), log::Counted{cents(5000)}},
                        {day("2027-01-02"), log::Bought{"lock@1", 1, cents(300)}}};
  const Entries van = {{day("2027-01-01"), log::Bought{"bed@1", 1, cents(7000)}},
                       {day("2027-01-02"), log::Bought{"hook@1", 1, cents(500)}},
                       {day("2027-01-03"), log::Moved{cents(-200), "ferry"}}};
  // By the evening of the second the hook was paid and the lock was not.
  CHECK(cash(logs_of(bike, van), "2027-01-02") == cents(4700));
  CHECK(cash(logs_of(bike, van), "2027-01-03") == cents(4500));
  CHECK(cash(logs_of(bike, van), "2027-02-01") == cents(14500));
  const purse::Cash told = purse::cash_on(pair(),
                                          {planning::history_of(test::log_of(bike), day("2027-01-03")),
                                           planning::history_of(test::log_of(van), day("2027-01-03"))},
                                          day("2027-01-03"));
  CHECK(told.since ==
        "the purse's, counted on 2027-01-02 by the record of seat build, with what came and went since");
}

TEST_CASE("two records on one purse never lose or double a cent against a plain account") {
  for (int seed = 1; seed <= test::cases(60); ++seed) Account(static_cast<unsigned>(seed)).live(110);
}

TEST_CASE("a purse goes on from what its builds' records say") {
  const Entries bike = {{day("2027-01-01"), log::Bought{"seat@1", 1, cents(8800), {}, "shop"}},
                        {day("2027-01-04"), log::Fitted{"fit-seat", 150}}};
  const purse::Outcome outcome = replanned(logs_of(bike, {}), "2027-01-04");
  REQUIRE(outcome.stages.size() == 4);
  CHECK(outcome.stages.front().number == 1);
  CHECK(outcome.build->money.opening == cents(11200));
  CHECK(outcome.shares[0].build->jobs.empty());
  CHECK(outcome.shares[1].build->jobs.size() == 1);
  // What the bench has left is left to both.
  CHECK(outcome.stages.front().minutes_limit == 600 - 150);
  CHECK(outcome.shares[1].outcome.stages.front().minutes_limit == 600 - 150);
  const purse::Outcome later = replanned(logs_of(bike, {}), "2027-01-05");
  REQUIRE(later.stages.size() == 3);
  CHECK(later.stages.front().number == 2);
  CHECK(later.stages.front().minutes_limit == 600);
  CHECK(later.stages.front().cash_after == cents(11200 + 10000) - later.stages.front().spent);
  CHECK(later.shares[1].outcome.stages.front().number == 2);
  CHECK(later.shares[1].outcome.stages.front().cash_after == later.stages.front().cash_after);
}

TEST_CASE("goods of two builds ordered at one supplier on one day pay one delivery, recorded or not") {
  const Entries bike = {{day("2027-01-01"), log::Bought{"seat@1", 1, cents(9000), {}, "shop"}},
                        {day("2027-01-01"), log::Bought{"delivery:shop@1", 1, cents(600)}}};
  const purse::Outcome outcome = replanned(logs_of(bike, {}), "2027-01-01");
  // 200.00 less 96.00 are there; the bed joins the order that is paid and costs its 70.00 alone.
  CHECK(outcome.stages.front().spent == cents(7000));
  CHECK(outcome.stages.front().cash_after == cents(10400 - 7000));
  // On the next day it is an order of its own.
  CHECK(replanned(logs_of(bike, {}), "2027-01-02").stages.front().spent == cents(7600));
}

TEST_CASE("what a deposit leaves to be paid is kept for by both builds, and once") {
  const Entries van = {{day("2027-01-01"), log::Bought{"bed@1", 1, cents(2000), day("2027-01-20"), "shop",
                                                       cents(5000), day("2027-01-20")}}};
  const purse::Outcome outcome = replanned(logs_of({}, van), "2027-01-02");
  CHECK(outcome.build->money.opening == cents(18000));
  Money in;
  for (const purse::StageSum& stage : outcome.stages) in += stage.cash_in;
  CHECK(in == cents(30000 - 5000));
  for (const purse::Share& share : outcome.shares) {
    Money own;
    for (const planning::StageView& stage : share.outcome.stages) {
      own += stage.cash_in;
      CHECK(stage.cash_after == outcome.stages[static_cast<std::size_t>(stage.number - 1)].cash_after);
    }
    CHECK(own <= in);
  }
}

TEST_CASE("a purse whose stages are all over has nothing left to plan") {
  CHECK_FALSE(purse::stand_on(pair(), logs_of({}, {}), day("2027-04-05"), 0).purse);
  CHECK(purse::stand_on(pair(), logs_of({}, {}), day("2027-04-04"), 0).purse);
}
