#include "lib/graph/bench_order.hpp"

#include <algorithm>
#include <iterator>
#include <tuple>
#include <utility>

namespace fettlefund::graph {

namespace {

constexpr std::size_t jobs_weighed_at_most = 400;  ///< more jobs in one stage stand in file order

/// Carries out an order of jobs: a pile of removals, the last one off on top.
class Carrier {
 public:
  explicit Carrier(const Bench& bench) : bench_(bench), rank_(bench.needs.size(), 0) {
    const std::vector<int> order = in_order(reversed_needs());
    for (std::size_t i = 0; i < order.size(); ++i) rank_[order[i]] = static_cast<int>(i);
  }

  std::vector<Event> carry_out(const std::vector<int>& jobs) {
    begin(jobs);
    for (int place = 0; place < static_cast<int>(jobs.size()); ++place) {
      take_off(missing(bench_.uses[jobs[place]]));
      idle_ += static_cast<int>(pile_.size() - bench_.uses[jobs[place]].size());
      events_.push_back({Move::work, jobs[place]});
      put_back(place);
    }
    take_off(unused());
    put_back(static_cast<int>(jobs.size()));
    return std::move(events_);
  }

  int idle() const { return idle_; }

 private:
  Arrows reversed_needs() const {
    Arrows arrows(bench_.needs.size());
    for (std::size_t r = 0; r < bench_.needs.size(); ++r) {
      for (const int need : bench_.needs[r]) arrows[need].push_back(static_cast<int>(r));
    }
    return arrows;
  }

  void begin(const std::vector<int>& jobs) {
    last_use_.assign(bench_.needs.size(), -1);
    is_off_.assign(bench_.needs.size(), 0);
    events_.clear();
    idle_ = 0;
    for (std::size_t place = 0; place < jobs.size(); ++place) {
      for (const int r : bench_.uses[jobs[place]]) last_use_[r] = static_cast<int>(place);
    }
  }

  std::vector<int> missing(const std::vector<int>& uses) const {
    std::vector<int> result;
    std::copy_if(uses.begin(), uses.end(), std::back_inserter(result), [&](int r) { return !is_off_[r]; });
    return result;
  }

  std::vector<int> unused() const {
    std::vector<int> result;
    for (int r = 0; r < static_cast<int>(last_use_.size()); ++r) {
      if (last_use_[r] < 0) result.push_back(r);
    }
    return result;
  }

  /// What stays off longest goes to the bottom of the pile. A need is used as long as what needs it.
  void take_off(std::vector<int> removals) {
    std::sort(removals.begin(), removals.end(), [&](int a, int b) {
      return std::tuple(-last_use_[a], rank_[a]) < std::tuple(-last_use_[b], rank_[b]);
    });
    for (const int r : removals) {
      is_off_[r] = 1;
      pile_.push_back(r);
      events_.push_back({Move::off, r});
    }
  }

  void put_back(int place) {
    while (!pile_.empty() && last_use_[pile_.back()] <= place) {
      is_off_[pile_.back()] = 0;
      events_.push_back({Move::on, pile_.back()});
      pile_.pop_back();
    }
  }

  const Bench& bench_;
  std::vector<int> rank_, last_use_, pile_;
  std::vector<char> is_off_;
  std::vector<Event> events_;
  int idle_ = 0;
};

/// One job after another: first those that use what is off (or are waited for by such), then those that open
/// least, then file order.
class Greedy {
 public:
  explicit Greedy(const Bench& bench)
      : bench_(bench), done_(bench.uses.size(), 0), is_off_(bench.needs.size(), 0) {}

  std::vector<int> order() {
    std::vector<int> jobs;
    while (jobs.size() < bench_.uses.size()) {
      jobs.push_back(next());
      done_[jobs.back()] = 1;
      note_what_is_off();
    }
    return jobs;
  }

 private:
  bool ready(int job) const {
    return !done_[job] && std::all_of(bench_.before[job].begin(), bench_.before[job].end(),
                                      [&](int earlier) { return done_[earlier]; });
  }

  int shared(int job) const {
    const auto& uses = bench_.uses[job];
    return static_cast<int>(std::count_if(uses.begin(), uses.end(), [&](int r) { return is_off_[r]; }));
  }

  /// Jobs that use what is off, and those that such jobs wait for.
  std::vector<char> wanted() const {
    std::vector<char> marks(bench_.uses.size(), 0);
    std::vector<int> open;
    for (int j = 0; j < static_cast<int>(marks.size()); ++j) {
      if (!done_[j] && shared(j) > 0) open.push_back(j);
    }
    while (!open.empty()) {
      const int job = open.back();
      open.pop_back();
      if (std::exchange(marks[job], 1)) continue;
      open.insert(open.end(), bench_.before[job].begin(), bench_.before[job].end());
    }
    return marks;
  }

  int next() const {
    const std::vector<char> marks = wanted();
    const auto key = [&](int job) {
      const int used = shared(job);
      return std::tuple(!marks[job], static_cast<int>(bench_.uses[job].size()) - used, -used, job);
    };
    int best = -1;
    for (int job = 0; job < static_cast<int>(done_.size()); ++job) {
      if (ready(job) && (best < 0 || key(job) < key(best))) best = job;
    }
    return best;
  }

  /// Off is what a job done has used and a job to come uses.
  void note_what_is_off() {
    std::vector<char> used(is_off_.size(), 0), to_be_used(is_off_.size(), 0);
    for (std::size_t j = 0; j < done_.size(); ++j) {
      for (const int r : bench_.uses[j]) (done_[j] ? used : to_be_used)[r] = 1;
    }
    for (std::size_t r = 0; r < is_off_.size(); ++r) is_off_[r] = used[r] && to_be_used[r];
  }

  const Bench& bench_;
  std::vector<char> done_, is_off_;
};

int inversions(const std::vector<int>& jobs) {
  int count = 0;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    for (std::size_t k = i + 1; k < jobs.size(); ++k) count += jobs[k] < jobs[i];
  }
  return count;
}

bool allowed(const Bench& bench, const std::vector<int>& jobs) {
  std::vector<char> done(jobs.size(), 0);
  for (const int job : jobs) {
    for (const int earlier : bench.before[job]) {
      if (!done[earlier]) return false;
    }
    done[job] = 1;
  }
  return true;
}

/// What is to be small, in this order: idle open time, pairs of jobs against file order, the order itself.
using Measure = std::tuple<int, int, std::vector<int>>;

/// Moves single jobs to better places until none is left or the effort is used up.
class Improver {
 public:
  explicit Improver(const Bench& bench) : bench_(bench), carrier_(bench) {
    const auto n = static_cast<long>(bench.uses.size());
    tries_left_ = 4'000'000 / (1 + n * (n + static_cast<long>(bench.needs.size())));
  }

  std::vector<int> improved(std::vector<int> jobs) {
    best_ = measure(jobs);
    while (improve_once(jobs)) {
    }
    return jobs;
  }

  Measure measure(const std::vector<int>& jobs) {
    carrier_.carry_out(jobs);
    return {carrier_.idle(), inversions(jobs), jobs};
  }

 private:
  bool improve_once(std::vector<int>& jobs) {
    for (std::size_t from = 0; from < jobs.size(); ++from) {
      for (std::size_t to = 0; to < jobs.size(); ++to) {
        if (from != to && try_move(jobs, from, to)) return true;
      }
    }
    return false;
  }

  bool try_move(std::vector<int>& jobs, std::size_t from, std::size_t to) {
    if (tries_left_-- <= 0) return false;
    std::vector<int> moved = jobs;
    moved.erase(moved.begin() + static_cast<long>(from));
    moved.insert(moved.begin() + static_cast<long>(to), jobs[from]);
    if (!allowed(bench_, moved)) return false;
    Measure now = measure(moved);
    if (now >= best_) return false;
    best_ = std::move(now);
    jobs = std::move(moved);
    return true;
  }

  const Bench& bench_;
  Carrier carrier_;
  Measure best_;
  long tries_left_ = 0;
};

Arrows followers(const Bench& bench) {
  Arrows arrows(bench.before.size());
  for (std::size_t job = 0; job < bench.before.size(); ++job) {
    for (const int earlier : bench.before[job]) arrows[earlier].push_back(static_cast<int>(job));
  }
  return arrows;
}

}  // namespace

int idle_open_time(const Bench& bench, const std::vector<int>& jobs) {
  Carrier carrier(bench);
  carrier.carry_out(jobs);
  return carrier.idle();
}

std::vector<Event> bench_order(const Bench& bench) {
  if (bench.uses.size() > jobs_weighed_at_most) return Carrier(bench).carry_out(in_order(followers(bench)));
  const auto from_greedy = Improver(bench).improved(Greedy(bench).order());
  const auto from_file = Improver(bench).improved(in_order(followers(bench)));
  Improver judge(bench);
  const bool file_is_better = judge.measure(from_file) <= judge.measure(from_greedy);
  return Carrier(bench).carry_out(file_is_better ? from_file : from_greedy);
}

}  // namespace fettlefund::graph
