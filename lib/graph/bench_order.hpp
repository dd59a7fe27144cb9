#pragma once
#include <vector>

#include "lib/graph/digraph.hpp"

/// The order of whole jobs and removals at the bench, before their steps are looked at.
namespace fettlefund::graph {

/// Jobs and removals are numbered from 0 in file order.
struct Bench {
  std::vector<std::vector<int>>
      uses;       ///< for each job the removals that are off meanwhile, with all they need
  Arrows before;  ///< jobs that must be done before each job; acyclic
  std::vector<std::vector<int>> needs;  ///< for each removal those that must be off first; acyclic
};

enum class Move { off, work, on };

struct Event {
  Move move = Move::work;
  int index = 0;  ///< a job for `work`, else a removal
};

/// Every job once and every removal off once and on once. What comes off last goes back on first; nothing
/// comes off before a job uses it next, nor goes back on while a job to come uses it. Among the orders of
/// jobs that `before` allows, one is sought (by steps of a fixed number, not always the best) in which
/// removals stay off over few jobs that do not use them; ties go by file order. More than 400 jobs stand in
/// file order. Removals that no job uses come off and go back on at the end.
std::vector<Event> bench_order(const Bench& bench);

/// Sum over the removals of the jobs that are done while it is off without using it: what bench_order keeps
/// small. `jobs` is an order of all jobs.
int idle_open_time(const Bench& bench, const std::vector<int>& jobs);

}  // namespace fettlefund::graph
