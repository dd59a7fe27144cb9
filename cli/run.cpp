#include "cli/run.hpp"

#include <ostream>

namespace fettlefund::cli {

int run(const std::vector<std::string>&, std::istream&, std::ostream&, std::ostream& err) {
  err << "fettlefund: no commands yet\n";
  return 2;
}

}  // namespace fettlefund::cli
