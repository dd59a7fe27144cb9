#include <charconv>
#include <chrono>
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "budgets/solve.hpp"
#include "tests/bench/families.hpp"

#include <sys/resource.h>

// Solves each problem file and prints one JSON line for it (see README.md). Ends with 1 if a file could not
// be read or a plan did not pass `verify`.

namespace {

using namespace fettlefund;

/// What a line says about a result.
struct Row {
  const char* status = "";
  std::string value = "null";
  std::string bound = "null";
  bool verified = true;
  budgets::Work work;
};

void note_plan(const budgets::Problem& problem, const budgets::Plan& plan, Row& row) {
  row.value = std::to_string(plan.value);
  row.verified = budgets::verify(problem, plan).empty();
}

Row describe(const budgets::Problem& problem, const budgets::Result& result) {
  Row row;
  if (const auto* proven = std::get_if<budgets::Proven>(&result)) {
    row.status = "proven";
    note_plan(problem, proven->plan, row);
    row.bound = row.value;
    row.work = proven->work;
  } else if (const auto* stopped = std::get_if<budgets::Stopped>(&result)) {
    row.status = "stopped";
    if (stopped->plan) note_plan(problem, *stopped->plan, row);
    row.bound = std::to_string(stopped->bound);
    row.work = stopped->work;
  } else {
    row.status = "impossible";
    row.work = std::get<budgets::Impossible>(result).work;
  }
  return row;
}

/// Processor time used by this process so far.
double cpu_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

/// The most memory this process has had so far, in MiB.
double peak_mib() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

std::string quoted(const std::string& text) {
  std::string result = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') result += '\\';
    result += static_cast<unsigned char>(c) < 0x20 ? '?' : c;
  }
  return result + "\"";
}

bool solve_file(const std::string& path, const budgets::SolveOptions& options) {
  const budgets::Problem problem = bench::staging_problem(bench::read_exchange(bench::read_file(path)));
  const auto start = std::chrono::steady_clock::now();
  const double cpu_start = cpu_seconds();
  const budgets::Result result = budgets::solve(problem, options);
  const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
  const double cpu = cpu_seconds() - cpu_start;
  const Row row = describe(problem, result);
  std::printf(
      "{\"file\": %s, \"status\": \"%s\", \"value\": %s, \"bound\": %s, \"states\": %lld, \"steps\": %lld, "
      "\"seconds\": %.3f, \"cpu_seconds\": %.3f, \"peak_mib\": %.1f, \"verified\": %s}\n",
      quoted(path).c_str(), row.status, row.value.c_str(), row.bound.c_str(),
      static_cast<long long>(row.work.states), static_cast<long long>(row.work.steps), seconds.count(), cpu,
      peak_mib(), row.verified ? "true" : "false");
  std::fflush(stdout);
  return row.verified;
}

bool set_effort(const std::string& given, budgets::SolveOptions& options) {
  const auto effort = budgets::find_effort(given);
  if (!effort) return std::fputs("--effort takes quick, normal or thorough\n", stderr), false;
  options.effort = *effort;
  return true;
}

bool set_steps(const std::string& given, budgets::SolveOptions& options) {
  std::int64_t steps = 0;
  const auto [end, fault] = std::from_chars(given.data(), given.data() + given.size(), steps);
  if (fault != std::errc() || end != given.data() + given.size() || steps < 1) {
    return std::fputs("--steps takes a number of steps, at least 1\n", stderr), false;
  }
  options.steps = steps;
  return true;
}

}  // namespace

int main(int count, char** arguments) {
  std::vector<std::string> files;
  budgets::SolveOptions options;
  for (int i = 1; i < count; ++i) {
    const std::string word = arguments[i];
    if (word != "--effort" && word != "--steps") {
      files.push_back(word);
      continue;
    }
    const std::string given = ++i < count ? arguments[i] : "";
    if (!(word == "--effort" ? set_effort(given, options) : set_steps(given, options))) return 2;
  }
  if (files.empty()) {
    std::fputs("usage: staging_bench FILE... [--effort quick|normal|thorough] [--steps NUMBER]\n", stderr);
    return 2;
  }
  bool good = true;
  for (const std::string& file : files) {
    try {
      good = solve_file(file, options) && good;
    } catch (const std::exception& fault) {
      std::fprintf(stderr, "%s: %s\n", file.c_str(), fault.what());
      good = false;
    }
  }
  return good ? 0 : 1;
}
