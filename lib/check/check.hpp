#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/outcome/plan.hpp"

/// The parts of `check`, each looking at one subject.
namespace fettlefund::planning {

/// Collects findings about one build.
class Findings {
 public:
  explicit Findings(const build::Build& build) : build_(build) {}

  void error(const build::Place& place, const std::string& pointer, const std::string& found,
             const std::string& expected) {
    add(build::Severity::error, place, pointer, found, expected);
  }
  void warning(const build::Place& place, const std::string& pointer, const std::string& found,
               const std::string& expected) {
    add(build::Severity::warning, place, pointer, found, expected);
  }
  void take(std::vector<build::Diagnostic> more) {
    for (build::Diagnostic& one : more) all_.push_back(std::move(one));
  }
  std::vector<build::Diagnostic>& all() { return all_; }

 private:
  void add(build::Severity severity, const build::Place& place, const std::string& pointer,
           const std::string& found, const std::string& expected) {
    all_.push_back({severity, build_.file, place, pointer, found, expected, {}});
  }

  const build::Build& build_;
  std::vector<build::Diagnostic> all_;
};

/// Too few paydays, listed days that are holidays, paydays that fall together, bench dates past the next
/// payday, exceptions, sessions and extras beyond the plan, free days without a session; what no session
/// holds and may not stay open overnight.
void check_dates(const build::Build& build, const Calendar& calendar, Findings& findings);

/// Windows without a bench date, jobs (with what they open and what must be done with them) that no stage of
/// their window has the hours for.
void check_jobs(const build::Build& build, const Staging& staging, Findings& findings);

/// Musts that contradict each other, with names and reasons: no plan can do them. Needs a build without
/// errors.
void check_musts(const build::Build& build, const Staging& staging, Findings& findings);

/// Articles and tools that cannot be had at all, or never in time; torques that no wrench covers; mates on
/// which a job and its articles disagree; things on the machine at the start that already disagree.
void check_goods(const build::Build& build, const Staging& staging, Findings& findings);
void check_mates(const build::Build& build, Findings& findings);

}  // namespace fettlefund::planning
