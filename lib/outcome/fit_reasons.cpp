#include <algorithm>

#include "budgets/values/lists.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {
namespace {

class FitTeller {
 public:
  FitTeller(const build::Build& build, const budgets::Problem& problem, const std::vector<int>& jobs,
            int last)
      : build_(build), problem_(problem), data_(problem.data()), jobs_(jobs), last_(last), fit_(build) {}

  std::vector<std::string> tell() {
    for (const Misfit& misfit : fit_.misfits()) {
      if (unavoidable(misfit)) say(misfit);
    }
    say_choices();
    return std::move(sentences_);
  }

 private:
  const budgets::Carrier& carrier(int c) const {
    return fit_.machine().carriers[static_cast<std::size_t>(c)];
  }
  const build::Job& job(int j) const { return build_.jobs[static_cast<std::size_t>(j)]; }

  bool any_asked(const std::vector<int>& jobs) const {
    return std::any_of(jobs.begin(), jobs.end(), [&](int j) { return budgets::contains(jobs_, j); });
  }

  /// On the machine once the jobs are done, and taken off by none of them.
  bool comes_and_stays(int c) const {
    const budgets::Carrier& one = carrier(c);
    return (one.brought_by < 0 || budgets::contains(jobs_, one.brought_by)) && !any_asked(one.replaced_by);
  }

  bool unavoidable(const Misfit& misfit) const {
    const bool brought = carrier(misfit.a).brought_by >= 0 || carrier(misfit.b).brought_by >= 0;
    return brought && comes_and_stays(misfit.a) && comes_and_stays(misfit.b) &&
           !any_asked(fit_.adapts(misfit));
  }

  void say(const Misfit& misfit) {
    std::string first = fit_.words(misfit) + (misfit.key >= 0 ? " do not agree" : " clash");
    sentences_.push_back(first + (fit_.why(misfit).empty() ? "." : ": " + fit_.why(misfit) + "."));
    std::vector<int> ways = fit_.adapts(misfit);
    for (const int c : {misfit.a, misfit.b}) {
      const std::vector<int>& off = carrier(c).replaced_by;
      ways.insert(ways.end(), off.begin(), off.end());
    }
    if (ways.empty()) {
      sentences_.push_back("No job of the build takes one of the two off" +
                           std::string(misfit.key >= 0 ? "." : " or makes them fit."));
    }
    for (const int way : ways) sentences_.push_back(told(way, misfit));
    std::vector<int> open;
    for (const int way : ways) {
      if (objection(way, misfit).empty()) open.push_back(way);
    }
    if (!open.empty()) open_ways_.push_back(std::move(open));
  }

  /// Two misfits whose ways out are all of one choice: only one of them can be mended.
  void say_choices() {
    for (std::size_t a = 0; a < open_ways_.size(); ++a) {
      for (std::size_t b = a + 1; b < open_ways_.size(); ++b) {
        if (!exclude(open_ways_[a], open_ways_[b])) continue;
        const int one = open_ways_[a].front(), other = open_ways_[b].front();
        sentences_.push_back(job(one).name + " and " + job(other).name + " are of one choice ('" +
                             job(one).one_of + "'): at most one of them is done.");
      }
    }
  }

  bool exclude(const std::vector<int>& ways, const std::vector<int>& others) const {
    return std::all_of(ways.begin(), ways.end(), [&](int way) {
      return std::all_of(others.begin(), others.end(), [&](int other) {
        return way != other && !job(way).one_of.empty() && job(way).one_of == job(other).one_of;
      });
    });
  }

  /// A job that would part the two or make them fit, and what speaks against it.
  std::string told(int way, const Misfit& misfit) const {
    const std::string does =
        budgets::contains(fit_.adapts(misfit), way) ? " would make them fit" : " would part them";
    const std::string against = objection(way, misfit);
    return job(way).name + does + (against.empty() ? "." : ", but " + against + ".");
  }

  std::string objection(int way, const Misfit& misfit) const {
    for (const std::string& one : {choice(way), too_late(way), disagrees(way, misfit), too_dear(way)}) {
      if (!one.empty()) return one;
    }
    return {};
  }

  /// Itself, or what it asks for, is of one choice with what has to be done.
  std::string choice(int way) const {
    for (const int asked : with_what_they_ask(data_, {way})) {
      for (const int j : jobs_) {
        if (j == asked || job(asked).one_of.empty() || job(j).one_of != job(asked).one_of) continue;
        const std::string what = asked == way ? "" : "it needs " + job(asked).name + ", and ";
        return what + "only one of " + (asked == way ? "it" : job(asked).name) + " and " + job(j).name +
               " is done ('" + job(asked).one_of + "')";
      }
    }
    return {};
  }

  std::string too_late(int way) const {
    if (data_.jobs[static_cast<std::size_t>(way)].earliest <= last_ || !job(way).not_before) return {};
    return "it may not be done before " + budgets::write_date(*job(way).not_before);
  }

  /// Where it brings a value of its own on which it disagrees with what the jobs bring.
  std::string disagrees(int way, const Misfit& misfit) const {
    for (const Misfit& other : fit_.misfits()) {
      if (other.key < 0 || other.key != misfit.key) continue;
      for (const auto& [own, asked] : {std::pair(other.a, other.b), std::pair(other.b, other.a)}) {
        const int brought_by = carrier(asked).brought_by;
        if (carrier(own).brought_by != way || brought_by < 0 || !comes_and_stays(asked)) continue;
        return fit_.words(other) + " do not agree either";
      }
    }
    return {};
  }

  std::string too_dear(int way) const {
    std::vector<int> all = jobs_;
    if (!budgets::contains(all, way)) all.push_back(way);
    const Money least = least_cost(problem_, with_what_they_ask(data_, all));
    const Money most = std::max(Money(), most_to_spend(data_, last_));
    if (least <= most) return {};
    return "with it all costs at least " + money_text(build_, least) + ", and at most " +
           money_text(build_, most) + " can be spent in time";
  }

  using Money = budgets::Money;
  const build::Build& build_;
  const budgets::Problem& problem_;
  const budgets::ProblemData& data_;
  const std::vector<int>& jobs_;
  int last_;
  Fit fit_;
  std::vector<std::string> sentences_;
  std::vector<std::vector<int>>
      open_ways_;  ///< of each misfit told, the ways out that nothing speaks against
};

}  // namespace

std::vector<std::string> fit_reasons(const build::Build& build, const budgets::Problem& problem,
                                     const std::vector<int>& jobs, int last) {
  return FitTeller(build, problem, jobs, last).tell();
}

}  // namespace fettlefund::planning
