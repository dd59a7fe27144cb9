#pragma once
#include <cstdint>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "lib/log/entry.hpp"
#include "lib/outcome/plan.hpp"

/// What the mutation programs share: builds to begin with, the way through the whole program, and the counts.
namespace fettlefund::test {

/// Something that may never happen did.
struct Broken : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Texts of builds in which the reader finds no error: those of the tests that use most keys, and the
/// starters.
std::vector<std::string> legal_builds();

/// Steps that planning may take here.
budgets::SolveOptions bounded_options();

/// Throws Broken where an output of the plan holds a control character or is no JSON, or where its workbook,
/// read back beside `log`, tells anything.
void put_out(const planning::Outcome& outcome, const log::Log& log);

/// Reads, checks, plans and puts out the build of this text. Returns how far it came: "refused by the
/// reader", "refused by check", "impossible", "stopped" or "planned and put out". Throws Broken, or what
/// should not be thrown.
std::string through(const std::string& text);

/// `one` for each seed from `first` to `last`: prints what is thrown, then how often each answer came. 0 if
/// nothing was thrown, else 1.
int run_seeds(std::uint64_t first, std::uint64_t last, const std::function<std::string(std::uint64_t)>& one);

/// FIRST and LAST of the command line. False where it holds none: the usage was printed.
bool read_seeds(int count, char** words, std::uint64_t& first, std::uint64_t& last);

}  // namespace fettlefund::test
