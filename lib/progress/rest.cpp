#include "lib/progress/rest.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "lib/staging/ids.hpp"
#include "lib/staging/machine.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

using build::Id;

constexpr int late_want = 10;

template <class Ids>
bool meets(const std::vector<Id>& ids, const Ids& set) {
  return std::any_of(ids.begin(), ids.end(), [&](const Id& id) { return set.count(id) > 0; });
}

class Rest {
 public:
  bool let_go_only(std::vector<std::string>& notes) {
    const std::size_t count = notes.size();
    let_go(notes);
    return notes.size() > count;
  }

  Rest(build::Build& build, const History& history, const std::vector<BenchLeft>& left)
      : build_(build), left_(left), first_bench_(left.front().bench) {
    for (const Done& done : history.done) done_.emplace(done.job, done.date);
    for (const GivenUp& one : history.given_up) {
      if (done_.count(one.job) == 0 && find_id(build.jobs, one.job) >= 0)
        closed_.emplace(one.job, "it was given up on " + budgets::write_date(one.date));
    }
  }

  void take_out(std::vector<std::string>& notes, std::vector<LeftOut>& closed) {
    put_on_the_machine();
    settle_mates(notes);
    settle_clashes();
    settle_drive();
    let_go(notes);
    close_choices();
    close_late();
    spread();
    for (const build::Job& job : build_.jobs) {
      if (const auto why = closed_.find(job.id); why != closed_.end()) {
        closed.push_back({job.id, job.name, why->second});
        if (job.must)
          notes.push_back(job.name + " had to be done and no longer can be: " + why->second + ".");
      }
    }
    remove();
  }

 private:
  bool done(const Id& job) const { return done_.count(job) > 0; }
  const std::string& name_of(const Id& job) const {
    return build_.jobs[static_cast<std::size_t>(find_id(build_.jobs, job))].name;
  }

  /// Has a job that takes off again what this one fitted been done after it, or on the same day?
  bool taken_off(const build::Job& job) const {
    const std::vector<int> takers = taken_off_by(build_, find_id(build_.jobs, job.id));
    return std::any_of(takers.begin(), takers.end(), [&](int j) {
      const auto at = done_.find(build_.jobs[static_cast<std::size_t>(j)].id);
      return at != done_.end() && at->second >= done_.at(job.id);
    });
  }

  /// What a job put there is fitted now, unless a job that takes it off again was done since.
  void put_on_the_machine() {
    std::vector<build::Fitted> fitted;
    for (const build::Fitted& old : build_.fitted) {
      if (!meets(old.replaced_by, done_)) fitted.push_back(old);
    }
    for (const build::Job& job : build_.jobs) {
      if (!done(job.id) || taken_off(job)) continue;
      build::Fitted& fresh = fitted.emplace_back();
      fresh.id = job.id;
      fresh.name = job.name;
      fresh.mates = mates_of(build_, job);
      fresh.replaced_by = job.replaced_by;
      fresh.place = job.place;
      renew(fresh, job);
    }
    build_.fitted = std::move(fitted);
  }

  /// A new part lives as long as the one it replaces; of several the shortest.
  void renew(build::Fitted& fresh, const build::Job& job) const {
    for (const build::Fitted& old : build_.fitted) {
      const auto& by = old.replaced_by;
      if (!old.life_months || std::find(by.begin(), by.end(), job.id) == by.end()) continue;
      if (fresh.life_months && *fresh.life_months <= *old.life_months) continue;
      fresh.name = old.name;
      fresh.since = done_.at(job.id);
      fresh.life_months = old.life_months;
      fresh.reached_by = old.reached_by;
    }
  }

  /// The part that was fitted last among those that carry the key; nothing: none was fitted by a job.
  const build::Fitted* newest_with(const std::string& key) const {
    const build::Fitted* newest = nullptr;
    for (const build::Fitted& one : build_.fitted) {
      if (one.mates.count(key) == 0 || !done(one.id)) continue;
      if (newest == nullptr || done_.at(one.id) >= done_.at(newest->id)) newest = &one;
    }
    return newest;
  }

  /// Work that is half done may leave parts on the machine that do not agree. What was fitted last counts;
  /// the job that takes the other part off has to be done, and the plan goes on.
  void settle_mates(std::vector<std::string>& notes) {
    std::set<std::string> keys;
    for (const build::Fitted& one : build_.fitted) {
      for (const auto& [key, value] : one.mates) keys.insert(key);
    }
    for (const std::string& key : keys) {
      const build::Fitted* newest = newest_with(key);
      if (newest == nullptr) continue;
      const std::string value = newest->mates.at(key), name = newest->name;
      for (build::Fitted& old : build_.fitted) {
        const auto mate = old.mates.find(key);
        if (mate == old.mates.end() || mate->second == value) continue;
        notes.push_back(name + " (" + key + " " + value + ") and " + old.name + " (" + key + " " +
                        mate->second + ") are on the machine and do not agree; " + demand_replacement(old));
        old.mates.erase(mate);
      }
    }
  }

  /// Makes the first job that takes the part off a must; what the note says of it.
  std::string demand_replacement(const build::Fitted& old) {
    for (build::Job& job : build_.jobs) {
      if (done(job.id) ||
          std::find(old.replaced_by.begin(), old.replaced_by.end(), job.id) == old.replaced_by.end())
        continue;
      job.must = true;
      job.want = late_want;
      return job.name + " resolves it: it has to be done, and is wanted 10.";
    }
    return "no job of the build takes " + old.name + " off.";
  }

  void settle_clashes() {
    std::erase_if(build_.clashes, [&](const build::Clash& clash) {
      const auto there = [&](const Id& id) {
        return find_id(build_.fitted, id) >= 0 || (find_id(build_.jobs, id) >= 0 && !done(id));
      };
      return meets(clash.unless, done_) || !there(clash.a) || !there(clash.b);
    });
  }

  void settle_drive() {
    if (!build_.drive) return;
    for (build::DriveEnd* end : {&build_.drive->front, &build_.drive->rear}) {
      if (!done(end->job)) continue;
      end->teeth_before = end->teeth_after;
      end->job.clear();
    }
    if (done(build_.drive->chain_job)) build_.drive->chain_job.clear();
  }

  /// Musts, and what has to come before them or be done with them.
  std::set<Id> needed() const {
    std::vector<Id> waiting;
    for (const build::Job& job : build_.jobs) {
      if (job.must && !done(job.id)) waiting.push_back(job.id);
    }
    std::set<Id> found;
    while (!waiting.empty()) {
      const Id next = waiting.back();
      waiting.pop_back();
      if (!found.insert(next).second) continue;
      const build::Job& job = build_.jobs[static_cast<std::size_t>(find_id(build_.jobs, next))];
      for (const auto* ids : {&job.after, &job.together_with}) {
        for (const Id& id : *ids) {
          if (!done(id)) waiting.push_back(id);
        }
      }
    }
    return found;
  }

  /// No bench date up to its day is left on which there is time for it.
  bool late(const build::Job& job) const {
    const bool takes_time = job.minutes > 0 || !job.removals.empty();
    return job.by && std::none_of(left_.begin(), left_.end(), [&](const BenchLeft& one) {
             return one.bench <= *job.by && (one.time || !takes_time);
           });
  }

  /// Musts whose day has passed, or whose last bench date with time for them.
  void let_go(std::vector<std::string>& notes) {
    const std::set<Id> held = needed();
    for (build::Job& job : build_.jobs) {
      if (done(job.id) || !late(job) || held.count(job.id) == 0) continue;
      notes.push_back(
          job.name + " is late: it was to be done by " + budgets::write_date(*job.by) + ". " +
          (job.must ? "It stays a must, without a day" : "It is needed, so its day counts no more") +
          ", and is wanted 10.");
      job.by.reset();
      job.want = late_want;
    }
  }

  void close_choices() {
    std::map<std::string, Id> chosen;
    for (const build::Job& job : build_.jobs) {
      if (!job.one_of.empty() && done(job.id)) chosen.emplace(job.one_of, job.id);
    }
    for (const build::Job& job : build_.jobs) {
      const auto other = chosen.find(job.one_of);
      if (done(job.id) || other == chosen.end()) continue;
      closed_.emplace(job.id, name_of(other->second) + " is fitted: at most one of '" + job.one_of + "'");
    }
  }

  void close_late() {
    for (const build::Job& job : build_.jobs) {
      if (done(job.id) || !job.by || *job.by >= first_bench_) continue;
      closed_.emplace(job.id, "it was to be done by " + budgets::write_date(*job.by) + ", which has passed");
    }
  }

  /// What comes after a closed job or is done with one is closed too.
  void spread() {
    for (bool again = true; again;) {
      again = false;
      for (const build::Job& job : build_.jobs) {
        if (done(job.id)) continue;
        for (const Id& before : job.after) again |= spread(before, job.id, "comes after");
        for (const Id& with : job.together_with) {
          again |= spread(with, job.id, "is done together with");
          again |= spread(job.id, with, "is done together with");
        }
      }
    }
  }

  /// Closes `job` because `cause` is closed; whether that is new.
  bool spread(const Id& cause, const Id& job, const std::string& how) {
    if (closed_.count(cause) == 0 || done(job) || closed_.count(job) > 0) return false;
    closed_.emplace(job, "it " + how + " " + name_of(cause) + ", which cannot be done any more");
    return true;
  }

  void remove() {
    const auto gone = [&](const Id& id) { return done(id) || closed_.count(id) > 0; };
    const auto thin = [&](std::vector<Id>& ids) { std::erase_if(ids, gone); };
    std::set<Id> steps;
    for (const build::Job& job : build_.jobs) {
      for (const build::Step& step : job.steps) {
        if (gone(job.id)) steps.insert(step.id);
      }
    }
    const auto thin_steps = [&](std::vector<build::Step>& list) {
      for (build::Step& step : list)
        std::erase_if(step.after, [&](const Id& id) { return steps.count(id) > 0; });
    };
    std::erase_if(build_.jobs, [&](const build::Job& job) { return gone(job.id); });
    std::erase_if(build_.clashes, [&](const build::Clash& clash) {
      return closed_.count(clash.a) > 0 || closed_.count(clash.b) > 0;
    });
    for (build::Job& job : build_.jobs) {
      for (auto* ids : {&job.after, &job.together_with, &job.replaced_by}) thin(*ids);
      thin_steps(job.steps);
    }
    for (build::Fitted& fitted : build_.fitted) thin(fitted.replaced_by);
    for (build::Clash& clash : build_.clashes) thin(clash.unless);
    for (build::Removal& removal : build_.removals) {
      thin_steps(removal.off);
      thin_steps(removal.on);
    }
    std::erase_if(build_.silences, [&](const build::Silence& silence) { return gone(silence.only_for); });
  }

  build::Build& build_;
  const std::vector<BenchLeft>& left_;
  Date first_bench_;
  std::map<Id, Date> done_;
  std::map<Id, std::string> closed_;
};

}  // namespace

void take_out_done(build::Build& build, const History& history, const std::vector<BenchLeft>& left,
                   std::vector<std::string>& notes, std::vector<LeftOut>& closed) {
  Rest(build, history, left).take_out(notes, closed);
}

bool let_go_of_late(build::Build& build, const std::vector<BenchLeft>& left,
                    std::vector<std::string>& notes) {
  return Rest(build, {}, left).let_go_only(notes);
}

}  // namespace fettlefund::planning
