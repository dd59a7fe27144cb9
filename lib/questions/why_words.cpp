#include "lib/questions/why_words.hpp"

#include <algorithm>

#include "budgets/problem/tools.hpp"
#include "budgets/values/lists.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Hold;
using budgets::Least;
using budgets::Possible;

class StageWords {
 public:
  StageWords(const View& view, int job, const budgets::AtStage& at, const WhyStage& told)
      : view_(view), data_(view.problem.data()), job_(job), at_(at), told_(told) {
    with_it_ = budgets::jobs_with(data_, job);
  }

  std::vector<std::string> tell() {
    if (at_.possible == Possible::yes) say_possible();
    if (at_.possible == Possible::no) say_stopped();
    if (at_.possible == Possible::unknown) say(here() + ": the effort ran out before this was known.");
    say_cash();
    if (!there_already(at_.cash)) say_minutes();
    return std::move(sentences_);
  }

 private:
  void say(const std::string& sentence) { sentences_.push_back(sentence); }
  std::string money(Money amount) const { return money_text(view_.build, amount); }
  std::string minor(std::int64_t amount) const { return money(Money::of_minor(amount)); }
  std::string here() const { return "Stage " + std::to_string(told_.number); }
  std::string name(int j) const { return view_.job(j).name; }
  const budgets::Job& data(int j) const { return data_.jobs[static_cast<std::size_t>(j)]; }
  const budgets::Stage& stage() const { return view_.stage(at_.stage); }
  bool stopped_by(Hold hold) const {
    return std::find(at_.holds.begin(), at_.holds.end(), hold) != at_.holds.end();
  }

  static std::string months(std::int64_t days) {
    return (days < 4 ? "less than 0.1" : want_months_text(days)) + " want-months";
  }

  void say_possible() {
    const std::string can = here() + " can have it";
    if (told_.loss < 0) {
      say(can + ", and the plan found with it there is worth " + months(-told_.loss) +
          " more: this plan is not the best. Plan again with more effort.");
    } else if (told_.loss == 0 && told_.least_loss == 0 && at_.plan->value == view_.plan.value) {
      say(can + " in a plan worth as much" + spending() + ".");
    } else if (told_.loss == told_.least_loss) {
      say(can + ", but the best plan with it there is worth " + months(told_.loss) + " less" + spending() +
          ".");
    } else {
      say(can + " for at most " + want_months_at_most_text(told_.loss) +
          " want-months less than this plan: the best plan found with it " + "there is worth so much less" +
          spending() + (told_.least_loss > 0 ? "; any loses at least " + months(told_.least_loss) : "") +
          ".");
    }
    say_shifts();
  }

  std::string spending() const {
    if (told_.dearer > Money()) return " and spends " + money(told_.dearer) + " more";
    if (told_.dearer < Money()) return " and spends " + money(Money() - told_.dearer) + " less";
    return {};
  }

  static std::string place(int stage) { return stage == 0 ? "left out" : "stage " + std::to_string(stage); }

  void say_shifts() {
    constexpr std::size_t most = 8;
    std::vector<std::string> items;
    for (const WhyShift& shift : told_.shifts) {
      if (items.size() == most) break;
      items.push_back(shift.name + " (" + place(shift.from) + " to " + place(shift.to) + ")");
    }
    if (items.empty()) return;
    if (told_.shifts.size() > most) items.push_back(std::to_string(told_.shifts.size() - most) + " more");
    say("There it would move " + list_text(items) + ".");
  }

  static std::string list_or(const std::vector<std::string>& items) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (i > 0) text += i + 1 == items.size() ? " or " : ", ";
      text += items[i];
    }
    return text;
  }

  void say_stopped() {
    if (at_.holds.empty()) return say(here() + " cannot have it; which rule stops it was not found.");
    std::vector<std::string> words = told_.stopped_by;
    const std::string what = here() + " cannot have it, because of " + list_text(words) +
                             (words.size() == 1 ? "" : " together; lifting one alone would not do");
    say(what + (told_.stopped_by_proven ? "." : ", as far as the search could tell."));
    for (const Hold hold : at_.holds) say_about(hold);
    if (told_.or_by.empty()) return;
    say("It would also be possible if this gave way: " + list_or(told_.or_by) + ".");
  }

  void say_about(Hold hold) {
    switch (hold) {
      case Hold::dates:
        return say_dates();
      case Hold::cash:
        return say_shortage();
      case Hold::hours:
        return say_hours();
      case Hold::order:
        return say_order();
      case Hold::delivery:
        return say_delivery();
      case Hold::mates:
      case Hold::clashes:
        return say_fit();
      case Hold::tools:
        return say_tools();
      case Hold::choices:
        return say_choice();
      case Hold::musts:
        return say_must();
    }
  }

  void say_dates() {
    const std::size_t before = sentences_.size();
    say_own_dates();
    if (sentences_.size() == before) say_dated_musts();
  }

  /// The days of other musts are in the way: they take what it needs.
  void say_dated_musts() {
    std::vector<std::string> names;
    for (int j = 0; j < view_.problem.job_count(); ++j) {
      if (!data(j).must || budgets::contains(with_it_, j) || !view_.job(j).by ||
          view_.problem.latest(j) > at_.stage)
        continue;
      names.push_back(name(j) + " (by " + budgets::write_date(*view_.job(j).by) + ")");
    }
    if (names.empty()) return;
    say(list_text(names) + (names.size() == 1 ? " has" : " have") + " to be done by then and " +
        (names.size() == 1 ? "takes" : "take") + " what it would need.");
  }

  void say_own_dates() {
    for (const int j : with_it_) {
      const auto& own = view_.job(j);
      const std::string who = j == job_ ? "It" : own.name + ", which belongs to it,";
      if (own.not_before && *own.not_before > stage().bench) {
        say(who + " may not be done before " + budgets::write_date(*own.not_before) + ".");
      }
      if (own.by && *own.by < stage().bench) {
        say(who + " has to be done by " + budgets::write_date(*own.by) + ".");
      }
    }
  }

  void say_shortage() {
    const Least& least = at_.cash.allows;
    if (!least.at_most) return;
    const std::string amount = (least.exact() ? "" : "at most ") + minor(*least.at_most);
    std::string when;
    if (at_.short_stage >= 0) {
      when = " on the payday of " + budgets::write_date(view_.stage(at_.short_stage).payday) + " (stage " +
             std::to_string(view_.place_of(at_.short_stage) + 1) + ")";
    }
    say("Money would be short by " + amount + when + ", whatever else is left out.");
  }

  void say_hours() {
    const std::int64_t least = least_minutes(view_.problem, with_it_);
    const Least& allows = at_.minutes.allows;
    say(here() + " has " + hours_text(stage().minutes) + " on the bench; it takes " + hours_text(least) +
        " with what has to come off or be done with it or before it" +
        (least > stage().minutes ? "." : ", and what has to be done by then takes the rest."));
    say_sessions();
    if (allows.at_most && allows.exact())
      say("With " + hours_text(*allows.at_most) + " more there it could be.");
  }

  /// A day within the stage, and what the sessions up to it have.
  void say_sessions() {
    for (const int j : with_it_) {
      const auto& own = view_.job(j);
      if (!own.by || *own.by < stage().bench || *own.by >= stage().last_day()) continue;
      std::int64_t minutes = 0;
      for (const budgets::Mark& mark : stage().marks) minutes = mark.day <= *own.by ? mark.minutes : minutes;
      say((j == job_ ? "It" : own.name + ", which belongs to it,") + " has to be done by " +
          budgets::write_date(*own.by) + ", and the sessions up to then have " + hours_text(minutes) + ".");
    }
  }

  /// What it comes after and cannot be there in time.
  void say_order() {
    std::vector<std::string> before;
    for (const int j : with_it_) {
      if (j != job_) before.push_back(name(j));
    }
    if (!before.empty())
      say("It comes after or goes with " + list_text(before) + ", and not all of these can be done by then.");
    if (const std::string choice = choice_in_the_way(); !choice.empty()) say(choice);
  }

  std::optional<Date> earliest_arrival(const std::vector<budgets::Offer>& offers) const {
    std::optional<Date> earliest;
    for (const budgets::Offer& offer : offers) {
      for (const budgets::Stage& one : data_.stages) {
        const bool stands =
            (!offer.from || *offer.from <= one.payday) && (!offer.until || one.payday <= *offer.until);
        const Date arrives = one.payday + offer.lead_days;
        if (stands && (!earliest || arrives < *earliest)) earliest = arrives;
      }
    }
    return earliest;
  }

  bool late(const std::vector<budgets::Offer>& offers) const {
    return std::all_of(offers.begin(), offers.end(), [&](const budgets::Offer& offer) {
      return budgets::order_stage(data_, offer, at_.stage) < 0;
    });
  }

  void say_arrival(const std::string& what, const std::vector<budgets::Offer>& offers) {
    if (!late(offers)) return;
    const std::optional<Date> arrives = earliest_arrival(offers);
    if (!arrives) return say(what + " cannot be ordered on any payday of the plan.");
    say(what + " arrives on " + budgets::write_date(*arrives) + " at the earliest; the bench date is " +
        budgets::write_date(stage().bench) + ".");
  }

  void say_delivery() {
    std::vector<char> articles(data_.articles.size(), 0), tools(data_.tools.size(), 0);
    const auto add = [&](const std::vector<budgets::Need>& needs, const std::vector<int>& used) {
      for (const budgets::Need& need : needs) articles[static_cast<std::size_t>(need.article)] = 1;
      for (const int tool : used) tools[static_cast<std::size_t>(tool)] = 1;
    };
    for (const int j : with_it_) {
      add(data(j).needs, data(j).tools);
      for (const int r : view_.problem.opened_by(j)) {
        const budgets::Removal& removal = data_.removals[static_cast<std::size_t>(r)];
        add(removal.one_use, removal.tools);
      }
    }
    for (std::size_t a = 0; a < articles.size(); ++a) {
      if (articles[a] && data_.articles[a].on_hand.empty()) {
        say_arrival(view_.article(static_cast<int>(a)).name, data_.articles[a].offers);
      }
    }
    for (std::size_t k = 0; k < tools.size(); ++k) {
      const budgets::Tool& tool = data_.tools[k];
      const bool free = !tool.free.empty() && tool.free[static_cast<std::size_t>(at_.stage)];
      if (tools[k] && !free && !tool.hire) say_arrival(view_.tool(static_cast<int>(k)).name, tool.offers);
    }
  }

  void say_fit() {
    if (!at_.without) return;
    const Fit fit(view_.build);
    for (int t = at_.stage; t < view_.problem.stage_count(); ++t) {
      const auto misfit = fit.first_misfit(*at_.without, t);
      if (!misfit) continue;
      const std::string why = fit.why(*misfit);
      return say("With it, " + fit.words(*misfit) + " would be on the machine together" +
                 (why.empty() ? "" : ": " + why) + ".");
    }
  }

  /// Of tools of which any will do, where none is there.
  void say_any(const std::vector<int>& any, std::vector<std::string>& names) const {
    std::string text;
    for (const int k : any) {
      if (budgets::is_free(data_.tools[static_cast<std::size_t>(k)], at_.stage)) return;
      text += (text.empty() ? "" : " or ") + view_.tool(k).name;
    }
    names.push_back(text);
  }

  void say_tools() {
    std::vector<std::string> names;
    for (const int j : with_it_) {
      for (const int k : data(j).tools) {
        const budgets::Tool& tool = data_.tools[static_cast<std::size_t>(k)];
        const bool free = !tool.free.empty() && tool.free[static_cast<std::size_t>(at_.stage)];
        if (!free) names.push_back(view_.tool(k).name);
      }
      for (const std::vector<int>& any : data(j).any_tools) say_any(any, names);
    }
    if (!names.empty())
      say("It needs " + list_text(names) + ", which would have to be bought, hired or borrowed.");
  }

  void say_choice() {
    const std::string choice = choice_in_the_way();
    say(choice.empty() ? "A choice of which at most one is done stands in the way." : choice);
  }

  /// Which choice, and what else of it has to be done; empty: none of those that the musts ask for.
  std::string choice_in_the_way() const {
    std::vector<int> musts;
    for (int j = 0; j < view_.problem.job_count(); ++j) {
      if (data(j).must && j != job_) musts.push_back(j);
    }
    const std::vector<int> asked = with_what_they_ask(data_, musts);
    for (const std::vector<int>& group : data_.one_of) {
      for (const int own : group) {
        if (!budgets::contains(with_it_, own)) continue;
        for (const int other : group) {
          if (other != own && budgets::contains(asked, other)) return choice_text(own, other);
        }
      }
    }
    return {};
  }

  std::string choice_text(int own, int other) const {
    return name(own) + " and " + name(other) + " are of one choice ('" + view_.job(own).one_of + "'), and " +
           name(other) + (data(other).must ? " has to be done." : " is needed by what has to be done.");
  }

  void say_must() {
    if (at_.in_the_way < 0) return say("Of the other jobs that have to be done none alone is in the way.");
    say(name(at_.in_the_way) + " has to be done; if it had not, this could be.");
  }

  std::string with_cash(std::int64_t amount) const { return minor(amount) + " more at the start"; }
  std::string with_hours(std::int64_t minutes) const {
    return hours_text(minutes) + " more on the bench in stage " + std::to_string(told_.number);
  }

  void say_cash() {
    say_least_extra(
        at_.cash, [&](std::int64_t amount) { return with_cash(amount); }, "No amount of money");
  }
  void say_minutes() {
    say_least_extra(
        at_.minutes, [&](std::int64_t amount) { return with_hours(amount); },
        "No bench time in stage " + std::to_string(told_.number) + " by itself");
  }

  static bool there_already(const budgets::LeastExtra& extra) {
    return extra.as_good.at_most && *extra.as_good.at_most == 0 &&
           (!extra.best.exact() || *extra.best.at_most == 0);
  }

  std::string there() const {
    return at_.stage == 0 ? "in stage " + std::to_string(told_.number)
                          : "in stage " + std::to_string(told_.number) + " or earlier";
  }

  template <class Amount>
  void say_least_extra(const budgets::LeastExtra& extra, const Amount& amount, const std::string& none) {
    if (extra.best.never && extra.as_good.at_most) {
      const std::int64_t enough = *extra.as_good.at_most;
      return say((enough == 0
                      ? "A plan worth no less has it " + there() + " already"
                      : "With " + amount(enough) + " a plan worth no less than this one has it " + there()) +
                 ", but n" + none.substr(1) + " makes that a best plan.");
    }
    if (extra.best.never || extra.as_good.never) {
      const bool could = extra.allows.at_most && *extra.allows.at_most > 0;
      const std::string but =
          could ? "With " + amount(*extra.allows.at_most) + " it could be there, but n" : "N";
      return say(but + none.substr(1) + (could ? " makes that a best plan." : " moves it there."));
    }
    if (extra.best.exact()) {
      if (*extra.best.at_most == 0) return say("A plan just as good has it " + there() + " already.");
      return say("With " + amount(*extra.best.at_most) + " a best plan has it " + there() +
                 "; with any less, none has.");
    }
    if (!extra.as_good.at_most) {
      if (extra.as_good.at_least > 0)
        say("It takes at least " + amount(extra.as_good.at_least) + " to have it " + there() + ".");
      return;
    }
    const std::int64_t most = *extra.as_good.at_most, least = extra.as_good.at_least;
    if (most == 0) return say("A plan worth no less has it " + there() + " already.");
    say("With " + amount(most) + " a plan worth no less than this one has it " + there() +
        (least == most ? "; with any less, none has."
         : least > 0   ? "; less may do, but not less than " + amount(least) + "."
                       : "; less may do."));
  }

  const View& view_;
  const budgets::ProblemData& data_;
  int job_;
  const budgets::AtStage& at_;
  const WhyStage& told_;
  std::vector<int> with_it_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> why_sentences(const View& view, int job, const budgets::AtStage& at,
                                       const WhyStage& told) {
  return StageWords(view, job, at, told).tell();
}

}  // namespace fettlefund::planning
