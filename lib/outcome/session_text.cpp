#include <algorithm>
#include <map>

#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/stock.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

std::int64_t longest_session(const build::Build& build) {
  std::int64_t longest = 0;
  for (const build::Session& session : build.bench.sessions) longest = std::max(longest, session.minutes);
  return longest;
}

std::string steps_text(const SessionView& session) {
  if (session.first_step == session.last_step) return fmt::format("step {}", session.first_step);
  return fmt::format("steps {} to {}", session.first_step, session.last_step);
}

}  // namespace

Date first_day(const StageView& stage) {
  return stage.sessions.empty() ? stage.bench : stage.sessions.front().date;
}

std::string bench_text(const StageView& stage) {
  if (stage.by_sessions && stage.sessions.empty()) return "no session";
  const Date first = first_day(stage);
  if (stage.last <= first) return budgets::write_date(first);
  return fmt::format("{} to {}", budgets::write_date(first), budgets::write_date(stage.last));
}

std::string session_text(const SessionView& session) {
  if (session.last_step == 0)
    return fmt::format("{}, {}: no work", budgets::write_date(session.date), hours_text(session.minutes));
  return fmt::format("{}, {} of {}: {}{}", budgets::write_date(session.date), hours_text(session.used),
                     hours_text(session.minutes), steps_text(session),
                     session.goes_on ? fmt::format(", step {} not to its end", session.last_step) : "");
}

std::vector<std::string> overnight_texts(const SessionView& session) {
  std::vector<std::string> texts;
  if (!session.open.empty()) texts.push_back("stays open overnight: " + list_text(session.open));
  if (!session.unsaid.empty())
    texts.push_back("stays open overnight, not said to be allowed: " + list_text(session.unsaid));
  if (!session.late.empty())
    texts.push_back("done after its day, as the order of the work asks for it: " + list_text(session.late));
  return texts;
}

std::vector<SessionLine> session_lines(const StageView& stage) {
  const auto idle = [](const SessionView& session) {
    return session.last_step == 0 && overnight_texts(session).empty();
  };
  std::vector<SessionLine> lines;
  const auto& sessions = stage.sessions;
  for (auto at = sessions.begin(); at != sessions.end();) {
    const auto end = std::find_if_not(at, sessions.end(), idle);
    if (end - at < 2) {
      lines.push_back({session_text(*at), overnight_texts(*at)});
      ++at;
      continue;
    }
    std::int64_t minutes = 0;
    for (auto one = at; one != end; ++one) minutes += one->minutes;
    lines.push_back({fmt::format("{} to {}, {} sessions, {}: no work", budgets::write_date(at->date),
                                 budgets::write_date((end - 1)->date), end - at, hours_text(minutes)),
                     {}});
    at = end;
  }
  return lines;
}

std::vector<TooLong> too_long_for_a_session(const build::Build& build) {
  const std::int64_t longest = longest_session(build);
  std::map<int, std::int64_t> open;  // removals, and how long they are off at least
  std::vector<TooLong> found;
  for (std::size_t j = 0; j < build.jobs.size() && longest > 0; ++j) {
    const build::Job& job = build.jobs[j];
    if (job.minutes > longest && !job.overnight)
      found.push_back({true, static_cast<int>(j), job.minutes, longest});
    for (const int r : opened_by(build, job)) {
      const build::Removal& removal = build.removals[static_cast<std::size_t>(r)];
      if (removal.overnight || removal.for_good || removal.added) continue;
      const std::int64_t minutes = removal.minutes_off + job.minutes + removal.minutes_on;
      const auto [place, fresh] = open.emplace(r, minutes);
      if (!fresh) place->second = std::min(place->second, minutes);
    }
  }
  for (const auto& [r, minutes] : open) {
    if (minutes > longest) found.push_back({false, r, minutes, longest});
  }
  return found;
}

}  // namespace fettlefund::planning
