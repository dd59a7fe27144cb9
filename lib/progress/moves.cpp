#include "lib/progress/moves.hpp"

#include <algorithm>

#include "budgets/costing/costing.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/trial.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stock.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Rule;

class Mover {
 public:
  explicit Mover(const View& view) : view_(view), coster_(view.problem), jobs_(view.build.jobs) {}

  Move tell(const build::Agreed& agreed, int j) {
    Move move{agreed.job, view_.job(j).name, agreed.bench, -1, {}, {}};
    const int now = view_.stage_of(j), back = stage_on(view_.staging, agreed.bench);
    if (now >= 0) {
      move.stage = view_.place_of(now);
      move.bench = view_.stage(now).bench;
    }
    if (back >= 0) {
      if (now >= 0) put_back(move, j, back, "");
      return move;
    }
    const bool over = view_.build.money.from && agreed.bench < *view_.build.money.from;
    move.reasons.push_back(over ? "that day has passed and it is not recorded as fitted"
                                : "the build has no bench date on that day any more");
    if (now > 0) put_back(move, j, 0, "not in stage " + number(0) + " because ");
    return move;
  }

 private:
  std::string number(int stage) const { return std::to_string(view_.place_of(stage) + 1); }
  std::string money(Money amount) const { return money_text(view_.build, amount); }

  /// Tries the job in `stage` with all else as it is, and tells what comes of it.
  void put_back(Move& move, int j, int stage, const std::string& before) {
    const std::vector<int> unit = unit_of(view_.problem.data(), j);
    std::string reason = not_yet(unit, stage);
    if (reason.empty()) {
      const auto result = coster_.cost(schedule_with(view_, unit, stage));
      const auto* plan = std::get_if<budgets::Plan>(&result);
      reason = plan ? gain(*plan, unit) : broken(std::get<1>(result), unit, stage);
    }
    move.reasons.push_back(before + reason);
    if (const std::string open = open_anyway(j); !open.empty()) move.reasons.push_back(open);
  }

  /// A window or an order that forbids the stage.
  std::string not_yet(const std::vector<int>& unit, int stage) const {
    for (const int j : unit) {
      const budgets::Job& job = view_.problem.data().jobs[static_cast<std::size_t>(j)];
      if (stage < job.earliest)
        return "it may not be done before " + budgets::write_date(*view_.job(j).not_before);
      if (stage > view_.problem.latest(j))
        return "it has to be done by " + budgets::write_date(*view_.job(j).by);
      for (const int before : job.after) {
        const int at = view_.stage_of(before);
        if (at > stage)
          return "it comes after " + view_.job(before).name + ", which is in stage " + number(at);
      }
    }
    return {};
  }

  std::string gain(const budgets::Plan& back, const std::vector<int>& unit) const {
    const std::int64_t gained = (worth(view_.plan) - worth(back)) / worth_per_want_day;
    if (gained > 0) {
      return "moving it gains " + (gained < 4 ? "less than 0.1" : want_months_text(gained)) + " want-months" +
             (unit.size() > 1 ? ", with what is done together with it" : "");
    }
    if (view_.plan.spent < back.spent) {
      return "it is worth the same and costs " + money(back.spent - view_.plan.spent) + " less";
    }
    return "the search was stopped before it found a better place";
  }

  /// A plan's worth without what keeping agreed jobs in place counts.
  std::int64_t worth(const budgets::Plan& plan) const {
    std::int64_t sum = plan.value;
    for (const build::Agreed& agreed : view_.build.agreement.jobs) {
      const int job = jobs_.find(agreed.job), stage = stage_on(view_.staging, agreed.bench);
      const bool kept =
          job >= 0 && stage >= 0 && plan.schedule.stage_of[static_cast<std::size_t>(job)] == stage;
      if (kept) sum -= keep_worth(view_.build.agreement);
    }
    return sum;
  }

  std::string broken(const std::vector<budgets::Violation>& violations, const std::vector<int>& unit,
                     int stage) const {
    const budgets::Violation* cash = nullptr;
    bool hours = false, fit = false;
    for (const budgets::Violation& one : violations) {
      if (one.rule == Rule::goods || one.rule == Rule::tool) return goods(one, stage);
      if (one.rule == Rule::order) return order(one, unit);
      if (one.rule == Rule::cash && (!cash || one.amount > cash->amount)) cash = &one;
      hours |= one.rule == Rule::hours;
      fit |= one.rule == Rule::mate || one.rule == Rule::clash;
    }
    if (fit) return "it would not fit together with what is on the machine by then";
    std::string text;
    if (cash) {
      text = "with the rest as it is now, money would be short by " + money(cash->amount) + " in stage " +
             number(cash->stage);
    }
    if (hours) {
      text += std::string(text.empty() ? "with the rest as it is now, " : ", and ") + "stage " +
              number(stage) + " would need more than the " + hours_text(view_.stage(stage).minutes) +
              " of bench time it has";
    }
    return text.empty() ? "the other jobs hold it back" : text;
  }

  std::string order(const budgets::Violation& violation, const std::vector<int>& unit) const {
    const bool own = std::find(unit.begin(), unit.end(), violation.index) != unit.end();
    if (own || violation.index < 0) return "what has to come before it is planned later";
    return view_.job(violation.index).name + " comes after it and is planned in stage " +
           number(view_.stage_of(violation.index));
  }

  std::string goods(const budgets::Violation& violation, int stage) const {
    if (violation.index < 0) return "something it needs cannot arrive in time";
    const build::Article& article =
        violation.rule == Rule::tool ? view_.tool(violation.index) : view_.article(violation.index);
    for (const build::OnHand& lot : view_.build.on_hand) {
      if (lot.article != article.id || !lot.arrives || *lot.arrives <= view_.stage(stage).bench) continue;
      return article.name + " is on its way until " + budgets::write_date(*lot.arrives);
    }
    return article.name + " could not arrive by " + budgets::write_date(view_.stage(stage).bench);
  }

  /// Removals of the job that other jobs of its stage open as well.
  std::string open_anyway(int j) const {
    std::vector<std::string> names;
    for (const int r : view_.problem.opened_by(j)) {
      for (const int other : view_.cost(view_.stage_of(j)).jobs) {
        const std::vector<int>& opened = view_.problem.opened_by(other);
        if (other == j || std::find(opened.begin(), opened.end(), r) == opened.end()) continue;
        names.push_back(view_.removal(r).name);
        break;
      }
    }
    if (names.empty()) return {};
    return list_text(names) + (names.size() == 1 ? " is" : " are") + " off in stage " +
           number(view_.stage_of(j)) + " anyway";
  }

  const View& view_;
  budgets::Coster coster_;
  IdTable jobs_;
};

}  // namespace

std::vector<Move> moves_of(const View& view, const std::vector<LeftOut>& left_out) {
  std::vector<Move> moves;
  const IdTable jobs(view.build.jobs);
  Mover mover(view);
  for (const build::Agreed& agreed : view.build.agreement.jobs) {
    const int j = jobs.find(agreed.job);
    if (j < 0) continue;
    const int now = view.stage_of(j);
    if (now >= 0 && now == stage_on(view.staging, agreed.bench)) continue;
    Move& move = moves.emplace_back(mover.tell(agreed, j));
    for (const LeftOut& left : left_out) {
      if (now < 0 && left.job == agreed.job) move.reasons.push_back(left.reason);
    }
  }
  return moves;
}

}  // namespace fettlefund::planning
