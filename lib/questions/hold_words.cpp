#include "lib/questions/hold_words.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "budgets/problem/tools.hpp"
#include "budgets/values/lists.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Hold;
using budgets::Least;

class HoldWords {
 public:
  HoldWords(const View& view, int job, const budgets::AtStage& at, const WhyStage& told)
      : view_(view), data_(view.problem.data()), job_(job), at_(at), told_(told) {
    with_it_ = budgets::jobs_with(data_, job);
  }

  /// Says what there is to say about it.
  void about(Hold hold) {
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

  std::vector<std::string> take() { return std::move(sentences_); }

 private:
  void say(const std::string& sentence) { sentences_.push_back(sentence); }
  std::string minor(std::int64_t amount) const { return money_text(view_.build, Money::of_minor(amount)); }
  std::string name(int j) const { return view_.job(j).name; }
  const budgets::Job& data(int j) const { return data_.jobs[static_cast<std::size_t>(j)]; }
  const budgets::Stage& stage() const { return view_.stage(at_.stage); }

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
    say("Stage " + std::to_string(told_.number) + " has " + hours_text(stage().minutes) +
        " on the bench; it takes " + hours_text(least) +
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

  const View& view_;
  const budgets::ProblemData& data_;
  int job_;
  const budgets::AtStage& at_;
  const WhyStage& told_;
  std::vector<int> with_it_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> hold_sentences(const View& view, int job, const budgets::AtStage& at,
                                        const WhyStage& told) {
  HoldWords words(view, job, at, told);
  for (const Hold hold : at.holds) words.about(hold);
  return words.take();
}

}  // namespace fettlefund::planning
