#include "cli/planned.hpp"

#include <filesystem>
#include <ostream>

#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/report/files/atomic_file.hpp"

namespace fettlefund::cli {

int with_plan(const Request& request, const Console& console, const UsePlan& use,
              const std::function<bool(const build::Build&)>& may_go_on) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  if (may_go_on && !may_go_on(*loaded.build)) return bad_input;
  const std::optional<planning::Standing> standing = stand(request, console, *loaded.build);
  if (!standing) return bad_input;
  ProgressLine progress(request, console, stages_left(*standing));
  const planning::Planning planning = planning::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    return tell_conflict(request, console, *conflict, standing->as_of);
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&planning)) {
    return tell_no_plan(request, console, *nothing);
  }
  return use(std::get<planning::Outcome>(planning), standing->as_of);
}

std::string output_path(const Request& request, const std::string& extension) {
  if (!request.output.empty()) return request.output;
  if (request.file == "-") return {};
  return std::filesystem::path(request.file).replace_extension(extension).string();
}

int write_output(const Request& request, const Console& console, const std::string& extension,
                 const std::string& text, const std::string& as_of) {
  const std::string path = output_path(request, extension);
  if (path == "-") {
    console.err << as_of_line(as_of);
    console.out << text;
    return done;
  }
  if (path.empty()) {
    console.err << "fettlefund: a build from standard input needs -o FILE for what is written\n";
    return bad_input;
  }
  if (!written(console, [&] { report::write_file(path, text); })) return bad_input;
  console.out << as_of_line(as_of) << "Wrote " << path << ".\n";
  return done;
}

std::string as_of_line(const std::string& as_of) { return as_of.empty() ? "" : as_of + "\n"; }

}  // namespace fettlefund::cli
