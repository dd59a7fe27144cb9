#pragma once
#include <iosfwd>
#include <string>

#include "budgets/solve.hpp"
#include "cli/run.hpp"

/// The commands. Each returns the exit code and lets exceptions of internal faults through.
namespace fettlefund::cli {

inline constexpr int done = 0, internal_fault = 1, bad_input = 2, impossible = 3, no_plan = 4;

enum class Colour { automatic, always, never };

/// A command line, read.
struct Request {
  std::string command;
  std::string file;    ///< the build file, "-" for standard input; for `start` the build's name
  std::string output;  ///< -o; empty: standard output, or the name the command chooses
  bool json = false;
  bool steps = false;
  bool progress = false;
  int revision = 0;      ///< of a calendar file
  int samples = 10'000;  ///< of prices and lead times
  budgets::Effort effort = budgets::Effort::normal;
  Colour colour = Colour::automatic;
};

/// Where a command reads and writes.
struct Console {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  const Surroundings& around;
};

int check_command(const Request& request, const Console& console);
int plan_command(const Request& request, const Console& console);
int sheet_command(const Request& request, const Console& console);
int calendar_command(const Request& request, const Console& console);
int shopping_command(const Request& request, const Console& console);
int drive_command(const Request& request, const Console& console);
int picture_command(const Request& request, const Console& console);
int risk_command(const Request& request, const Console& console);
int start_command(const Request& request, const Console& console);

}  // namespace fettlefund::cli
