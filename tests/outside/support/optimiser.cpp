#include "tests/outside/support/optimiser.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <stdlib.h>

namespace fettlefund::outside {
namespace {

namespace fs = std::filesystem;

bool run(const std::string& command) { return std::system(command.c_str()) == 0; }

/// A folder of its own, gone at the end.
class Scratch {
 public:
  Scratch() {
    std::string name = (fs::temp_directory_path() / "fettlefund-XXXXXX").string();
    if (mkdtemp(name.data())) path_ = name;
  }
  ~Scratch() {
    std::error_code ignored;
    if (!path_.empty()) fs::remove_all(path_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  std::string file(const char* name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

std::string content(const std::string& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// "Optimal - objective value -12.000", "Infeasible - objective value ..." or "Integer infeasible - ...".
std::optional<Optimum> read_cbc(const std::string& answer) {
  if (answer.find("nfeasible") < answer.find('\n')) return Optimum{};
  const std::string mark = "Optimal - objective value ";
  if (answer.compare(0, mark.size(), mark) != 0) return {};
  return Optimum{true, std::llround(std::stod(answer.substr(mark.size())))};
}

/// The line "s mip ROWS COLUMNS STATUS OBJECTIVE": status o is optimal, n without solution.
std::optional<Optimum> read_glpsol(const std::string& answer) {
  std::istringstream text(answer);
  std::string line;
  while (std::getline(text, line)) {
    std::istringstream words(line);
    std::string s, kind, rows, columns, status;
    double objective = 0;
    if (!(words >> s >> kind >> rows >> columns >> status >> objective) || s != "s" || kind != "mip")
      continue;
    if (status == "o") return Optimum{true, std::llround(objective)};
    if (status == "n" || status == "u") return Optimum{};
    return {};
  }
  return {};
}

}  // namespace

std::vector<std::string> optimisers() {
  std::vector<std::string> found;
  for (const char* program : {"cbc", "glpsol"}) {
    if (run(std::string("command -v ") + program + " >/dev/null 2>&1")) found.emplace_back(program);
  }
  return found;
}

std::optional<Optimum> minimise(const std::string& program, const std::string& lp) {
  const Scratch scratch;
  const std::string in = scratch.file("problem.lp");
  const std::string out = scratch.file("answer");
  std::ofstream(in) << lp;
  const std::string quiet = "' >/dev/null 2>&1";
  if (program == "cbc") {
    // With its preprocessing cbc 2.10.8 calls a plan of 496 optimal where 497 can be had (family small_h,
    // seed 1).
    if (!run("cbc '" + in + "' -preprocess off -seconds 60 -solve -solution '" + out + quiet)) return {};
    return read_cbc(content(out));
  }
  if (!run("glpsol --tmlim 60 --lp '" + in + "' --write '" + out + quiet)) return {};
  return read_glpsol(content(out));
}

}  // namespace fettlefund::outside
