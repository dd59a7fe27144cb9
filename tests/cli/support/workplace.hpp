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

/// A fresh folder that is the current one, gone again at the end.
class Workplace {
 public:
  Workplace() : before_(std::filesystem::current_path()) {
    std::string name = (std::filesystem::temp_directory_path() / "fettlefund-cli-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
    std::filesystem::current_path(path_);
  }
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;
  ~Workplace() {
    std::filesystem::current_path(before_);
    std::filesystem::remove_all(path_);
  }
  std::size_t entries() const {
    using Entries = std::filesystem::directory_iterator;
    return static_cast<std::size_t>(std::distance(Entries(path_), Entries()));
  }

 private:
  std::filesystem::path before_, path_;
};

/// A workplace and command lines run in it.
class RecordPlace : public Workplace {
 public:
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

  /// Runs a `record` command on bike.build.
  int record(std::vector<std::string> words) {
    words.insert(words.begin(), {"record", "bike.build"});
    return run(words);
  }

  /// Whether the last command said so anywhere.
  bool told(const std::string& text) const {
    return out.find(text) != std::string::npos || err.find(text) != std::string::npos;
  }

  static void put(const std::string& path, const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
  }
  static std::string contents(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }

  std::string out, err;
};

}  // namespace fettlefund::test
