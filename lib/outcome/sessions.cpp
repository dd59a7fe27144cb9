#include "lib/outcome/sessions.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

constexpr std::size_t no_session = static_cast<std::size_t>(-1);

/// What is off or half done, step by step.
class OpenThings {
 public:
  OpenThings(const build::Build& build, const std::vector<WorkStep>& work)
      : build_(build), removals_(build.removals), jobs_(build.jobs) {
    for (const WorkStep& step : work) ++left_[key(step)];
  }

  void begin(const WorkStep& step) {
    if (step.act == graph::Act::on) return;
    if (step.act == graph::Act::off && removal(step.of).for_good) return;
    open_.insert({step.of_job, step.of});
  }

  void finish(const WorkStep& step) {
    const int left = --left_[key(step)];
    if (left == 0 && step.act != graph::Act::off) open_.erase({step.of_job, step.of});
  }

  /// Whether all that is open may stay so.
  bool may_rest() const {
    return std::all_of(open_.begin(), open_.end(), [&](const auto& one) { return overnight(one); });
  }

  void tell(SessionView& session) const {
    for (const auto& one : open_) {
      const std::string text =
          one.first ? job(one.second).name + " (half done)" : removal(one.second).name + " (off)";
      (overnight(one) ? session.open : session.unsaid).push_back(text);
    }
  }

 private:
  using Thing = std::pair<bool, Id>;  ///< whether a job, and which
  using Key = std::pair<graph::Act, Id>;

  static Key key(const WorkStep& step) { return {step.act, step.of}; }
  const build::Removal& removal(const Id& id) const {
    return build_.removals[static_cast<std::size_t>(removals_.find(id))];
  }
  const build::Job& job(const Id& id) const { return build_.jobs[static_cast<std::size_t>(jobs_.find(id))]; }
  bool overnight(const Thing& one) const {
    return one.first ? job(one.second).overnight : removal(one.second).overnight;
  }

  const build::Build& build_;
  IdTable removals_, jobs_;
  std::map<Key, int> left_;
  std::set<Thing> open_;
};

class Layout {
 public:
  Layout(const build::Build& build, const std::vector<WorkStep>& work, const std::vector<Evening>& evenings,
         const std::vector<Date>& ready)
      : build_(build), work_(work), evenings_(evenings) {
    for (const Evening& evening : evenings) {
      SessionView& session = sessions_.emplace_back();
      session.date = evening.date;
      session.minutes = evening.minutes;
    }
    blocks_ = parts(0, work.size(), blocks());
    wait_for(ready);
    due_.assign(work.size(), no_session);
    if (!evenings.empty()) find_due();
  }

  std::vector<SessionView> make() {
    if (sessions_.empty() || work_.empty()) return std::move(sessions_);
    for (const auto& [begin, end] : blocks_) put_block(begin, end);
    tell_open();
    tell_late();
    return std::move(sessions_);
  }

 private:
  using Ends = std::vector<char>;  ///< after which steps a part ends
  using Spans = std::vector<std::pair<std::size_t, std::size_t>>;

  /// The first session of each step: of what is opened together, that in which all of it is ready.
  void wait_for(const std::vector<Date>& ready) {
    earliest_.assign(work_.size(), 0);
    if (ready.empty() || evenings_.empty()) return;
    for (const auto& [begin, end] : blocks_) {
      const auto day = *std::max_element(ready.begin() + static_cast<std::ptrdiff_t>(begin),
                                         ready.begin() + static_cast<std::ptrdiff_t>(end));
      const auto first = std::find_if(evenings_.begin(), std::prev(evenings_.end()),
                                      [&](const Evening& evening) { return evening.date >= day; });
      std::fill(earliest_.begin() + static_cast<std::ptrdiff_t>(begin),
                earliest_.begin() + static_cast<std::ptrdiff_t>(end),
                static_cast<std::size_t>(first - evenings_.begin()));
    }
  }

  /// The session that ends what is due, for steps of jobs with a day before the last session.
  void find_due() {
    for (std::size_t i = 0; i < work_.size(); ++i) {
      if (!work_[i].of_job) continue;
      const auto& by = build_.jobs[static_cast<std::size_t>(find_id(build_.jobs, work_[i].of))].by;
      if (!by || *by >= evenings_.back().date || *by < evenings_.front().date) continue;
      std::size_t session = 0;
      while (evenings_[session + 1].date <= *by) ++session;
      due_[i] = session;
      if (!holds(0, 0)) due_[i] = no_session;
    }
  }

  /// Whether the steps from `from` on are done, each as it is due, if they begin with `session`.
  bool holds(std::size_t session, std::size_t from) const {
    std::int64_t used = 0;
    for (std::size_t i = from; i < work_.size(); ++i) {
      if (earliest_[i] > session) {
        session = earliest_[i];
        used = 0;
      }
      used += work_[i].minutes;
      while (used > sessions_[session].minutes) {
        used -= sessions_[session].minutes;
        if (++session == sessions_.size()) return false;
      }
      if (due_[i] != no_session && due_[i] < session) return false;
    }
    return true;
  }

  std::int64_t minutes(std::size_t begin, std::size_t end) const {
    std::int64_t sum = 0;
    for (std::size_t i = begin; i < end; ++i) sum += work_[i].minutes;
    return sum;
  }

  std::int64_t rest() const { return sessions_[now_].minutes - sessions_[now_].used; }

  /// What is off is on again and what is begun is done, what may stay so apart.
  Ends blocks() const {
    OpenThings open(build_, work_);
    Ends ends;
    for (const WorkStep& step : work_) {
      open.begin(step);
      open.finish(step);
      ends.push_back(open.may_rest() ? 1 : 0);
    }
    return ends;
  }

  Ends acts() const {
    Ends ends(work_.size(), 1);
    for (std::size_t i = 0; i + 1 < work_.size(); ++i)
      ends[i] = work_[i].act != work_[i + 1].act || work_[i].of != work_[i + 1].of;
    return ends;
  }

  static Spans parts(std::size_t begin, std::size_t end, const Ends& ends) {
    Spans spans;
    for (std::size_t i = begin; i < end; ++i) {
      if (!ends[i] && i + 1 < end) continue;
      spans.emplace_back(begin, i + 1);
      begin = i + 1;
    }
    return spans;
  }

  /// Puts the part into one session if one holds it in time.
  bool put_whole(std::size_t begin, std::size_t end) {
    const std::int64_t needed = minutes(begin, end);
    for (std::size_t s = now_; s < sessions_.size(); ++s) {
      if (s > now_ && !holds(s, begin)) return false;
      if (needed > (s == now_ ? rest() : sessions_[s].minutes)) continue;
      now_ = s;
      for (std::size_t i = begin; i < end; ++i) put(i, work_[i].minutes);
      return true;
    }
    return false;
  }

  void put_block(std::size_t begin, std::size_t end) {
    now_ = std::max(now_, earliest_[begin]);
    if (put_whole(begin, end)) return;
    for (const auto& [first, last] : parts(begin, end, acts())) {
      if (put_whole(first, last)) continue;
      for (std::size_t i = first; i < last; ++i) {
        if (!put_whole(i, i + 1)) put_split(i);
      }
    }
  }

  /// Begins the step now and goes on with it as long as it takes.
  void put_split(std::size_t step) {
    std::int64_t left = work_[step].minutes;
    while (true) {
      const bool last = now_ + 1 == sessions_.size();
      const std::int64_t part = last ? left : std::min(left, rest());
      if (part > 0) put(step, part);
      left -= part;
      if (left == 0) return;
      if (part > 0) sessions_[now_].goes_on = true;
      ++now_;
    }
  }

  void put(std::size_t step, std::int64_t minutes) {
    SessionView& session = sessions_[now_];
    if (session.first_step == 0) session.first_step = work_[step].number;
    session.last_step = work_[step].number;
    session.used += minutes;
  }

  /// At the end of each session after which work is left.
  void tell_open() {
    OpenThings open(build_, work_);
    std::size_t next = 0;
    for (std::size_t s = 0; s < now_; ++s) {
      SessionView& session = sessions_[s];
      if (session.last_step == 0) continue;
      const auto end = static_cast<std::size_t>(session.last_step) - (session.goes_on ? 1 : 0);
      for (; next < end; ++next) {
        open.begin(work_[next]);
        open.finish(work_[next]);
      }
      if (session.goes_on) open.begin(work_[next]);
      open.tell(session);
    }
  }

  /// Which jobs a session works on, and which of them it ends after their day.
  void tell_late() {
    std::map<Id, int> last;
    for (const WorkStep& step : work_) {
      if (step.of_job) last[step.of] = step.number;
    }
    for (SessionView& session : sessions_) {
      for (int number = session.first_step; number <= session.last_step && number > 0; ++number)
        tell_job(session, work_[static_cast<std::size_t>(number) - 1], last);
      if (session.jobs.empty()) session.jobs = removed_or_put_back(session);
    }
  }

  std::vector<std::string> removed_or_put_back(const SessionView& session) const {
    std::vector<std::string> names;
    for (int number = session.first_step; number <= session.last_step && number > 0; ++number) {
      const std::string& name = work_[static_cast<std::size_t>(number) - 1].of_name;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
  }

  void tell_job(SessionView& session, const WorkStep& step, const std::map<Id, int>& last) const {
    const auto add = [](std::vector<std::string>& names, const std::string& name) {
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    };
    if (step.of_job) add(session.jobs, step.of_name);
    const bool ends = step.of_job && last.at(step.of) == step.number;
    if (!ends || (session.goes_on && session.last_step == step.number)) return;
    const auto& by = build_.jobs[static_cast<std::size_t>(find_id(build_.jobs, step.of))].by;
    if (by && *by < session.date) add(session.late, step.of_name);
  }

  const build::Build& build_;
  const std::vector<WorkStep>& work_;
  const std::vector<Evening>& evenings_;
  std::vector<SessionView> sessions_;
  Spans blocks_;                       ///< what is opened together and closed again
  std::vector<std::size_t> due_;       ///< [step]
  std::vector<std::size_t> earliest_;  ///< [step] session
  std::size_t now_ = 0;
};

}  // namespace

std::vector<SessionView> lay_out(const build::Build& build, const std::vector<WorkStep>& work,
                                 const std::vector<Evening>& evenings,
                                 const std::vector<budgets::Date>& ready) {
  return Layout(build, work, evenings, ready).make();
}

}  // namespace fettlefund::planning
