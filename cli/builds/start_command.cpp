#include <ostream>

#include "cli/builds/new_workbook.hpp"
#include "cli/load.hpp"
#include "lib/build/read/read.hpp"
#include "lib/build/starter.hpp"
#include "lib/form/writing/write_form.hpp"
#include "lib/report/files/atomic_file.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

constexpr std::string_view build_ending = ".build", form_ending = ".xlsx";

/// The starter's first day where no clock is at hand.
constexpr std::string_view no_clock = "2027-01-01";

/// The file name as it is typed at a prompt.
std::string as_typed(const std::string& path) {
  const bool plain = path.find_first_of(" '\"$&;()<>|*?`!#~[]{}") == std::string::npos;
  if (plain) return path;
  std::string text = "'";
  for (const char c : path) text += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return text + "'";
}

/// Writes the starter as a form. A starter has no mistakes; its comments say how to write a build file, which
/// the form's own explanations stand for.
WriteTo as_form(const std::string& text, const std::string& path, const std::string& trade) {
  return [=](const std::string& temporary) {
    const build::Reading reading = build::read(text, path);
    form::write_form(text, reading.build.value(), temporary, trade);
  };
}

}  // namespace

int start_command(const Request& request, const Console& console) {
  std::string name = request.file;
  const std::string_view ending = request.as_form ? form_ending : build_ending;
  if (name.ends_with(ending)) name.resize(name.size() - ending.size());
  if (name.empty() || name.find_first_of(std::string("/\\\0", 3)) != std::string::npos) {
    console.err << "fettlefund: the name of a build makes a file name; it cannot be empty or hold / or \\\n";
    return bad_input;
  }
  const budgets::Date day =
      request.on ? *request.on : console.around.today.value_or(*budgets::read_date(no_clock));
  const std::string trade = request.trade.empty() ? "motorcycle" : request.trade;
  const std::string path = name + std::string(ending), text = build::starter_build(name, trade, day);
  const bool whole = request.as_form ? write_new_workbook(path, console, as_form(text, path, trade))
                                     : written(console, [&] { report::write_new_file(path, text); });
  if (!whole) return bad_input;
  console.out << fmt::format("Wrote {}. Change it into your own, then: fettlefund plan {}\n", path,
                             as_typed(path));
  return done;
}

}  // namespace fettlefund::cli
