#include <cstdio>
#include <cstdlib>
#include <limits>
#include <string>
#include <vector>

#include "budgets/search/bound/bounder.hpp"
#include "budgets/solve.hpp"
#include "tests/bench/rule_costs.hpp"
#include "tests/bench/rules_out.hpp"
#include "tests/budgets/support/enlarged.hpp"
#include "tests/budgets/support/random_problem.hpp"

// How far the bound before any search lies above the optimum, on random problems over all rules and on the
// same problems with one rule taken out; see README.md. Ends with 1 if a bound is below an optimum.

namespace {

using namespace fettlefund;
using budgets::Problem;
using budgets::ProblemData;

struct Settings {
  int jobs = 10;
  int stages = 5;
  int first = 0;
  int seeds = 300;
  int bound_steps = 20'000'000;  ///< of each of two rounds of improving multipliers
  std::int64_t solve_steps = 300'000'000;
};

/// Optimum and root bound of a problem with a proven optimum above zero.
struct Measured {
  std::int64_t optimum = 0;
  std::int64_t bound = 0;
  double gap() const { return 100.0 * static_cast<double>(bound - optimum) / static_cast<double>(optimum); }
};

/// The bound of the empty beginning, from multipliers improved with a fixed allowance. `hope` is the optimum:
/// a search has a plan near it in hand when it does this.
std::int64_t root_bound(const Problem& problem, std::int64_t hope, std::int64_t steps) {
  using namespace budgets::search;
  const Model model(problem);
  const Relaxed relaxed(model);
  Bounder bounder(relaxed, 200'000);
  const Root root{0, std::vector<char>(relaxed.units, 0), std::vector<char>(relaxed.tools(), 0), 0, 0};
  Meter meter(std::int64_t{1} << 50, nullptr);  // the allowance ends it
  std::vector<double> values = bounder.start();
  const Tuning coarse{60, 25, 1.0, 0.6, 0.05, false};
  const Tuning fine{60, 25, 0.4, 0.6, 0.02, true};
  const std::int64_t never_reached = std::numeric_limits<std::int64_t>::min();
  bounder.improve(root, values, coarse, never_reached, static_cast<double>(hope), steps, meter);
  const std::int64_t bound =
      bounder.improve(root, values, fine, never_reached, static_cast<double>(hope), steps, meter);
  return bounder.scale().floor_worth(bound);
}

enum class Answer { measured, left_out, not_proven };

Answer measure(const ProblemData& data, const Settings& settings, Measured& result) {
  const Problem problem(data);
  budgets::SolveOptions options;
  options.steps = settings.solve_steps;
  options.explain = false;
  const budgets::Result solved = budgets::solve(problem, options);
  if (std::holds_alternative<budgets::Stopped>(solved)) return Answer::not_proven;
  const auto* proven = std::get_if<budgets::Proven>(&solved);
  if (proven == nullptr || proven->plan.value <= 0) return Answer::left_out;
  result = {proven->plan.value, root_bound(problem, proven->plan.value, settings.bound_steps)};
  return Answer::measured;
}

class Table {
 public:
  explicit Table(const Settings& settings) : settings_(settings), rows_(bench::rule_costs()) {}

  void add(int seed) {
    const ProblemData data =
        testing::enlarged(testing::random_problem(seed, settings_.jobs, settings_.stages), 100);
    Measured base;
    if (!take(data, seed, base)) return;
    all_.push_back(base.gap());
    for (std::size_t r = 0; r < rows_.size(); ++r) add_without(seed, data, base, r);
  }

  void print();
  bool sound() const { return sound_; }

 private:
  void add_without(int seed, ProblemData data, const Measured& base, std::size_t r) {
    if (!bench::rules_out()[r].take_out(data)) return;
    Measured altered;
    if (!take(data, seed, altered)) return;
    rows_[r].with.push_back(base.gap());
    rows_[r].without.push_back(altered.gap());
  }

  bool take(const ProblemData& data, int seed, Measured& result) {
    const Answer answer = measure(data, settings_, result);
    not_proven_ += answer == Answer::not_proven;
    if (answer != Answer::measured) return false;
    if (result.bound < result.optimum) {
      std::fprintf(stderr, "seed %d: a bound below the optimum\n", seed);
      sound_ = false;
    }
    return true;
  }

  Settings settings_;
  std::vector<bench::RuleCost> rows_;
  std::vector<double> all_;
  int not_proven_ = 0;
  bool sound_ = true;
};

void Table::print() {
  std::printf(
      "%d to %d jobs, %d to %d stages, seeds %d to %d: %zu with a proven optimum above zero, %d solves not "
      "proven\n",
      (settings_.jobs + 1) / 2, settings_.jobs, (settings_.stages + 1) / 2, settings_.stages, settings_.first,
      settings_.first + settings_.seeds - 1, all_.size(), not_proven_);
  bench::print_rule_costs(all_, rows_);
}

/// False if the arguments are not pairs of a name and a number above zero (the first seed: zero too).
bool read_settings(int count, char** arguments, Settings& settings) {
  for (int i = 1; i < count; i += 2) {
    if (i + 1 == count) return false;
    const std::string name = arguments[i];
    int* place = name == "--jobs"     ? &settings.jobs
                 : name == "--stages" ? &settings.stages
                 : name == "--seeds"  ? &settings.seeds
                 : name == "--first"  ? &settings.first
                 : name == "--steps"  ? &settings.bound_steps
                                      : nullptr;
    char* end = nullptr;
    const long value = std::strtol(arguments[i + 1], &end, 10);
    const bool fits = end != arguments[i + 1] && *end == '\0' && value <= 1'000'000'000;
    if (place == nullptr || !fits || value < (name == "--first" ? 0 : 1)) return false;
    *place = static_cast<int>(value);
  }
  return true;
}

}  // namespace

int main(int count, char** arguments) {
  Settings settings;
  if (!read_settings(count, arguments, settings)) {
    return std::fputs(
               "usage: relaxation_cost [--jobs N] [--stages N] [--first SEED] [--seeds N] [--steps N]\n",
               stderr),
           2;
  }
  Table table(settings);
  for (int seed = settings.first; seed < settings.first + settings.seeds; ++seed) table.add(seed);
  table.print();
  return table.sound() ? 0 : 1;
}
