#include "tests/lib/staging/random_build_rules.hpp"

#include <algorithm>
#include <chrono>
#include <set>
#include <variant>

#include "tests/lib/staging/random_build_shop.hpp"

namespace fettlefund::test {
namespace {

using budgets::Date;

template <class Entry>
int index_of(const std::vector<Entry>& list, const build::Id& id) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].id == id) return static_cast<int>(i);
  }
  return -1;
}

bool has(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

Date months_later(Date from, int months) {
  const std::chrono::year_month_day day = budgets::calendar(from);
  const int month = static_cast<int>(static_cast<unsigned>(day.month())) - 1 + months;
  const int year = static_cast<int>(day.year()) + month / 12;
  unsigned last = 31;
  const auto exists = [&](unsigned d) {
    return (std::chrono::year(year) / (month % 12 + 1) / static_cast<int>(d)).ok();
  };
  while (!exists(last)) --last;
  return budgets::make_date(year, static_cast<unsigned>(month % 12 + 1),
                            std::min(last, static_cast<unsigned>(day.day())));
}

int want_when_due(const build::Fitted& fitted, Date day) {
  if (!fitted.since || !fitted.life_months) return 0;
  const Date due = months_later(*fitted.since, *fitted.life_months);
  if (day < due) return 0;
  int want = 3;
  const int life = due - *fitted.since;
  for (int tenth = 0; tenth < 7 && (day - due) * 10 > tenth * life; ++tenth) ++want;
  return want;
}

}  // namespace

Rulebook::Rulebook(const build::Build& build) : build_(build) {
  make_days();
  make_needs();
  for (const build::Job& job : build.jobs) make_worth(job);
}

void Rulebook::make_days() {
  const auto& listed = std::get<budgets::ListedDays>(build_.money.rule).days;
  const auto stages = static_cast<std::size_t>(build_.money.stages);
  end_ = listed.size() > stages ? listed[stages]
                                : listed[stages - 1] + (listed[stages - 1] - listed[stages - 2]);
  for (std::size_t t = 0; t < stages; ++t) {
    const Date bench = listed[t] + build_.bench.days_after_payday;
    Day day{
        listed[t],           bench, bench, {}, build_.money.amount.minor(), build_.money.keep_back.minor(),
        build_.bench.minutes};
    for (const build::BenchException& one : build_.bench.exceptions) {
      if (one.stage == static_cast<int>(t) + 1) day.minutes = one.minutes;
    }
    const Date next = t + 1 < stages ? listed[t + 1] : end_;
    if (!build_.bench.sessions.empty()) make_evenings(day, next);
    std::map<Date, std::int64_t> between;
    for (const build::Extra& extra : build_.money.extras) {
      if (extra.date <= day.payday && (t == 0 || extra.date > listed[t - 1]))
        day.cash_in += extra.amount.minor();
      if (extra.date > day.payday && extra.date < next) between[extra.date] += extra.amount.minor();
    }
    std::int64_t running = 0, deepest = 0;
    for (const auto& [date, amount] : between) deepest = std::min(deepest, running += amount);
    day.floor -= deepest;
    days_.push_back(day);
  }
}

/// Day by day from the one by which goods are there; a stage whose exception says so has none.
void Rulebook::make_evenings(Day& day, Date next) const {
  const auto at = static_cast<int>(days_.size()) + 1;
  const auto none = [&](const build::BenchException& one) { return one.stage == at; };
  const bool away = std::any_of(build_.bench.exceptions.begin(), build_.bench.exceptions.end(), none);
  day.minutes = 0;
  for (Date date = day.bench; date < next && !away; date = date + 1) {
    const unsigned sunday_first =
        std::chrono::weekday(std::chrono::sys_days(budgets::calendar(date))).c_encoding();
    for (const build::Session& one : build_.bench.sessions) {
      if (build_.bench.no_sessions.count(date) > 0 ||
          (*one.weekday + 1) % 7 != static_cast<int>(sunday_first))
        continue;
      day.evenings[date] = one.minutes;
      day.minutes += one.minutes;
    }
  }
  day.bench = day.evenings.empty() ? next - 1 : day.evenings.begin()->first;
  day.last = day.evenings.empty() ? day.bench : day.evenings.rbegin()->first;
}

/// Up to each day within the stage its evenings hold what is due by then, with what goes before or with it.
bool Rulebook::keeps_days(const std::vector<int>& stage_of, int stage) const {
  const Day& here = days_[static_cast<std::size_t>(stage)];
  const auto is_here = [&](std::size_t j) { return stage_of[j] == stage; };
  for (Date date = here.bench; date < here.last; date = date + 1) {
    std::set<std::size_t> due;
    for (std::size_t j = 0; j < stage_of.size(); ++j) {
      const auto& by = build_.jobs[j].by;
      if (is_here(j) && by && *by >= here.bench && *by <= date) due.insert(j);
    }
    for (std::size_t before = 0; before != due.size();) {
      before = due.size();
      for (std::size_t j = 0; j < stage_of.size(); ++j) {
        for (const std::size_t one : std::set<std::size_t>(due)) {
          const auto names = [&](const std::vector<build::Id>& ids, std::size_t other) {
            return std::find(ids.begin(), ids.end(), build_.jobs[other].id) != ids.end();
          };
          const build::Job &a = build_.jobs[one], &b = build_.jobs[j];
          if (names(a.after, j) || names(a.together_with, j) || names(b.together_with, one)) due.insert(j);
        }
      }
    }
    std::int64_t needed = 0, room = 0;
    std::set<int> opened;
    for (const std::size_t j : due) {
      if (!is_here(j)) continue;
      needed += build_.jobs[j].minutes;
      for (const int r : all_open(build_.jobs[j])) opened.insert(r);
    }
    for (const int r : opened) {
      const build::Removal& removal = build_.removals[static_cast<std::size_t>(r)];
      needed += removal.minutes_off + removal.minutes_on;
    }
    for (const auto& [evening, minutes] : here.evenings) room += evening <= date ? minutes : 0;
    if (needed > room) return false;
  }
  return true;
}

/// The wrenches that cover the torque and can be had; where some are owned only the first of them by id.
std::vector<int> Rulebook::wrenches_for(const build::Torque& torque) const {
  std::vector<int> all;
  int own = -1;
  for (std::size_t a = 0; a < build_.articles.size(); ++a) {
    const build::Article& wrench = build_.articles[a];
    if (!wrench.range_to) continue;
    const int need = std::stoi(torque.value), high = std::stoi(*wrench.range_to);
    const bool covers =
        need <= high && (wrench.range_from ? need >= std::stoi(*wrench.range_from) : 5 * need >= high);
    if (!covers) continue;
    const auto is_it = [&](const build::OnHand& lot) { return lot.article == wrench.id; };
    const bool owned = std::any_of(build_.on_hand.begin(), build_.on_hand.end(), is_it);
    if (owned && (own < 0 || wrench.id < build_.articles[static_cast<std::size_t>(own)].id))
      own = static_cast<int>(a);
    if (owned || wrench.hire || !wrench.offers.empty() || !wrench.borrow.empty())
      all.push_back(static_cast<int>(a));
  }
  return own < 0 ? all : std::vector<int>{own};
}

std::vector<int> Rulebook::index_of_all(const std::vector<build::Id>& ids) const {
  std::vector<int> found;
  for (const build::Id& id : ids) found.push_back(index_of(build_.articles, id));
  return found;
}

void Rulebook::make_needs() {
  const auto need_of = [&](const std::vector<build::Use>& uses, const auto& owner) {
    PlainNeed need;
    for (const build::Use& use : uses) need.goods[index_of(build_.articles, use.article)] += use.amount;
    std::set<int> tools;
    for (const build::Id& tool : owner.tools) tools.insert(index_of(build_.articles, tool));
    for (const build::Torque& torque : owner.torques) {
      const std::vector<int> wrenches = wrenches_for(torque);
      const auto listed = [&](int wrench) { return has(index_of_all(owner.tools), wrench); };
      if (std::any_of(wrenches.begin(), wrenches.end(), listed)) continue;
      if (wrenches.size() == 1) tools.insert(wrenches[0]);
      if (wrenches.size() > 1) need.any.push_back(wrenches);
    }
    need.tools.assign(tools.begin(), tools.end());
    return need;
  };
  for (const build::Job& job : build_.jobs) job_needs_.push_back(need_of(job.uses, job));
  for (const build::Removal& removal : build_.removals) {
    removal_needs_.push_back(need_of(removal.one_use, removal));
  }
}

void Rulebook::make_worth(const build::Job& job) {
  std::vector<std::int64_t>& worth = worth_.emplace_back();
  for (const Day& day : days_) {
    std::int64_t sum = 0;
    for (Date d = day.last; d < end_; d = d + 1) {
      sum += want_before(job, "", d);
    }
    worth.push_back(sum * 60);
  }
}

/// Can two of the jobs that renew it be done?
bool Rulebook::shared(const build::Fitted& part) const {
  for (const build::Id& one : part.replaced_by) {
    for (const build::Id& other : part.replaced_by) {
      const std::string& group = build_.jobs[static_cast<std::size_t>(job(one))].one_of;
      const bool either = !group.empty() && group == build_.jobs[static_cast<std::size_t>(job(other))].one_of;
      if (one != other && !either) return true;
    }
  }
  return false;
}

/// The least id of the parts that the same jobs renew.
build::Id Rulebook::least_of(const build::Fitted& part) const {
  const auto renewing = [](const build::Fitted& one) {
    return std::set<build::Id>(one.replaced_by.begin(), one.replaced_by.end());
  };
  build::Id least = part.id;
  for (const build::Fitted& other : build_.fitted) {
    if (other.since && renewing(other) == renewing(part)) least = std::min(least, other.id);
  }
  return least;
}

/// How much the job is wanted on a day without the shared parts that stand at `id` or later; "": without any.
int Rulebook::want_before(const build::Job& job, const build::Id& id, Date day) const {
  int want = job.want.value_or(0);
  for (const build::Fitted& part : build_.fitted) {
    const auto& by = part.replaced_by;
    if (std::find(by.begin(), by.end(), job.id) == by.end()) continue;
    if (!shared(part) || (part.since && least_of(part) < id)) want = std::max(want, want_when_due(part, day));
  }
  return want;
}

/// What the shared parts that stand at `id` add, for the first of their jobs that is done.
std::int64_t Rulebook::worth_of_parts(const build::Id& id, const std::vector<int>& stage_of) const {
  int first = static_cast<int>(days_.size());
  std::int64_t most = 0;
  for (const build::Fitted& part : build_.fitted) {
    if (!part.since || !shared(part) || least_of(part) != id) continue;
    for (const build::Id& by : part.replaced_by) {
      const int at = stage_of[static_cast<std::size_t>(job(by))];
      if (at < 0 || at > first) continue;
      if (at < first) most = 0;
      first = at;
      std::int64_t sum = 0;
      const build::Job& one = build_.jobs[static_cast<std::size_t>(job(by))];
      for (Date d = days_[static_cast<std::size_t>(at)].last; d < end_; d = d + 1)
        sum += want_before(one, id + " ", d) - want_before(one, id, d);
      most = std::max(most, sum * 60);
    }
  }
  return most;
}

int Rulebook::job(const build::Id& id) const { return index_of(build_.jobs, id); }

std::vector<int> Rulebook::all_open(const build::Job& job) const {
  std::vector<int> open;
  std::vector<build::Id> left = job.removals;
  while (!left.empty()) {
    const int r = index_of(build_.removals, left.back());
    left.pop_back();
    if (has(open, r)) continue;
    open.push_back(r);
    const auto& needs = build_.removals[static_cast<std::size_t>(r)].needs;
    left.insert(left.end(), needs.begin(), needs.end());
  }
  return open;
}

bool Rulebook::chosen_well(const std::vector<int>& stage_of) const {
  std::map<std::string, int> chosen;
  for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
    const build::Job& job = build_.jobs[j];
    if (stage_of[j] < 0) {
      if (job.must) return false;
      continue;
    }
    const Date bench = days_[static_cast<std::size_t>(stage_of[j])].bench;
    if ((job.by && bench > *job.by) || (job.not_before && bench < *job.not_before)) return false;
    if (!job.one_of.empty() && ++chosen[job.one_of] > 1) return false;
  }
  return true;
}

bool Rulebook::in_order(const std::vector<int>& stage_of) const {
  for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
    for (const build::Id& other : build_.jobs[j].together_with) {
      if (stage_of[static_cast<std::size_t>(job(other))] != stage_of[j]) return false;
    }
    for (const build::Id& before : build_.jobs[j].after) {
      const int at = stage_of[static_cast<std::size_t>(job(before))];
      if (stage_of[j] >= 0 && (at < 0 || at > stage_of[j])) return false;
    }
  }
  return true;
}

bool Rulebook::gone(const std::vector<build::Id>& replaced_by, const std::vector<int>& stage_of,
                    int stage) const {
  return std::any_of(replaced_by.begin(), replaced_by.end(), [&](const build::Id& id) {
    const int at = stage_of[static_cast<std::size_t>(job(id))];
    return at >= 0 && at <= stage;
  });
}

/// Does `after`, directly or through others, have the one done before the other?
bool Rulebook::asked_before(const build::Id& one, const build::Id& other) const {
  const auto& after = build_.jobs[static_cast<std::size_t>(job(other))].after;
  return std::any_of(after.begin(), after.end(),
                     [&](const build::Id& id) { return id == one || asked_before(one, id); });
}

bool Rulebook::there(const build::Id& id, const std::vector<int>& stage_of, int stage) const {
  if (const int f = index_of(build_.fitted, id); f >= 0) {
    return !gone(build_.fitted[static_cast<std::size_t>(f)].replaced_by, stage_of, stage);
  }
  const auto j = static_cast<std::size_t>(job(id));
  if (stage_of[j] < 0 || stage_of[j] > stage) return false;
  std::vector<build::Id> takers = build_.jobs[j].replaced_by;
  std::erase_if(takers, [&](const build::Id& taker) {
    return stage_of[static_cast<std::size_t>(job(taker))] < stage_of[j] || asked_before(taker, id);
  });
  return !gone(takers, stage_of, stage);
}

bool Rulebook::fits(const std::vector<int>& stage_of, int stage) const {
  std::map<std::string, std::set<std::string>> said;
  const auto say = [&](const build::Mates& mates) {
    for (const auto& [key, value] : mates) said[key].insert(value);
  };
  for (const build::Fitted& fitted : build_.fitted) {
    if (there(fitted.id, stage_of, stage)) say(fitted.mates);
  }
  for (const build::Job& job : build_.jobs) {
    if (!there(job.id, stage_of, stage)) continue;
    say(job.mates);
    for (const build::Use& use : job.uses) {
      say(build_.articles[static_cast<std::size_t>(index_of(build_.articles, use.article))].mates);
    }
  }
  for (const auto& [key, values] : said) {
    if (values.size() > 1) return false;
  }
  return std::none_of(build_.clashes.begin(), build_.clashes.end(), [&](const build::Clash& clash) {
    return there(clash.a, stage_of, stage) && there(clash.b, stage_of, stage) &&
           !gone(clash.unless, stage_of, stage);
  });
}

std::vector<Rulebook::Done> Rulebook::done_in(const std::vector<int>& stage_of) const {
  std::vector<Done> all(days_.size());
  for (std::size_t t = 0; t < days_.size(); ++t) {
    std::set<int> opened, tools;
    std::set<std::vector<int>> any;
    const auto take = [&](const PlainNeed& need) {
      tools.insert(need.tools.begin(), need.tools.end());
      any.insert(need.any.begin(), need.any.end());
    };
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      if (stage_of[j] != static_cast<int>(t)) continue;
      all[t].minutes += build_.jobs[j].minutes;
      take(job_needs_[j]);
      for (const int r : all_open(build_.jobs[j])) opened.insert(r);
    }
    for (const int r : opened) {
      const build::Removal& removal = build_.removals[static_cast<std::size_t>(r)];
      all[t].removal_minutes += removal.minutes_off + removal.minutes_on;
      take(removal_needs_[static_cast<std::size_t>(r)]);
    }
    all[t].minutes += all[t].removal_minutes;
    all[t].opened.assign(opened.begin(), opened.end());
    all[t].tools.assign(tools.begin(), tools.end());
    for (const std::vector<int>& set : any) {
      if (std::none_of(set.begin(), set.end(), [&](int k) { return tools.count(k) > 0; }))
        all[t].any.push_back(set);
    }
  }
  return all;
}

std::optional<Figures> Rulebook::unpaid(const std::vector<int>& stage_of) const {
  if (!chosen_well(stage_of) || !in_order(stage_of)) return std::nullopt;
  const std::vector<Done> done = done_in(stage_of);
  Figures figures;
  for (std::size_t t = 0; t < days_.size(); ++t) {
    const int stage = static_cast<int>(t);
    if (done[t].minutes > days_[t].minutes || !keeps_days(stage_of, stage) || !fits(stage_of, stage))
      return std::nullopt;
    figures.minutes += done[t].minutes;
    figures.value -= build_.bench.bother * done[t].removal_minutes;
  }
  for (std::size_t j = 0; j < stage_of.size(); ++j) {
    if (stage_of[j] >= 0) figures.value += worth_[j][static_cast<std::size_t>(stage_of[j])];
  }
  std::set<build::Id> parts;
  for (const build::Fitted& part : build_.fitted) {
    if (part.since && shared(part)) parts.insert(least_of(part));
  }
  for (const build::Id& id : parts) figures.value += worth_of_parts(id, stage_of);
  return figures;
}

std::optional<Figures> Rulebook::judge(const Decisions& decisions) const {
  std::optional<Figures> figures = unpaid(decisions.stage_of);
  if (!figures) return std::nullopt;
  const auto spent = PlainShop(*this).spend(decisions, done_in(decisions.stage_of));
  if (!spent) return std::nullopt;
  figures->spent = *spent;
  return figures;
}

void Rulebook::try_tools(std::size_t article, Decisions& decisions, const Figures& unpaid,
                         std::optional<Figures>& best) const {
  if (article == build_.articles.size()) {
    const auto spent = PlainShop(*this).spend(decisions, done_in(decisions.stage_of));
    Figures figures = unpaid;
    if (spent) figures.spent = *spent;
    if (spent && (!best || figures.better_than(*best))) best = figures;
    return;
  }
  try_tools(article + 1, decisions, unpaid, best);
  const build::Article& tool = build_.articles[article];
  if (tool.kind != build::ArticleKind::tool || tool.offers.empty()) return;
  const std::vector<Done> done = done_in(decisions.stage_of);
  for (std::size_t t = 0; t < days_.size(); ++t) {
    const auto has_it = [&](const std::vector<int>& set) { return has(set, static_cast<int>(article)); };
    if (!has_it(done[t].tools) && std::none_of(done[t].any.begin(), done[t].any.end(), has_it)) continue;
    decisions.bought[article] = static_cast<int>(t);
    try_tools(article + 1, decisions, unpaid, best);
  }
  decisions.bought[article] = -1;
}

std::optional<Figures> Rulebook::best() const {
  std::optional<Figures> best;
  Decisions decisions{std::vector<int>(build_.jobs.size(), -1), std::vector<int>(build_.articles.size(), -1)};
  for (bool more = true; more;) {
    const auto figures = unpaid(decisions.stage_of);
    if (figures && (!best || figures->value >= best->value)) try_tools(0, decisions, *figures, best);
    more = false;
    for (int& stage : decisions.stage_of) {
      more = ++stage < build_.money.stages;
      if (more) break;
      stage = -1;
    }
  }
  return best;
}

}  // namespace fettlefund::test
