#include "lib/outcome/must_reasons.hpp"

#include <algorithm>

#include "budgets/values/lists.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"

namespace fettlefund::planning {
namespace {

class MustTeller {
 public:
  MustTeller(const build::Build& build, const budgets::Problem& problem, const std::vector<int>& jobs)
      : build_(build), problem_(problem), data_(problem.data()), jobs_(jobs) {}

  std::vector<std::string> tell() {
    for (const std::vector<int>& group : data_.one_of) choice(group);
    for (const int j : jobs_) order(j);
    return std::move(sentences_);
  }

 private:
  const build::Job& job(int j) const { return build_.jobs[static_cast<std::size_t>(j)]; }

  void choice(const std::vector<int>& group) {
    std::vector<std::string> names;
    for (const int j : group) {
      if (budgets::contains(jobs_, j)) names.push_back(job(j).name);
    }
    if (names.size() < 2) return;
    sentences_.push_back(list_text(names) + " are of one choice ('" + job(group.front()).one_of +
                         "'): at most one of them is done.");
  }

  /// What the job asks for, directly or not, that may only be done after its own last day, or never.
  void order(int j) {
    for (const int other : with_what_they_ask(data_, {j})) {
      const bool late = data_.jobs[static_cast<std::size_t>(other)].earliest > problem_.latest(j);
      if (other == j || !late || !job(other).not_before) continue;
      const std::string by = job(j).by ? " (by " + budgets::write_date(*job(j).by) + ")" : "";
      sentences_.push_back(job(j).name + by + " " + how(j, other) + " " + job(other).name +
                           ", which may not be done before " + budgets::write_date(*job(other).not_before) +
                           (job(j).by ? "." : ", after the last bench date."));
    }
  }

  std::string how(int j, int other) const {
    const auto& after = data_.jobs[static_cast<std::size_t>(j)].after;
    return budgets::contains(after, other) ? "comes after" : "cannot be done before or without";
  }

  const build::Build& build_;
  const budgets::Problem& problem_;
  const budgets::ProblemData& data_;
  const std::vector<int>& jobs_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> must_reasons(const build::Build& build, const budgets::Problem& problem,
                                      const std::vector<int>& jobs) {
  return MustTeller(build, problem, jobs).tell();
}

}  // namespace fettlefund::planning
