#include "cli/staging.hpp"

#include <charconv>
#include <fstream>
#include <iterator>
#include <ostream>

#include "budgets/solve.hpp"
#include "cli/version.hpp"
#include "lib/exchange/answer.hpp"
#include "lib/exchange/exchange.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

enum Exit { done = 0, fault = 1, bad_input = 2, impossible = 3, no_plan = 4 };

/// What the words ask for; a message in `wrong` where they are not understood.
struct Asked {
  std::string file = "-";
  budgets::SolveOptions options;
  bool help = false, version = false;
  std::string wrong;
};

std::string set(Asked& asked, const std::string& option, const std::string& value) {
  if (option == "--effort") {
    const auto effort = budgets::find_effort(value);
    if (!effort) return "--effort takes quick, normal or thorough";
    asked.options.effort = *effort;
    return {};
  }
  std::int64_t steps = 0;
  const auto [end, trouble] = std::from_chars(value.data(), value.data() + value.size(), steps);
  if (trouble != std::errc() || end != value.data() + value.size() || steps < 1)
    return "--steps takes a number of steps, at least 1";
  asked.options.steps = steps;
  return {};
}

Asked asked_by(const std::vector<std::string>& args) {
  Asked asked;
  bool named = false;
  for (std::size_t i = 0; i < args.size() && asked.wrong.empty(); ++i) {
    const std::string& word = args[i];
    if (word == "--effort" || word == "--steps") {
      asked.wrong = set(asked, word, ++i < args.size() ? args[i] : "");
    } else if (word == "--help" || word == "-h") {
      asked.help = true;
    } else if (word == "--version") {
      asked.version = true;
    } else if ((word != "-" && word.starts_with("-")) || named) {
      asked.wrong = fmt::format("'{}' is not understood here", word);
    } else {
      asked.file = word;
      named = true;
    }
  }
  return asked;
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

int answer(const Asked& asked, const std::string& text, std::ostream& out) {
  const budgets::Problem problem = exchange::staging_problem(exchange::read_exchange(text));
  const budgets::Result result = budgets::solve(problem, asked.options);
  out << exchange::write_answer(problem, result);
  return code_of(result);
}

}  // namespace

std::string staging_help() {
  return "fettlefund-staging [FILE] [--effort quick|normal|thorough] [--steps NUMBER]\n\n"
         "Reads a staging problem in the exchange form (JSON) from FILE or standard input\n"
         "and writes the best choice, with its proof, to standard output as JSON.\n\n"
         "  FILE              the problem; - or none: standard input\n"
         "  --effort LEVEL    how long to look, in steps and not in seconds\n"
         "  --steps NUMBER    no more than so many steps of the effort's\n"
         "  --help, --version\n\n"
         "Example:\n"
         "  echo '{\"stages\": [{\"cash_in\": 50, \"hours\": 4}],\n"
         "         \"tasks\": [{\"cost\": 30, \"hours\": 2, \"value\": 5}]}' | fettlefund-staging\n\n"
         "The form of problem and answer is told in EXCHANGE.md, installed with the\n"
         "documentation. Exit code: 0 an answer with a choice, 2 bad input, 3 proven\n"
         "impossible, 4 stopped before a choice was found, 1 internal fault.\n";
}

int run_staging(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err,
                const Surroundings& surroundings) {
  Asked asked = asked_by(args);
  if (!asked.wrong.empty()) {
    err << "fettlefund-staging: " << asked.wrong << "\n\n" << staging_help();
    return bad_input;
  }
  if (asked.help || asked.version) {
    out << (asked.help ? staging_help() : version_text() + "\n") << std::flush;
    return out ? done : bad_input;
  }
  asked.options.stop = surroundings.stop;
  const std::optional<std::string> text = text_of(asked.file, in);
  if (!text) {
    err << "fettlefund-staging: cannot read " << asked.file << '\n';
    return bad_input;
  }
  const std::string where = asked.file == "-" ? "standard input" : asked.file;
  try {
    const int code = answer(asked, *text, out);
    out.flush();
    if (out) return code;
    err << "fettlefund-staging: cannot write to standard output\n";
  } catch (const std::logic_error& internal) {  // Problem refuses with one kind of these
    const bool refused = dynamic_cast<const std::invalid_argument*>(&internal) != nullptr;
    err << fmt::format("fettlefund-staging: {}: {}\n", refused ? where : "internal fault", internal.what());
    return refused ? bad_input : fault;
  } catch (const std::exception& trouble) {
    err << fmt::format("fettlefund-staging: {}: {}\n", where, trouble.what());
  }
  return bad_input;
}

}  // namespace fettlefund::cli
