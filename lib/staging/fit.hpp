#pragma once
#include <optional>
#include <string>
#include <vector>

#include "budgets/problem/plan.hpp"
#include "lib/build/model.hpp"
#include "lib/staging/machine.hpp"

/// What does not fit together, in words.
namespace fettlefund::planning {

/// Two things that must not be on the machine together: their mates disagree, or they clash.
struct Misfit {
  int a = 0, b = 0;  ///< carriers of the machine
  int key = -1;      ///< the mate on which they disagree, or -1
  int clash = -1;    ///< else the clash, an index into Build::clashes
};

class Fit {
 public:
  explicit Fit(const build::Build& build);

  const Machine& machine() const { return machine_; }

  /// "front sprocket (chain-size 520) and old chain (chain-size 525)".
  std::string words(const Misfit& misfit) const;
  /// The build file's own words for a clash, else empty.
  std::string why(const Misfit& misfit) const;
  /// Jobs that make the two fit together: of a clash only.
  std::vector<int> adapts(const Misfit& misfit) const;

  /// Every pair of carriers that can never be on the machine together, or only with an adapting job.
  const std::vector<Misfit>& misfits() const { return misfits_; }

  /// The first of them that a schedule has on the machine at the end of a stage.
  std::optional<Misfit> first_misfit(const budgets::Schedule& schedule, int stage) const;

 private:
  void name_carriers();
  void find_disagreements();
  void find_clashes();
  std::string told(int carrier, int key) const;

  const build::Build& build_;
  Machine machine_;
  std::vector<build::Id> ids_;
  std::vector<std::string> names_;
  std::vector<Misfit> misfits_;
};

/// Where these jobs, done all of them, bring or leave two things on the machine that do not fit together, and
/// none of them parts or adapts the two: a sentence for what disagrees and one for the jobs of the build that
/// could change it, each with what speaks against it where that is certain. `jobs` are all to be done by the
/// stage `last`.
std::vector<std::string> fit_reasons(const build::Build& build, const budgets::Problem& problem,
                                     const std::vector<int>& jobs, int last);

}  // namespace fettlefund::planning
