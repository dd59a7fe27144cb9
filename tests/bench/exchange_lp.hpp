#pragma once
#include <string>

#include "lib/exchange/exchange.hpp"

namespace fettlefund::bench {

using namespace exchange;  // what is written here is written in it

/// The problem as an integer program in CPLEX LP format, to be minimised: its optimum is the negative of the
/// best value.
std::string write_lp(const Exchange& exchange);

}  // namespace fettlefund::bench
