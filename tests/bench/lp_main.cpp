#include <cstdio>
#include <exception>

#include "tests/bench/exchange_lp.hpp"
#include "tests/bench/families.hpp"

// Writes the problem of a file to standard output as an integer program in CPLEX LP format.

int main(int count, char** arguments) {
  using namespace fettlefund::bench;
  if (count != 2) return std::fputs("usage: staging_lp FILE\n", stderr), 2;
  try {
    const Exchange exchange = read_exchange(read_file(arguments[1]));
    staging_problem(exchange);  // refuses what the solver would
    std::fputs(write_lp(exchange).c_str(), stdout);
  } catch (const std::exception& fault) {
    return std::fprintf(stderr, "%s: %s\n", arguments[1], fault.what()), 1;
  }
}
