#include "tests/fuzz/through.hpp"

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <variant>

#include "lib/build/read/read.hpp"
#include "lib/build/starter.hpp"
#include "lib/report/files/calendar.hpp"
#include "lib/report/files/csv.hpp"
#include "lib/report/json/json.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/picture/picture.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/read_back/settle.hpp"
#include "lib/trade/kinds.hpp"
#include "tests/known_leaks.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::test {
namespace {

std::string content(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What is shown holds no control character but line breaks and tabs.
void expect_clean(const std::string& what, const std::string& text) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\n' && c != '\t' && c != '\r') || byte == 0x7f)
      throw Broken(what + " holds a control character");
  }
}

void expect_silent(const planning::Outcome& outcome, const log::Log& log) {
  const sheets::Readback back = sheets::read_back(TypedWorkbook(outcome).stored());
  const sheets::Settled settled = sheets::settle(back, *outcome.build, log, outcome.end);
  const std::string said = told(settled.remarkable);
  if (!said.empty()) throw Broken("a fresh workbook tells: " + said.substr(0, 400));
  if (!settled.proposed.empty()) throw Broken("a fresh workbook has something to record");
}

}  // namespace

std::vector<std::string> legal_builds() {
  const std::filesystem::path source = FETTLEFUND_SOURCE_DIR;
  std::vector<std::string> texts;
  for (const char* name :
       {"tests/golden/told/told.build", "tests/golden/good/every-key.build", "tests/edits/rowboat.build",
        "tests/outputs/awkward.build", "tests/page/hostile.build"})
    texts.push_back(content(source / name));
  for (const std::string& trade : trade::trades())
    texts.push_back(build::starter_build("A start", trade, budgets::make_date(2027, 1, 4)));
  return texts;
}

budgets::SolveOptions bounded_options() {
  budgets::SolveOptions options;
  options.effort = budgets::Effort::quick;
  options.steps = 3'000'000;
  return options;
}

void put_out(const planning::Outcome& outcome, const log::Log& log) {
  report::TextOptions options;
  options.steps = true;
  expect_clean("the text", report::text(outcome, options));
  expect_clean("the page", report::stage_cards(outcome));
  expect_clean("the calendar", report::calendar(outcome));
  expect_clean("the list", report::shopping_csv(outcome));
  expect_clean("the picture", report::picture(outcome));
  if (!nlohmann::json::accept(report::json(outcome))) throw Broken("the JSON report is no JSON");
  expect_silent(outcome, log);
}

std::string through(const std::string& text) {
  const build::Reading reading = build::read(text, "mutated.build");
  if (reading.build.has_value() == build::has_errors(reading.diagnostics))
    throw Broken("neither build nor error");
  if (!reading.build) return "refused by the reader";
  if (build::has_errors(planning::check(*reading.build))) return "refused by check";
  const planning::Planning planning = planning::plan(*reading.build, bounded_options());
  if (std::holds_alternative<planning::Conflict>(planning)) return "impossible";
  if (std::holds_alternative<planning::NoPlan>(planning)) return "stopped";
  log::Log nothing_yet;
  nothing_yet.currency = reading.build->currency;
  put_out(std::get<planning::Outcome>(planning), nothing_yet);
  return "planned and put out";
}

int run_seeds(std::uint64_t first, std::uint64_t last, const std::function<std::string(std::uint64_t)>& one) {
  std::map<std::string, int> counts;
  int broken = 0;
  for (std::uint64_t seed = first; seed <= last; ++seed) {
    try {
      ++counts[one(seed)];
    } catch (const std::exception& fault) {
      ++broken;
      std::printf("seed %llu: %s\n", static_cast<unsigned long long>(seed), fault.what());
      std::fflush(stdout);
    }
  }
  for (const auto& [what, count] : counts) std::printf("%d %s\n", count, what.c_str());
  std::printf("%d broken of %llu\n", broken, static_cast<unsigned long long>(last - first + 1));
  return broken == 0 ? 0 : 1;
}

bool read_seeds(int count, char** words, std::uint64_t& first, std::uint64_t& last) {
  if (count < 3) {
    std::fprintf(stderr, "usage: %s FIRST LAST [--show]\n", count > 0 ? words[0] : "");
    return false;
  }
  first = std::strtoull(words[1], nullptr, 10);
  last = std::strtoull(words[2], nullptr, 10);
  return true;
}

}  // namespace fettlefund::test
