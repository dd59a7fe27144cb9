#include <iostream>
#include <string>
#include <vector>

#include "cli/run.hpp"

int main(int argc, char** argv) {
  return fettlefund::cli::run(std::vector<std::string>(argv + 1, argv + argc), std::cin, std::cout,
                              std::cerr);
}
