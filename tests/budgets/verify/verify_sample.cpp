#include "tests/budgets/verify/verify_sample.hpp"

#include <stdexcept>
#include <variant>

#include <doctest/doctest.h>

namespace fettlefund::budgets::sample {

Money cents(std::int64_t minor) { return Money::of_minor(minor); }
Date on(int day) { return make_date(2026, 1, 30) + day; }
Offer offer(int supplier, int price, int lead_days) {
  return {supplier, cents(price), lead_days, std::nullopt, std::nullopt};
}

namespace {

/// Three paydays 28 days apart, bench a week after each. Invented.
std::vector<Stage> three_stages() {
  std::vector<Stage> stages(3);
  for (int s = 0; s < 3; ++s) stages[s] = {on(28 * s), on(28 * s + 7), cents(10000), cents(1000), 600};
  return stages;
}

std::vector<Article> three_articles() {
  std::vector<Article> articles(3);
  articles[0].offers = {offer(0, 2000, 3), offer(1, 2101, 3), offer(0, 1500, 60)};
  articles[1].keeping_days = 40;
  articles[1].on_hand = {{300, on(7)}, {100, std::nullopt}};
  articles[1].offers = {offer(1, 900, 20)};  // reaches stages 1 and 2 from the payday before
  articles[2].pack = 10000;
  articles[2].offers = {offer(0, 150, 2), offer(1, 140, 30)};
  return articles;
}

std::vector<Removal> two_removals() {
  std::vector<Removal> removals(2);
  removals[0].minutes = 30;
  removals[1] = {cents(100), 60, {0}, {{2, 1000}}, {1}};
  return removals;
}

std::vector<Job> five_jobs() {
  std::vector<Job> jobs(5);
  jobs[0] = {{30, 20, 10}, cents(0), 120, {1}, {}, {{0, 1000}}, {0}, 0, -1, false};
  jobs[1] = {{60, 40, 20}, cents(250), 90, {}, {0}, {{1, 500}}, {0}, 0, -1, true};
  jobs[2] = {{9, 6, 3}, cents(0), 100, {0}, {}, {{1, 350}}, {1}, 0, 1, false};
  jobs[3] = {{5, 4, 3}, cents(100), 10, {}, {}, {}, {}, 0, -1, false};
  jobs[4] = {{8, 6, 4}, cents(0), 20, {0}, {}, {{1, 700}}, {1}, 0, -1, false};
  return jobs;
}

/// Jobs 1 and 4 change the two carriers of key 7; what job 0 brings clashes with carrier 4 unless job 2 is
/// done.
std::vector<Carrier> five_carriers() {
  std::vector<Carrier> carriers(5);
  carriers[0] = {-1, {1}, {{7, 1}}};
  carriers[1] = {1, {}, {{7, 2}}};
  carriers[2] = {-1, {4}, {{7, 1}}};
  carriers[3].brought_by = 0;
  return carriers;
}

}  // namespace

ProblemData problem() {
  ProblemData data;
  data.opening = cents(5000);
  data.allowance_bp = 1000;
  data.bother = 2;
  data.stages = three_stages();
  data.jobs = five_jobs();
  data.removals = two_removals();
  data.suppliers = {{cents(500), cents(4000)}, {cents(300), std::nullopt}};
  data.articles = three_articles();
  Offer wrench = offer(1, 1500, 1);
  wrench.from = on(28);  // too late to share the order for article 1, for which the next is too dear
  Offer dear = offer(1, 1900, 1);
  dear.until = on(27);
  data.tools = {{{}, {wrench, dear}, cents(700)}, {{1, 0, 0}, {}, cents(400)}};
  data.carriers = five_carriers();
  data.clashes = {{3, 4, {2}}};
  data.one_of = {{2, 3}};
  data.together = {{1, 4}};
  return data;
}

Schedule schedule() { return {{0, 1, 0, -1, 1}, {1, -1}}; }

Plan costed(const ProblemData& data, const Schedule& decisions) {
  auto result = cost(Problem(data), decisions);
  if (auto* broken = std::get_if<std::vector<Violation>>(&result)) FAIL(broken->front().what);
  return std::get<Plan>(result);
}

const Plan& plan() {
  static const Plan made = costed(problem(), schedule());
  return made;
}

std::vector<Violation> faults(const ProblemData& data, const Plan& judged) {
  return verify(Problem(data), judged);
}

void check_only(const std::vector<Violation>& findings, Rule rule) {
  CHECK_FALSE(findings.empty());
  for (const Violation& v : findings) {
    CHECK_MESSAGE(static_cast<int>(v.rule) == static_cast<int>(rule), v.what);
    CHECK_FALSE(v.what.empty());
  }
}

bool has(const std::vector<Violation>& findings, Rule rule, int stage, int index) {
  for (const Violation& v : findings)
    if (v.rule == rule && v.stage == stage && v.index == index) return true;
  return false;
}

std::vector<Violation> with_problem(const std::function<void(ProblemData&)>& change) {
  ProblemData data = problem();
  change(data);
  return faults(data, plan());
}

std::vector<Violation> with_plan(const std::function<void(Plan&)>& change) {
  Plan changed = plan();
  change(changed);
  return faults(problem(), changed);
}

OrderLine& line_for(Plan& changed, int stage, int article) {
  for (Order& order : changed.orders)
    for (OrderLine& line : order.lines)
      if (line.for_stage == stage && line.article == article) return line;
  throw std::logic_error("no such line in the sample plan");
}

}  // namespace fettlefund::budgets::sample
