#include "lib/questions/why_words.hpp"

#include <utility>

#include "lib/outcome/words.hpp"
#include "lib/questions/hold_words.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Possible;

class StageWords {
 public:
  StageWords(const View& view, int job, const budgets::AtStage& at, const WhyStage& told)
      : view_(view), job_(job), at_(at), told_(told) {}

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
    for (std::string& sentence : hold_sentences(view_, job_, at_, told_))
      sentences_.push_back(std::move(sentence));
    if (told_.or_by.empty()) return;
    say("It would also be possible if this gave way: " + list_or(told_.or_by) + ".");
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
  int job_;
  const budgets::AtStage& at_;
  const WhyStage& told_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> why_sentences(const View& view, int job, const budgets::AtStage& at,
                                       const WhyStage& told) {
  return StageWords(view, job, at, told).tell();
}

}  // namespace fettlefund::planning
