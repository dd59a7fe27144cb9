#pragma once
#include <vector>

#include "lib/outcome/outcome.hpp"
#include "lib/staging/stages.hpp"

namespace fettlefund::planning {

/// Fills a stage's sessions with the steps of its work order, in this order.
/// - What is opened together and closed again is done in one session where one holds it, and so is a job, and
///   so is a step; each of them waits for the next session that holds it, as long as the rest then still gets
///   done, and every job whose `by` lies before the last session still by then. Else it is begun and goes on
///   in the next one.
/// - A removal or job with `overnight` may stay off or half done from one session to the next: it does not
///   have to be closed again with the others.
/// What would not be done by its day in any way, because steps ask for another order, is not held to it.
/// Steps that take longer than all sessions together end in the last one.
/// `ready`: for each step the first day on which all that it uses is there; empty: it is from the first
/// session on. What is opened together and closed again is not begun before all of it is ready.
std::vector<SessionView> lay_out(const build::Build& build, const std::vector<WorkStep>& work,
                                 const std::vector<Evening>& evenings,
                                 const std::vector<budgets::Date>& ready = {});

/// The first session of a stage, or its bench date.
budgets::Date first_day(const StageView& stage);

/// "2027-03-02", "2027-03-02 to 2027-03-23" or "no session".
std::string bench_text(const StageView& stage);

/// "2027-03-02, 2.4 h of 2.5 h: steps 1 to 7", "2027-03-09, 2.5 h: no work".
std::string session_text(const SessionView& session);

/// A session, or two or more on end without work in them.
struct SessionLine {
  std::string text;                    ///< "2027-03-09 to 2027-03-23, 3 sessions, 7.5 h: no work"
  std::vector<std::string> overnight;  ///< see overnight_texts
};

/// All sessions of a stage, in their order.
std::vector<SessionLine> session_lines(const StageView& stage);

/// What is said at the end of a session: "stays open overnight: Front wheel (off)" and the like.
std::vector<std::string> overnight_texts(const SessionView& session);

/// A removal or job that no session of the build holds, so that it stays off or half done overnight, though
/// the build does not say that it may.
struct TooLong {
  bool is_job = false;
  int index = 0;             ///< into the build
  std::int64_t minutes = 0;  ///< that it takes at a time, what is opened or done meanwhile included
  std::int64_t longest = 0;  ///< session
};

/// Those of a build with sessions, each once: removals with the job that keeps them off the shortest.
std::vector<TooLong> too_long_for_a_session(const build::Build& build);

}  // namespace fettlefund::planning
