#pragma once
#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "budgets/solve.hpp"
#include "budgets/values/date.hpp"
#include "cli/run.hpp"
#include "lib/progress/replan.hpp"

/// The commands. Each returns the exit code and lets exceptions of internal faults through.
namespace fettlefund::cli {

inline constexpr int done = 0, internal_fault = 1, bad_input = 2, impossible = 3, no_plan = 4;

enum class Colour { automatic, always, never };

/// What `record` is asked to write down. Amounts stay as typed until the build's currency is known.
struct RecordRequest {
  std::string action;             ///< the name of one of record's commands, as add_record_actions has them
  std::vector<std::string> what;  ///< keys bought; jobs fitted; the one key paid
  std::string amount;             ///< --paid, or the amount paid or counted
  std::optional<std::int64_t> packs;
  std::optional<std::int64_t> minutes;
  std::optional<std::int64_t> rest;  ///< minutes left of a job that is begun
  std::optional<budgets::Date> on, arrives;
  std::string rest_amount;               ///< still to be paid after a deposit, as typed
  std::optional<budgets::Date> rest_on;  ///< and when
  std::string by;                        ///< who records it; empty: not said
  std::string text, about;               ///< of a remark; `text` also of money in or out
  std::int64_t entry = 0;                ///< to undo
  bool again = false;                    ///< bought once more under a key that is recorded already
  bool dry_run = false;                  ///< show, do not write
  bool sure = false;                     ///< a day far from the build's is right
  std::string workbook;  ///< --from: everything an edited workbook tells; then there is no action
  std::string other;     ///< --merge: another record of the same build; then there is no action
  std::string settle;    ///< what becomes of lines in conflict: "mine", "theirs", "both"; empty: nothing yet
};

/// A command line, read.
struct Request {
  std::string command;
  std::string file;    ///< the build file, "-" for standard input; for `start` the build's name
  std::string output;  ///< -o; empty: standard output, or the name the command chooses
  bool json = false;
  bool prices = false;
  bool steps = false;
  bool brief = false;  ///< only what to do next and a line a stage
  bool progress = false;
  bool replace = false;               ///< a file in which something typed is not recorded
  int revision = 0;                   ///< of a calendar file
  int samples = 10'000;               ///< of prices and lead times
  bool no_log = false;                ///< plan as if nothing had happened
  std::optional<budgets::Date> from;  ///< plan from this day
  std::int64_t keep_days = planning::usual_keep_days;
  std::string job;       ///< asked about
  std::string word;      ///< asked about: a kind of work, or what people call it
  std::string trade;     ///< of a starter, or whose kinds of work to list or offer first; empty: all
  bool as_form = false;  ///< the starter as a workbook
  std::optional<budgets::Date> on;  ///< the first day of a starter
  int stage = 0;                  ///< asked about, from 1; 0: all (of `why`: that come before the job's own)
  std::vector<std::string> with;  ///< changes to compare, as typed: one text a column
  std::string ids;                ///< which to print; empty: all
  std::string amounts;            ///< to compare, as typed
  std::string form_from;          ///< form: the build to fill it with; empty: a blank one
  std::string form_to;            ///< form: the build file to write from the form `file`
  RecordRequest record;
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
int page_command(const Request& request, const Console& console);
int picture_command(const Request& request, const Console& console);
int risk_command(const Request& request, const Console& console);
int compare_command(const Request& request, const Console& console);
int why_command(const Request& request, const Console& console);
int record_command(const Request& request, const Console& console);
int ids_command(const Request& request, const Console& console);
int work_command(const Request& request, const Console& console);
int form_command(const Request& request, const Console& console);
int year_command(const Request& request, const Console& console);
/// Any of the commands that take a purse, for one; the others it refuses.
int purse_command(const Request& request, const Console& console);
int start_command(const Request& request, const Console& console);

}  // namespace fettlefund::cli
