#include "cli/staging/staging.hpp"

#include <fstream>
#include <iterator>
#include <limits>
#include <ostream>

#include "budgets/solve.hpp"
#include "cli/commands.hpp"
#include "cli/version.hpp"
#include "lib/exchange/answer.hpp"
#include "lib/exchange/exchange.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// What the words ask for.
struct Asked {
  std::string file = "-", effort = "normal";
  std::optional<std::int64_t> steps;
};

constexpr const char* purpose =
    "Solve a staging problem given as JSON and write the best choice, with its proof, as JSON.";
constexpr const char* more =
    "Example:\n"
    "  echo '{\"stages\": [{\"cash_in\": 50, \"hours\": 4}],\n"
    "         \"tasks\": [{\"cost\": 30, \"hours\": 2, \"value\": 5}]}' | fettlefund-staging\n\n"
    "The form of problem and answer is told in EXCHANGE.md, installed with the\n"
    "documentation. Exit code: 0 an answer with a choice, 2 bad input, 3 proven\n"
    "impossible, 4 stopped before a choice was found, 1 internal fault.";

void set_up(CLI::App& app, Asked& asked) {
  app.set_version_flag("--version", version_text(), "print the version");
  app.set_help_flag("-h,--help", "print this help");
  app.add_option("FILE", asked.file, "the problem; - or none: standard input")->type_name("");
  app.add_option("--effort", asked.effort, "how long to look: quick, normal (default) or thorough")
      ->type_name("LEVEL")
      ->check(CLI::IsMember({"quick", "normal", "thorough"}).description(""));
  app.add_option("--steps", asked.steps, "no more than so many steps of the effort's")
      ->type_name("NUMBER")
      ->check(CLI::Range(std::int64_t{1}, std::numeric_limits<std::int64_t>::max()).description(""));
  app.footer(more);
}

/// Nothing where the file cannot be read.
std::optional<std::string> text_of(const std::string& file, std::istream& in) {
  if (file == "-") return std::string(std::istreambuf_iterator<char>(in), {});
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return std::nullopt;
  return std::string(std::istreambuf_iterator<char>(stream), {});
}

int code_of(const budgets::Result& result) {
  if (std::holds_alternative<budgets::Impossible>(result)) return impossible;
  return budgets::plan_of(result) != nullptr ? done : no_plan;
}

int answer(const Asked& asked, const std::string& text, std::ostream& out, const std::atomic<bool>* stop) {
  const budgets::Problem problem = exchange::staging_problem(exchange::read_exchange(text));
  budgets::SolveOptions options;
  options.effort = budgets::find_effort(asked.effort).value();
  options.steps = asked.steps;
  options.stop = stop;
  const budgets::Result result = budgets::solve(problem, options);
  out << exchange::write_answer(problem, result);
  return code_of(result);
}

int solve_asked(const Asked& asked, std::istream& in, std::ostream& out, std::ostream& err,
                const Surroundings& surroundings) {
  const std::optional<std::string> text = text_of(asked.file, in);
  if (!text) {
    err << "fettlefund-staging: cannot read " << asked.file << '\n';
    return bad_input;
  }
  const std::string where = asked.file == "-" ? "standard input" : asked.file;
  try {
    const int code = answer(asked, *text, out, surroundings.stop);
    out.flush();
    if (out) return code;
    err << "fettlefund-staging: cannot write to standard output\n";
  } catch (const std::logic_error& internal) {  // Problem refuses with one kind of these
    const bool refused = dynamic_cast<const std::invalid_argument*>(&internal) != nullptr;
    err << fmt::format("fettlefund-staging: {}: {}\n", refused ? where : "internal fault", internal.what());
    return refused ? bad_input : internal_fault;
  } catch (const std::exception& trouble) {
    err << fmt::format("fettlefund-staging: {}: {}\n", where, trouble.what());
  }
  return bad_input;
}

/// A text asked for; its reader may have gone.
int print(const std::string& text, std::ostream& out) {
  out << text << std::flush;
  return out ? done : bad_input;
}

}  // namespace

std::string staging_help() {
  CLI::App app(purpose, "fettlefund-staging");
  Asked asked;
  set_up(app, asked);
  return app.help();
}

int run_staging(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err,
                const Surroundings& surroundings) {
  CLI::App app(purpose, "fettlefund-staging");
  Asked asked;
  set_up(app, asked);
  try {
    app.parse(std::vector<std::string>(args.rbegin(), args.rend()));
  } catch (const CLI::CallForHelp&) {
    return print(app.help(), out);
  } catch (const CLI::CallForVersion& version) {
    return print(std::string(version.what()) + "\n", out);
  } catch (const CLI::ParseError& error) {
    err << fmt::format("fettlefund-staging: {}\nTry 'fettlefund-staging --help'.\n", error.what());
    return bad_input;
  }
  return solve_asked(asked, in, out, err, surroundings);
}

}  // namespace fettlefund::cli
