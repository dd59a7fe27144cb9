#pragma once
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "lib/build/read/read.hpp"

namespace fettlefund::build::testing {

inline std::filesystem::path golden() {
  return std::filesystem::path(FETTLEFUND_SOURCE_DIR) / "tests" / "golden";
}

inline std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// All diagnostics, a line each.
inline std::string told(const Reading& reading) {
  std::string text;
  for (const Diagnostic& diagnostic : reading.diagnostics) text += to_text(diagnostic) + "\n";
  return text;
}

/// A build of one job, with more keys of the build and of the job put in.
inline std::string small_build(const std::string& build_keys, const std::string& job_keys = "") {
  return R"({"fettlefund": 1, "name": "Small", "currency": "EUR",
"money": {"opening": 0, "keep_back": 0, "amount": 100, "stages": 3,
          "paydays": {"day_of_month": 25, "from": "2027-01-01"}},
"bench": {"hours": 6, "days_after_payday": 2},
)" + build_keys +
         R"("jobs": {"lamp": {"name": "Fit a lamp", "want": 3, "hours": 1)" + job_keys + "}}}\n";
}

}  // namespace fettlefund::build::testing
