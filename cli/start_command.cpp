#include <ostream>

#include "cli/load.hpp"
#include "lib/build/starter.hpp"
#include "lib/report/files/atomic_file.hpp"

namespace fettlefund::cli {

int start_command(const Request& request, const Console& console) {
  if (request.file.empty() || request.file.find_first_of(std::string("/\\\0", 3)) != std::string::npos) {
    console.err << "fettlefund: the name of a build makes a file name; it cannot be empty or hold / or \\\n";
    return bad_input;
  }
  const std::string path = request.file + ".build";
  const bool whole =
      written(console, [&] { report::write_new_file(path, build::starter_build(request.file)); });
  if (!whole) return bad_input;
  console.out << "Wrote " << path << ". Change it into your own, then: fettlefund plan " << path << '\n';
  return done;
}

}  // namespace fettlefund::cli
