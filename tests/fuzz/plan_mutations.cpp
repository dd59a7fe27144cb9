#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include "lib/build/read/read.hpp"
#include "lib/build/starter.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/report/files/calendar.hpp"
#include "lib/report/files/csv.hpp"
#include "lib/report/json/json.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/picture/picture.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/read_back/settle.hpp"
#include "lib/trade/kinds.hpp"
#include "tests/fuzz/mutation.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <nlohmann/json.hpp>

// Legal builds, mutated, through the whole program. See README.md.
//   plan_mutations FIRST LAST [--show]

namespace {

using namespace fettlefund;

std::string content(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

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

struct Broken : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// What is shown holds no control character but line breaks.
void expect_clean(const std::string& what, const std::string& text) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\n' && c != '\t' && c != '\r') || byte == 0x7f)
      throw Broken(what + " holds a control character");
  }
}

void expect_silent(const planning::Outcome& outcome) {
  const sheets::Readback back = sheets::read_back(test::TypedWorkbook(outcome).stored());
  log::Log log;
  log.currency = outcome.build->currency;
  const sheets::Settled settled = sheets::settle(back, *outcome.build, log, outcome.end);
  const std::string told = test::told(settled.remarkable);
  if (!told.empty()) throw Broken("a fresh workbook tells: " + told.substr(0, 400));
  if (!settled.proposed.empty()) throw Broken("a fresh workbook has something to record");
}

void put_out(const planning::Outcome& outcome) {
  report::TextOptions options;
  options.steps = true;
  expect_clean("the text", report::text(outcome, options));
  expect_clean("the page", report::stage_cards(outcome));
  expect_clean("the calendar", report::calendar(outcome));
  expect_clean("the list", report::shopping_csv(outcome));
  expect_clean("the picture", report::picture(outcome));
  if (!nlohmann::json::accept(report::json(outcome))) throw Broken("the JSON report is no JSON");
  expect_silent(outcome);
}

/// "read" (refused), "checked" (refused), "planned", "impossible" or "stopped"; throws where something
/// breaks.
std::string run(const std::string& text) {
  build::Reading reading = build::read(text, "mutated.build");
  if (reading.build.has_value() == build::has_errors(reading.diagnostics))
    throw Broken("neither build nor error");
  if (!reading.build) return "refused by the reader";
  if (build::has_errors(planning::check(*reading.build))) return "refused by check";
  budgets::SolveOptions options;
  options.effort = budgets::Effort::quick;
  options.steps = 3'000'000;
  const planning::Planning planning = planning::plan(*reading.build, options);
  if (std::holds_alternative<planning::Conflict>(planning)) return "impossible";
  if (std::holds_alternative<planning::NoPlan>(planning)) return "stopped";
  put_out(std::get<planning::Outcome>(planning));
  return "planned and put out";
}

int run_all(const std::vector<std::string>& builds, unsigned long first, unsigned long last) {
  std::map<std::string, int> counts;
  int broken = 0;
  for (unsigned long seed = first; seed <= last; ++seed) {
    try {
      ++counts[run(test::mutated(builds, seed))];
    } catch (const std::exception& fault) {
      ++broken;
      std::printf("seed %lu: %s\n", seed, fault.what());
      std::fflush(stdout);
    }
  }
  for (const auto& [what, count] : counts) std::printf("%d %s\n", count, what.c_str());
  std::printf("%d broken of %lu\n", broken, last - first + 1);
  return broken == 0 ? 0 : 1;
}

}  // namespace

int main(int count, char** words) {
  if (count < 3) return std::fputs("usage: plan_mutations FIRST LAST [--show]\n", stderr), 2;
  const unsigned long first = std::strtoul(words[1], nullptr, 10), last = std::strtoul(words[2], nullptr, 10);
  const std::vector<std::string> builds = legal_builds();
  if (count > 3) return std::puts(test::mutated(builds, first).c_str()), 0;
  return run_all(builds, first, last);
}
