#include <ostream>

#include "cli/load.hpp"
#include "lib/build/starter.hpp"
#include "lib/report/files/atomic_file.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

constexpr std::string_view ending = ".build";

/// The starter's first day where no clock is at hand.
constexpr std::string_view no_clock = "2027-01-01";

/// The file name as it is typed at a prompt.
std::string quoted(const std::string& path) {
  const bool plain = path.find_first_of(" '\"$&;()<>|*?`!#~[]{}") == std::string::npos;
  if (plain) return path;
  std::string text = "'";
  for (const char c : path) text += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return text + "'";
}

}  // namespace

int start_command(const Request& request, const Console& console) {
  std::string name = request.file;
  if (name.ends_with(ending)) name.resize(name.size() - ending.size());
  if (name.empty() || name.find_first_of(std::string("/\\\0", 3)) != std::string::npos) {
    console.err << "fettlefund: the name of a build makes a file name; it cannot be empty or hold / or \\\n";
    return bad_input;
  }
  const std::string path = name + std::string(ending);
  const budgets::Date day =
      request.on ? *request.on : console.around.today.value_or(*budgets::read_date(no_clock));
  const std::string trade = request.trade.empty() ? "motorcycle" : request.trade;
  const bool whole =
      written(console, [&] { report::write_new_file(path, build::starter_build(name, trade, day)); });
  if (!whole) return bad_input;
  console.out << fmt::format("Wrote {}. Change it into your own, then: fettlefund plan {}\n", path,
                             quoted(path));
  return done;
}

}  // namespace fettlefund::cli
