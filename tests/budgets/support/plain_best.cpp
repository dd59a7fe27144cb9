#include "tests/budgets/support/plain_best.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "tests/budgets/support/plain_basket.hpp"

namespace fettlefund::testing {
namespace {

using namespace budgets;

class Judge {
 public:
  Judge(const ProblemData& data, const Schedule& schedule)
      : data_(data), at_(schedule.stage_of), schedule_(schedule) {
    for (std::size_t t = 0; t < data.stages.size(); ++t) opened_.push_back(opened(static_cast<int>(t)));
  }

  bool keeps_rules() const {
    for (std::size_t j = 0; j < at_.size(); ++j) {
      if (!job_is_right(j)) return false;
    }
    for (std::size_t t = 0; t < data_.stages.size(); ++t) {
      if (minutes(static_cast<int>(t)) > data_.stages[t].minutes || !fits(static_cast<int>(t))) return false;
      if (!days_hold(static_cast<int>(t))) return false;
    }
    return groups_are_right() && tools_are_used();
  }

  std::int64_t all_minutes() const {
    std::int64_t sum = 0;
    for (std::size_t t = 0; t < data_.stages.size(); ++t) sum += minutes(static_cast<int>(t));
    return sum;
  }

  std::int64_t value() const {
    std::int64_t sum = 0;
    for (std::size_t j = 0; j < at_.size(); ++j) sum += at_[j] < 0 ? 0 : data_.jobs[j].worth[at_[j]];
    for (const Renewal& renewal : data_.renewals) sum += renewed(renewal);
    for (const std::set<int>& opened : opened_) {
      for (int r : opened) sum -= data_.bother * data_.removals[r].minutes;
    }
    return sum;
  }

 private:
  bool done(int job, int by) const { return at_[job] >= 0 && at_[job] <= by; }

  std::set<int> opened(int stage) const {
    std::set<int> all;
    std::vector<int> left;
    for (std::size_t j = 0; j < at_.size(); ++j) {
      if (at_[j] == stage)
        left.insert(left.end(), data_.jobs[j].removals.begin(), data_.jobs[j].removals.end());
    }
    while (!left.empty()) {
      const int r = left.back();
      left.pop_back();
      if (all.insert(r).second)
        left.insert(left.end(), data_.removals[r].needs.begin(), data_.removals[r].needs.end());
    }
    return all;
  }

  bool job_is_right(std::size_t j) const {
    const Job& job = data_.jobs[j];
    if (at_[j] < 0) return !job.must;
    const int latest = job.latest < 0 ? static_cast<int>(data_.stages.size()) - 1 : job.latest;
    return at_[j] >= job.earliest && at_[j] <= latest &&
           std::all_of(job.after.begin(), job.after.end(), [&](int other) { return done(other, at_[j]); });
  }

  std::int64_t minutes(int stage) const {
    std::int64_t sum = 0;
    for (std::size_t j = 0; j < at_.size(); ++j) sum += at_[j] == stage ? data_.jobs[j].minutes : 0;
    for (int r : opened_[stage]) sum += data_.removals[r].minutes;
    return sum;
  }

  /// On every day of the stage what is due by then has its time.
  bool days_hold(int stage) const {
    const Stage& here = data_.stages[stage];
    for (Date day = here.bench; day < here.last.value_or(here.bench); day = day + 1) {
      const std::vector<char> due = due_by(stage, day);
      if (std::none_of(due.begin(), due.end(), [](char one) { return one != 0; })) continue;
      std::int64_t room = 0, needed = 0;
      for (const Mark& mark : here.marks) room = mark.day <= day ? mark.minutes : room;
      std::set<int> open;
      for (std::size_t j = 0; j < due.size(); ++j) {
        if (!due[j]) continue;
        needed += data_.jobs[j].minutes;
        for (int r : data_.jobs[j].removals) add_removal(r, open);
      }
      for (int r : open) needed += data_.removals[r].minutes;
      if (needed > room) return false;
    }
    return true;
  }

  void add_removal(int r, std::set<int>& open) const {
    open.insert(r);
    for (int need : data_.removals[r].needs) add_removal(need, open);
  }

  /// Marks the jobs of the stage with that day or an earlier one, and what goes before or with a marked one.
  std::vector<char> due_by(int stage, Date day) const {
    std::vector<char> due(at_.size(), 0);
    for (std::size_t j = 0; j < at_.size(); ++j) {
      const auto& by = data_.jobs[j].by;
      due[j] = at_[j] == stage && by && *by >= data_.stages[stage].bench && *by <= day;
    }
    for (std::size_t round = 0; round < at_.size(); ++round) {
      for (std::size_t j = 0; j < at_.size(); ++j) {
        if (!due[j]) continue;
        for (int other : data_.jobs[j].after) due[other] = due[other] || at_[other] == stage;
        for (const auto& group : data_.together) {
          if (std::count(group.begin(), group.end(), static_cast<int>(j)) == 0) continue;
          for (int other : group) due[other] = due[other] || at_[other] == stage;
        }
      }
    }
    return due;
  }

  bool there(const Carrier& carrier, int stage) const {
    if (carrier.brought_by >= 0 && !done(carrier.brought_by, stage)) return false;
    const int came = carrier.brought_by < 0 ? 0 : at_[carrier.brought_by];
    return std::none_of(carrier.replaced_by.begin(), carrier.replaced_by.end(),
                        [&](int j) { return done(j, stage) && at_[j] >= came; });
  }

  bool fits(int stage) const {
    std::map<int, std::set<int>> values;
    for (const Carrier& carrier : data_.carriers) {
      if (!there(carrier, stage)) continue;
      for (const Carrier::Mate& mate : carrier.mates) values[mate.key].insert(mate.value);
    }
    if (std::any_of(values.begin(), values.end(), [](const auto& v) { return v.second.size() > 1; }))
      return false;
    return std::none_of(data_.clashes.begin(), data_.clashes.end(), [&](const Clash& clash) {
      return there(data_.carriers[clash.a], stage) && there(data_.carriers[clash.b], stage) &&
             std::none_of(clash.adapted_by.begin(), clash.adapted_by.end(),
                          [&](int j) { return done(j, stage); });
    });
  }

  bool groups_are_right() const {
    for (const auto& group : data_.one_of) {
      if (std::count_if(group.begin(), group.end(), [&](int j) { return at_[j] >= 0; }) > 1) return false;
    }
    for (const auto& group : data_.together) {
      if (std::any_of(group.begin(), group.end(), [&](int j) { return at_[j] != at_[group[0]]; }))
        return false;
    }
    return true;
  }

  bool tools_are_used() const {
    for (std::size_t k = 0; k < data_.tools.size(); ++k) {
      if (schedule_.tool_bought[k] >= 0 && !uses(schedule_.tool_bought[k], static_cast<int>(k))) return false;
    }
    return true;
  }

  /// Its work needs the tool, or has it in a set of which nothing is used anyway.
  bool uses(int stage, int tool) const {
    std::set<int> sure;
    std::vector<std::vector<int>> any;
    const auto add = [&](const auto& work) {
      sure.insert(work.tools.begin(), work.tools.end());
      any.insert(any.end(), work.any_tools.begin(), work.any_tools.end());
    };
    for (std::size_t j = 0; j < at_.size(); ++j) {
      if (at_[j] == stage) add(data_.jobs[j]);
    }
    for (int r : opened_[stage]) add(data_.removals[r]);
    if (sure.count(tool) > 0) return true;
    return std::any_of(any.begin(), any.end(), [&](const std::vector<int>& set) {
      return std::count(set.begin(), set.end(), tool) > 0 &&
             std::none_of(set.begin(), set.end(), [&](int k) { return sure.count(k) > 0; });
    });
  }

  std::int64_t renewed(const Renewal& renewal) const {
    std::vector<std::pair<int, std::int64_t>> earned;  // stage, less of what is earned
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i) {
      const int stage = at_[renewal.jobs[i]];
      if (stage >= 0) earned.emplace_back(stage, -renewal.worth[i][stage]);
    }
    return earned.empty() ? 0 : -std::min_element(earned.begin(), earned.end())->second;
  }

  const ProblemData& data_;
  const std::vector<int>& at_;
  const Schedule& schedule_;
  std::vector<std::set<int>> opened_;
};

bool better(const PlainBest& a, const PlainBest& b) {
  return std::tuple(-a.value, a.spent, a.minutes) < std::tuple(-b.value, b.spent, b.minutes);
}

/// The next of all ways to give each entry a stage or -1; false after the last.
bool next_placing(std::vector<int>& entries, int stages) {
  for (int& entry : entries) {
    if (++entry < stages) return true;
    entry = -1;
  }
  return false;
}

}  // namespace

std::optional<PlainBest> plain_best(const Problem& problem, bool& all) {
  std::optional<PlainBest> best;
  Schedule schedule;
  schedule.stage_of.assign(problem.data().jobs.size(), -1);
  all = true;
  do {
    schedule.tool_bought.assign(problem.data().tools.size(), -1);
    do {
      const Judge judge(problem.data(), schedule);
      if (!judge.keeps_rules()) continue;
      PlainBest now{judge.value(), 0, judge.all_minutes()};
      if (best && now.value < best->value) continue;
      const PlainShopping shopping = shop_plainly(problem, schedule);
      all = all && shopping.all;
      now.spent = shopping.spent;
      if (shopping.possible && (!best || better(now, *best))) best = now;
    } while (next_placing(schedule.tool_bought, problem.stage_count()));
  } while (next_placing(schedule.stage_of, problem.stage_count()));
  return best;
}

}  // namespace fettlefund::testing
