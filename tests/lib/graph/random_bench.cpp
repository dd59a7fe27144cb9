#include "tests/lib/graph/random_bench.hpp"

#include <algorithm>
#include <string>

#include "lib/build/read/for_good.hpp"
#include "lib/outcome/plan.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/lib/staging/random_build.hpp"
#include "tests/lib/staging/random_sessions.hpp"

namespace fettlefund::test {
namespace {

class Bench {
 public:
  explicit Bench(std::uint64_t seed) : random_(seed), build_(random_build(seed)) {}

  build::Build make() {
    add_pin();
    add_instead();
    for (build::Removal& removal : build_.removals) dress(removal);
    for (build::Job& job : build_.jobs) dress(job);
    take_off();
    return std::move(build_);
  }

 private:
  void add_pin() {
    build::Article& pin = build_.articles.emplace_back();
    pin.id = "pin";
    pin.name = "split pin";
    pin.kind = build::ArticleKind::consumable;
    const auto price = budgets::Money::of_minor(random_.below(2));
    pin.offers.push_back({build_.suppliers.front().id, {price, price, price}, random_.below(9), {}, {}});
  }

  /// What is put on in place of something that came off for good: nothing of the file uses it.
  void add_instead() {
    build::Removal& instead = build_.removals.emplace_back();
    instead.id = instead.name = "instead";
    instead.minutes_off = random_.below(4);
    instead.minutes_on = random_.below(4);
  }

  std::string word(const char* letter) { return letter + std::to_string(++count_); }

  build::Step step(const char* letter, const std::string& fits, const std::string& tightens) {
    build::Step step;
    step.text = word(letter);
    step.fits = fits;
    step.tightens = tightens;
    step.helper = random_.chance(5);
    return step;
  }

  void add_torques(std::vector<build::Torque>& torques) {
    for (int n = random_.below(3); n > 0; --n)
      torques.push_back({word("bolt"), "20 Nm", "invented", random_.chance(20) ? "opposite pairs" : "",
                         random_.between(1, 6)});
  }

  void add_checks(std::vector<build::Check>& checks) {
    for (int n = random_.below(3); n > 0; --n) {
      const bool whole = random_.chance(50);
      checks.push_back({word(whole ? "W" : "C"), "", "", whole});
    }
  }

  /// What a person would write, some of it left out: things set in, tightened, locked.
  std::vector<build::Step> steps(const std::vector<build::Use>& uses,
                                 const std::vector<build::Torque>& torques) {
    std::vector<build::Step> list, locks;
    for (int n = random_.below(3); n > 0; --n) list.push_back(step("P", "", ""));
    for (const build::Use& use : uses) {
      if (!random_.chance(50)) continue;
      const bool lock = use.article == "pin";
      (lock ? locks : list).push_back(step(lock ? "L" : "F", use.article, ""));
    }
    random_.shuffle(list);
    for (const build::Torque& torque : torques) {
      const bool told = std::none_of(list.begin(), list.end(),
                                     [&](const build::Step& one) { return one.tightens == torque.on; });
      if (told && random_.chance(50)) list.push_back(step("T", "", torque.on));
    }
    list.insert(list.end(), locks.begin(), locks.end());
    return list;
  }

  void add_pins(std::vector<build::Use>& uses) {
    if (random_.chance(30)) uses.push_back({"pin", random_.between(1, 3) * 1000});
  }

  void dress(build::Removal& removal) {
    add_torques(removal.torques);
    add_checks(removal.checks);
    add_pins(removal.one_use);
    for (int n = random_.below(3); n > 0; --n) removal.off.push_back(step("P", "", ""));
    if (random_.chance(70)) removal.on = steps(removal.one_use, removal.torques);
  }

  void dress(build::Job& job) {
    add_torques(job.torques);
    add_checks(job.checks);
    add_pins(job.uses);
    if (random_.chance(70)) job.steps = steps(job.uses, job.torques);
  }

  /// One job takes one removal off for good; the others say whether they come before or after it.
  void take_off() {
    if (build_.removals.size() < 2 || random_.chance(30)) return;
    const auto taker = static_cast<std::size_t>(random_.below(static_cast<int>(build_.jobs.size())));
    const int removals = static_cast<int>(build_.removals.size()) - 1;
    build_.jobs[taker].takes_off = {build_.removals[static_cast<std::size_t>(random_.below(removals))].id};
    if (random_.chance(50)) build_.jobs[taker].puts_on = {"instead"};
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      build::Job &job = build_.jobs[j], &other = build_.jobs[taker];
      if (j > taker && random_.chance(80)) job.after.push_back(other.id);
      if (j < taker && random_.chance(80)) other.after.push_back(job.id);
    }
  }

  testing::Random random_;
  build::Build build_;
  int count_ = 0;
};

}  // namespace

std::optional<RandomBench> random_bench(std::uint64_t seed) {
  RandomBench bench;
  bench.written = Bench(seed).make();
  if (seed % 2 == 0) give_sessions(seed / 2, bench.written);
  bench.settled = bench.written;
  if (!build::settle_for_good(bench.settled).empty()) return std::nullopt;
  if (build::has_errors(planning::check(bench.settled))) return std::nullopt;
  return bench;
}

}  // namespace fettlefund::test
