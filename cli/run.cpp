#include "cli/run.hpp"

#include <exception>
#include <new>
#include <ostream>

#include "cli/command_line/arguments.hpp"
#include "cli/commands.hpp"
#include "lib/purse/purse.hpp"

namespace fettlefund::cli {
namespace {

int carry_out(const Request& request, const Console& console) {
  const bool reads_file =
      request.command != "start" && request.command != "form" && request.command != "work";
  if (reads_file && purse::is_purse(request.file)) return purse_command(request, console);
  if (request.command == "check") return check_command(request, console);
  if (request.command == "plan") return plan_command(request, console);
  if (request.command == "sheet") return sheet_command(request, console);
  if (request.command == "calendar") return calendar_command(request, console);
  if (request.command == "shopping") return shopping_command(request, console);
  if (request.command == "drive") return drive_command(request, console);
  if (request.command == "page") return page_command(request, console);
  if (request.command == "picture") return picture_command(request, console);
  if (request.command == "risk") return risk_command(request, console);
  if (request.command == "why") return why_command(request, console);
  if (request.command == "compare") return compare_command(request, console);
  if (request.command == "ids") return ids_command(request, console);
  if (request.command == "record") return record_command(request, console);
  if (request.command == "work") return work_command(request, console);
  if (request.command == "year") return year_command(request, console);
  if (request.command == "form") return form_command(request, console);
  return start_command(request, console);
}

/// A report that did not reach its reader is no success.
int flushed(int code, const Console& console) {
  console.out.flush();
  if (console.out) return code;
  console.err << "fettlefund: cannot write to standard output\n";
  return code == done ? bad_input : code;
}

int run_unguarded(const std::vector<std::string>& args, const Console& console) {
  const Arguments arguments = read_arguments(args);
  if (arguments.request) return flushed(carry_out(*arguments.request, console), console);
  (arguments.code == done ? console.out : console.err) << arguments.text;
  return flushed(arguments.code, console);
}

}  // namespace

int run(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err,
        const Surroundings& surroundings) {
  try {
    return run_unguarded(args, {in, out, err, surroundings});
  } catch (const std::bad_alloc&) {
    err << "fettlefund: internal fault: out of memory\n";
  } catch (const std::exception& fault) {
    err << "fettlefund: internal fault: " << fault.what() << '\n';
  } catch (...) {
    err << "fettlefund: internal fault\n";
  }
  return internal_fault;
}

}  // namespace fettlefund::cli
