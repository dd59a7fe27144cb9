#include "tests/outside/support/benchmarks.hpp"

#include <fstream>
#include <numeric>
#include <set>
#include <sstream>

namespace fettlefund::outside {
namespace {

using namespace budgets;

std::vector<std::int64_t> read_many(std::istream& text, std::int64_t count) {
  std::vector<std::int64_t> result(static_cast<std::size_t>(count));
  for (std::int64_t& value : result) text >> value;
  return result;
}

std::int64_t read_one(std::istream& text) { return read_many(text, 1).front(); }

/// "310.5" as 3105: decimals with one digit, exactly.
std::int64_t read_tenths(std::istream& text) {
  std::string word;
  text >> word;
  const std::size_t point = word.find('.');
  if (point == std::string::npos) return std::stoll(word) * 10;
  return std::stoll(word.substr(0, point)) * 10 + (word.size() > point + 1 ? word[point + 1] - '0' : 0);
}

std::vector<std::int64_t> read_many_tenths(std::istream& text, std::size_t count) {
  std::vector<std::int64_t> result(count);
  for (std::int64_t& value : result) value = read_tenths(text);
  return result;
}

ProblemData stages(std::size_t count) {
  ProblemData data;
  for (std::size_t t = 0; t < count; ++t) {
    const Date day = Date{20000} + static_cast<int>(t);
    data.stages.push_back({day, day, {}, {}, 0});
  }
  return data;
}

void close(const Release& release, int requirement, std::set<int>& closed) {
  if (!closed.insert(requirement).second) return;
  for (int need : release.needs[requirement]) close(release, need, closed);
}

void add_requirements(const Release& release, ReleaseForm form, ProblemData& data) {
  if (form == ReleaseForm::tools) data.suppliers.push_back({});
  for (std::size_t r = 0; r < release.costs.size(); ++r) {
    const Money cost = Money::of_minor(release.costs[r]);
    if (form == ReleaseForm::tools) {
      data.tools.push_back({{}, {{0, cost, 0, {}, {}}}, {}});
    } else if (form == ReleaseForm::removals) {
      data.removals.push_back({cost, 0, release.needs[r], {}, {}});
    } else {
      Job job;
      job.worth = {0};
      job.cost = cost;
      job.after = release.needs[r];
      data.jobs.push_back(job);
    }
  }
}

}  // namespace

std::optional<std::string> shared_data(const std::string& name) {
  std::ifstream file(FETTLEFUND_SOURCE_DIR "/../shared/data/" + name);
  if (!file) return {};
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::int64_t Release::budget(int tenths) const {
  const std::int64_t all = std::accumulate(costs.begin(), costs.end(), std::int64_t{0});
  return (all * tenths + 5) / 10;
}

Release read_release(const std::string& content) {
  std::istringstream text(content);
  Release release;
  for (std::int64_t levels = read_one(text); levels > 0; --levels) {
    for (std::int64_t cost : read_many(text, read_one(text))) release.costs.push_back(cost);
  }
  release.needs.resize(release.costs.size());
  for (std::int64_t pairs = read_one(text); pairs > 0; --pairs) {
    const auto pair = read_many(text, 2);
    release.needs.at(static_cast<std::size_t>(pair[1] - 1)).push_back(static_cast<int>(pair[0] - 1));
  }
  for (std::int64_t customers = read_one(text); customers > 0; --customers) {
    Release::Customer customer{read_one(text), {}};
    for (std::int64_t id : read_many(text, read_one(text))) customer.asks.push_back(static_cast<int>(id - 1));
    release.customers.push_back(customer);
  }
  return release;
}

ProblemData release_problem(const Release& release, std::int64_t budget, ReleaseForm form) {
  ProblemData data = stages(1);
  data.opening = Money::of_minor(budget);
  add_requirements(release, form, data);
  for (const Release::Customer& customer : release.customers) {
    Job job;
    job.worth = {customer.profit};
    std::set<int> closed;
    for (int r : customer.asks) close(release, r, closed);
    if (form == ReleaseForm::tools) job.tools.assign(closed.begin(), closed.end());
    if (form == ReleaseForm::removals) job.removals = customer.asks;
    if (form == ReleaseForm::jobs) job.after = customer.asks;
    data.jobs.push_back(job);
  }
  return data;
}

std::vector<Rows> read_rows(const std::string& content) {
  std::istringstream text(content);
  std::vector<Rows> result;
  for (std::int64_t count = read_one(text); count > 0; --count) {
    const auto items = static_cast<std::size_t>(read_one(text));
    const auto rows = static_cast<std::size_t>(read_one(text));
    Rows problem;
    problem.optimum = read_tenths(text);
    problem.values = read_many_tenths(text, items);
    for (std::size_t r = 0; r < rows; ++r) problem.rows.push_back(read_many_tenths(text, items));
    problem.limits = read_many_tenths(text, rows);
    result.push_back(problem);
  }
  return result;
}

ProblemData rows_problem(const Rows& problem) {
  const std::size_t rows = problem.rows.size();
  ProblemData data = stages(rows);
  for (std::size_t r = 0; r < rows; ++r) data.stages[r].minutes = problem.limits[r];
  for (std::size_t i = 0; i < problem.values.size(); ++i) {
    for (std::size_t r = 0; r < rows; ++r) {
      Job job;
      job.worth.assign(rows, 0);
      if (r + 1 == rows) job.worth[r] = problem.values[i];
      job.minutes = problem.rows[r][i];
      job.earliest = job.latest = static_cast<int>(r);
      if (r > 0) job.after = {static_cast<int>(data.jobs.size()) - 1};
      data.jobs.push_back(job);
    }
  }
  return data;
}

}  // namespace fettlefund::outside
