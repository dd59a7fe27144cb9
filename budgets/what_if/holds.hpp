#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/conflict.hpp"
#include "budgets/what_if/what_if.hpp"

namespace fettlefund::budgets {

/// The steps that all questions share.
struct Purse {
  std::int64_t limit = 0, used = 0;
  const std::atomic<bool>* stop = nullptr;
  std::int64_t left() const { return used < limit ? limit - used : 0; }
  bool out() const { return left() == 0 || (stop != nullptr && stop->load(std::memory_order_relaxed)); }
};

/// Whether a job can be in one stage, by searching for any plan that keeps all rules or all but some.
class StageQuestion {
 public:
  StageQuestion(const ProblemData& data, int job, int stage, Purse& purse)
      : data_(data), job_(job), stage_(stage), purse_(purse) {}

  /// With these rules lifted; `freed`: a job that need not be done.
  search::Feasibility ask(const std::vector<Hold>& holds, int freed = -1);
  search::Feasibility ask_with_cash(std::int64_t extra);
  search::Feasibility ask_with_minutes(std::int64_t extra);  ///< in that stage

  /// Fills in `holds` and what goes with it, where the answer to `ask({})` is no.
  void explain(AtStage& at);

 private:
  search::Feasibility search(ProblemData data, bool any_date, const std::vector<int>& musts);
  std::vector<int> musts(bool own_only, int freed) const;
  bool works(const std::vector<Hold>& holds, AtStage& at);
  std::vector<Hold> that_apply() const;
  void find_smallest_set(AtStage& at);
  bool find_set_of(std::size_t size, const std::vector<Hold>& all, std::size_t from, std::vector<Hold>& set,
                   AtStage& at);
  void find_must(AtStage& at);

  const ProblemData& data_;
  int job_, stage_;
  Purse& purse_;
};

}  // namespace fettlefund::budgets
