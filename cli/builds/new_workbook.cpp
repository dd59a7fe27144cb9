#include "cli/builds/new_workbook.hpp"

#include <filesystem>
#include <ostream>

#include "cli/load.hpp"
#include "lib/report/files/atomic_file.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {

bool write_new_workbook(const std::string& path, const Console& console, const WriteTo& write) {
  if (std::filesystem::exists(std::filesystem::symlink_status(path))) {
    console.err << fmt::format("fettlefund: cannot write {}: it exists already\n", path);
    return false;
  }
  return written(console, [&] { report::write_atomically(path, write); });
}

}  // namespace fettlefund::cli
