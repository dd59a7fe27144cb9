#include <filesystem>
#include <ostream>
#include <stdexcept>

#include "cli/planned.hpp"
#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/questions/compare.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/text/compare.hpp"
#include "lib/sheets/pages/frontier_sheet.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

constexpr std::size_t most_columns = 3, most_amounts = 200;

std::vector<std::string> split(const std::string& text) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (std::size_t comma; (comma = text.find(',', from)) != std::string::npos; from = comma + 1) {
    parts.push_back(text.substr(from, comma - from));
  }
  parts.push_back(text.substr(from));
  return parts;
}

/// What is left of the build under one --with; nothing: `err` tells why not. The check is of the whole build
/// under the same changes: what is left has fewer paydays than its stages.
std::optional<planning::Changed> changed(const Console& console, const build::Build& left, build::Build whole,
                                         const std::string& text) {
  planning::Changed one{"", left};
  for (const std::string& part : split(text)) {
    one.title += (one.title.empty() ? "" : ", ") + part;
    if (const std::string wrong = planning::change(one.build, part); !wrong.empty()) {
      console.err << "fettlefund: --with " << wrong << '\n';
      return std::nullopt;
    }
    planning::change(whole, part);
  }
  const auto diagnostics = planning::check(whole);
  if (!build::has_errors(diagnostics)) return one;
  console.err << fmt::format("fettlefund: --with {} does not make a build to plan:\n", text);
  for (const build::Diagnostic& diagnostic : diagnostics) console.err << build::to_text(diagnostic) << '\n';
  return std::nullopt;
}

int side_by_side(const Request& request, const Console& console, const build::Build& build,
                 const build::Build& whole, int stages, const std::string& as_of) {
  std::vector<planning::Changed> all;
  for (const std::string& text : request.with) {
    std::optional<planning::Changed> one = changed(console, build, whole, text);
    if (!one) return bad_input;
    all.push_back(std::move(*one));
  }
  ProgressLine progress(request, console, stages);
  const planning::Comparison comparison = planning::compare(build, all, progress.options());
  progress.end();
  return reply(request, console,
               request.json ? report::compare_json(comparison)
                            : report::compare_text(comparison, text_options(request, console, as_of)),
               done);
}

/// The amounts of FROM..TO/STEP; empty: it is none, or asks for too many.
std::vector<budgets::Money> amounts_of(const std::string& text, const budgets::Currency& currency) {
  const std::size_t dots = text.find(".."), slash = text.find('/');
  if (dots == std::string::npos || slash == std::string::npos || slash < dots) return {};
  const auto from = budgets::read_money(text.substr(0, dots), currency).amount;
  const auto to = budgets::read_money(text.substr(dots + 2, slash - dots - 2), currency).amount;
  const auto step = budgets::read_money(text.substr(slash + 1), currency).amount;
  if (!from || !to || !step || *from < budgets::Money() || *to < *from || *step <= budgets::Money())
    return {};
  const std::int64_t count = (to->minor() - from->minor()) / step->minor() + 1;
  if (count > static_cast<std::int64_t>(most_amounts)) return {};
  std::vector<budgets::Money> amounts;
  for (std::int64_t i = 0; i < count; ++i) amounts.push_back(*from + *step * i);
  return amounts;
}

int write_workbook(const Request& request, const Console& console, const planning::FrontierReport& report,
                   const std::string& as_of) {
  const bool whole = written(console, [&] {
    report::write_atomically(request.output, [&](const std::string& temporary) {
      sheets::write_frontier_workbook(report, temporary);
    });
  });
  if (!whole) return bad_input;
  console.out << as_of_line(as_of) << "Wrote " << request.output << ".\n";
  return done;
}

int over_amounts(const Request& request, const Console& console, const build::Build& build, int stages,
                 const std::string& as_of) {
  const std::vector<budgets::Money> amounts = amounts_of(request.amounts, build.currency);
  if (amounts.empty()) {
    console.err << fmt::format(
        "fettlefund: --amounts '{}': expected FROM..TO/STEP in {} with at most {} amounts, as 150..400/10\n",
        request.amounts, build.currency.code, most_amounts);
    return bad_input;
  }
  ProgressLine progress(request, console, stages);
  try {
    const planning::FrontierReport report = planning::frontier(build, amounts, progress.options());
    progress.end();
    if (std::filesystem::path(request.output).extension() == ".xlsx")
      return write_workbook(request, console, report, as_of);
    return reply(request, console,
                 request.json ? report::frontier_json(report)
                              : report::frontier_text(report, text_options(request, console, as_of)),
                 done);
  } catch (const std::invalid_argument& wrong) {
    progress.end();
    console.err << "fettlefund: --amounts: " << wrong.what() << '\n';
    return bad_input;
  }
}

}  // namespace

int compare_command(const Request& request, const Console& console) {
  if (request.with.empty() == request.amounts.empty() || request.with.size() > most_columns) {
    console.err << "fettlefund: compare wants one to three --with CHANGES, or --amounts FROM..TO/STEP\n";
    return bad_input;
  }
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const std::optional<planning::Standing> standing = stand(request, console, *loaded.build);
  if (!standing) return bad_input;
  try {
    return request.amounts.empty()
               ? side_by_side(request, console, *standing->build, *loaded.build, stages_left(*standing),
                              standing->as_of)
               : over_amounts(request, console, *standing->build, stages_left(*standing), standing->as_of);
  } catch (const budgets::MoneyOverflow&) {
  } catch (const std::invalid_argument&) {  // what was paid so far, and these amounts
  }
  console.err << "fettlefund: these amounts are more money than can be counted\n";
  return bad_input;
}

}  // namespace fettlefund::cli
