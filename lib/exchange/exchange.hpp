#pragma once
#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "budgets/problem/problem.hpp"

/// The exchange form of a staging problem: a small JSON dialect by which other programs give the solver work
/// and get an answer, and that other optimisers can be given too. Its meaning is stated in README.md of this
/// folder.
namespace fettlefund::exchange {

struct ExchangeStage {
  std::int64_t cash_in = 0;
  std::int64_t hours = 0;
  std::vector<std::int64_t> hours_by = {};  ///< there up to days within the stage; strictly increasing
};

struct ExchangeTask {
  std::int64_t cost = 0;
  std::int64_t hours = 0;
  std::int64_t value = 0;
  std::vector<int> opens;
  std::vector<int> after;
  std::vector<int> once;
  int source = -1;  ///< -1: none
  int earliest = 0;
  int latest = -1;  ///< -1: the last stage
  bool must = false;
  int due = -1;  ///< in its latest stage by the day of that entry of `hours_by`; -1: by the stage's end
};

struct ExchangeOpening {
  std::int64_t cost = 0;
  std::int64_t hours = 0;
  std::vector<int> needs;
};

struct Exchange {
  std::int64_t opening = 0;
  std::int64_t keep_back = 0;
  std::vector<ExchangeStage> stages;
  std::vector<ExchangeTask> tasks;
  std::vector<ExchangeOpening> openings;
  std::vector<std::int64_t> once;     ///< costs
  std::vector<std::int64_t> sources;  ///< fees
};

/// A text that is not a problem: the message names the place and the fault.
struct ExchangeFault : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Reads the JSON text. Throws ExchangeFault: broken JSON, a key that is unknown or missing, a value that is
/// not the integer or list expected, an index that names nothing.
Exchange read_exchange(std::string_view text);

/// The JSON text, one task a line; read_exchange gives the same back.
std::string write_exchange(const Exchange& exchange);

/// The same problem for the solver. Openings become removals, once-items tools to be bought, a source a
/// removal without bench time that its tasks open. Throws std::invalid_argument like Problem for what
/// Problem refuses (cycles, amounts out of range).
budgets::Problem staging_problem(const Exchange& exchange);

}  // namespace fettlefund::exchange
