#include <iostream>
#include <string>
#include <vector>

#include "cli/process.hpp"
#include "cli/staging/staging.hpp"

int main(int argc, char** argv) {
  using namespace fettlefund::cli;
  std::ios::sync_with_stdio(false);
  return run_staging(std::vector<std::string>(argv + (argc > 0), argv + argc), std::cin, std::cout, std::cerr,
                     watch_process());
}
