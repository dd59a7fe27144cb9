#include "budgets/what_if/holds.hpp"

#include <algorithm>

#include "budgets/values/lists.hpp"

namespace fettlefund::budgets {
namespace {

using search::Answer;

/// Steps that one question may take.
constexpr std::int64_t share = 100'000'000;
constexpr search::Size size{200'000, 100'000};

/// Whether two carriers disagree on a mate.
bool disagree(const Carrier& a, const Carrier& b) {
  return std::any_of(a.mates.begin(), a.mates.end(), [&](const Carrier::Mate& one) {
    return std::any_of(b.mates.begin(), b.mates.end(), [&](const Carrier::Mate& other) {
      return one.key == other.key && one.value != other.value;
    });
  });
}

/// Whether what these jobs put on the machine for good never goes with what is on it for good. Seen at once
/// here; a search would have to try everything.
bool never_fit(const ProblemData& data, const std::vector<int>& jobs) {
  const auto stays = [&](const Carrier& carrier) {
    const bool comes =
        carrier.brought_by < 0 || std::find(jobs.begin(), jobs.end(), carrier.brought_by) != jobs.end();
    return comes && carrier.replaced_by.empty();
  };
  const auto brought = [](const Carrier& carrier) { return carrier.brought_by >= 0; };
  for (const Carrier& a : data.carriers) {
    for (const Carrier& b : data.carriers) {
      if (brought(a) && stays(a) && stays(b) && disagree(a, b)) return true;
    }
  }
  return std::any_of(data.clashes.begin(), data.clashes.end(), [&](const Clash& clash) {
    const Carrier &a = data.carriers[clash.a], &b = data.carriers[clash.b];
    return clash.adapted_by.empty() && (brought(a) || brought(b)) && stays(a) && stays(b);
  });
}

}  // namespace

std::vector<int> StageQuestion::musts(bool own_only, int freed) const {
  std::vector<int> list;
  for (int j = 0; j < static_cast<int>(data_.jobs.size()); ++j) {
    if (j == job_ || (data_.jobs[j].must && !own_only && j != freed)) list.push_back(j);
  }
  return list;
}

search::Feasibility StageQuestion::search(ProblemData data, bool any_date, const std::vector<int>& musts) {
  if (purse_.out()) return {};
  Job& own = data.jobs[job_];
  const int latest = own.latest == -1 ? static_cast<int>(data.stages.size()) - 1 : own.latest;
  if (!any_date && (stage_ < own.earliest || stage_ > latest)) return {Answer::no, {}};
  if (never_fit(data, jobs_with(data, job_))) return {Answer::no, {}};
  own.earliest = own.latest = stage_;
  search::Meter meter(std::min(purse_.left(), share), purse_.stop);
  search::Feasibility found = search::Feasible(data, size, share, meter).ask(musts);
  purse_.used += meter.steps();
  return found;
}

search::Feasibility StageQuestion::ask(const std::vector<Hold>& holds_lifted, int freed) {
  return search(lifted(data_, holds_lifted), contains(holds_lifted, Hold::dates),
                musts(contains(holds_lifted, Hold::musts), freed));
}

search::Feasibility StageQuestion::ask_with_cash(std::int64_t extra) {
  ProblemData data = data_;
  data.opening += Money::of_minor(extra);
  return search(std::move(data), false, musts(false, -1));
}

search::Feasibility StageQuestion::ask_with_minutes(std::int64_t extra) {
  ProblemData data = data_;
  data.stages[stage_].minutes += extra;
  return search(std::move(data), false, musts(false, -1));
}

/// Rules that the problem has at all.
std::vector<Hold> StageQuestion::that_apply() const {
  std::vector<Hold> all;
  for (int h = 0; h < hold_count; ++h) {
    const auto hold = static_cast<Hold>(h);
    const bool no_mates = hold == Hold::mates && data_.carriers.empty();
    const bool no_clashes = hold == Hold::clashes && data_.clashes.empty();
    const bool no_tools = hold == Hold::tools && data_.tools.empty();
    const bool no_choices = hold == Hold::choices && data_.one_of.empty();
    const bool no_musts = hold == Hold::musts && musts(false, -1).size() == 1;
    if (!(no_mates || no_clashes || no_tools || no_choices || no_musts)) all.push_back(hold);
  }
  return all;
}

bool StageQuestion::works(const std::vector<Hold>& holds_lifted, AtStage& at) {
  const search::Feasibility found = ask(holds_lifted);
  at.holds_proven &= found.answer != Answer::unknown;
  if (found.answer == Answer::yes && at.holds.empty()) {
    at.holds = holds_lifted;
    at.without = found.schedule;
  }
  return found.answer == Answer::yes;
}

void StageQuestion::explain(AtStage& at) {
  for (const Hold hold : that_apply()) {
    const bool first = at.holds.empty();
    if (works({hold}, at) && !first) at.others.push_back(hold);
  }
  if (at.holds.empty()) find_smallest_set(at);
  if (contains(at.holds, Hold::musts) || contains(at.others, Hold::musts)) find_must(at);
}

/// Takes rules away from all as long as the rest, lifted, do; then looks for a smaller set.
void StageQuestion::find_smallest_set(AtStage& at) {
  const std::vector<Hold> all = that_apply();
  std::vector<Hold> set = all;
  for (std::size_t i = set.size(); i-- > 0;) {
    std::vector<Hold> fewer = set;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    AtStage aside;
    if (works(fewer, aside)) set = fewer;
    at.holds_proven &= aside.holds_proven;
  }
  for (std::size_t count = 2; count < set.size(); ++count) {
    std::vector<Hold> chosen;
    if (find_set_of(count, all, 0, chosen, at)) return;
  }
  works(set, at);
}

bool StageQuestion::find_set_of(std::size_t count, const std::vector<Hold>& all, std::size_t from,
                                std::vector<Hold>& set, AtStage& at) {
  if (set.size() == count) return works(set, at);
  for (std::size_t i = from; i < all.size(); ++i) {
    set.push_back(all[i]);
    if (find_set_of(count, all, i + 1, set, at)) return true;
    set.pop_back();
  }
  return false;
}

void StageQuestion::find_must(AtStage& at) {
  for (const int must : musts(false, -1)) {
    if (must == job_ || ask({}, must).answer != Answer::yes) continue;
    at.in_the_way = must;
    return;
  }
}

}  // namespace fettlefund::budgets
