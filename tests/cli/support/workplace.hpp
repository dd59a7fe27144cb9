#pragma once
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.hpp"

namespace fettlefund::test {

/// A fresh folder to work in, gone again at the end, and command lines run in it.
class RecordPlace {
 public:
  RecordPlace() : before_(std::filesystem::current_path()) {
    std::string name = (std::filesystem::temp_directory_path() / "fettlefund-record-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
    std::filesystem::current_path(path_);
  }
  RecordPlace(const RecordPlace&) = delete;
  RecordPlace& operator=(const RecordPlace&) = delete;
  ~RecordPlace() {
    std::filesystem::current_path(before_);
    std::filesystem::remove_all(path_);
  }

  /// Runs a command; `out` and `err` hold what it said. Today is 2027-01-02.
  int run(const std::vector<std::string>& args) {
    std::istringstream in;
    std::ostringstream to, bad;
    cli::Surroundings around;
    around.today = budgets::read_date("2027-01-02");
    const int code = cli::run(args, in, to, bad, around);
    out = to.str();
    err = bad.str();
    return code;
  }

  static void put(const std::string& path, const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
  }
  static std::string contents(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }

  std::string out, err;

 private:
  std::filesystem::path before_, path_;
};

}  // namespace fettlefund::test
