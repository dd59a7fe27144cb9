#include "lib/outcome/notes.hpp"

#include <algorithm>
#include <variant>

#include "lib/drive/links.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/want.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

using Notes = std::vector<std::string>;

void money_notes(Notes& notes, const build::Build& build, const Staging& staging) {
  notes.push_back(
      "On each payday the orders of its stage are paid; what is not spent carries over. At least " +
      money_text(build, build.money.keep_back) + " is always kept back.");
  bool bills = false;
  for (std::size_t t = 0; t < staging.calendar.paydays.size(); ++t) {
    bills |= bills_before_next(build.money, staging.calendar, static_cast<int>(t)) > budgets::Money();
  }
  if (bills) {
    notes.push_back(
        "Bills that fall due before the next payday are set aside on the payday before them, so the least to "
        "keep is higher there.");
  }
  if (build.money.allowance_bp > 0) {
    const std::string percent = amount_text(build.money.allowance_bp * 10);
    notes.push_back("Each payday's spending carries " + percent +
                    " percent for the unforeseen, rounded up to the smallest coin.");
  }
}

void price_notes(Notes& notes, const build::Build& build) {
  const bool ranges = std::any_of(build.articles.begin(), build.articles.end(), [](const auto& article) {
    return std::any_of(article.offers.begin(), article.offers.end(), [](const build::Offer& offer) {
      return offer.price.low != offer.price.likely || offer.price.high != offer.price.likely;
    });
  });
  if (ranges) notes.push_back("Where a price is given as a range, the plan pays the likely one.");
  const bool keeping = std::any_of(build.on_hand.begin(), build.on_hand.end(),
                                   [](const build::OnHand& lot) { return !lot.opened; });
  if (keeping) notes.push_back("Stock on hand without an opening date is taken as unopened.");
}

/// Listed days that name no payday after the last stage.
bool end_is_assumed(const build::MoneyPlan& money) {
  const auto* listed = std::get_if<budgets::ListedDays>(&money.rule);
  return listed && static_cast<int>(listed->days.size()) <= money.stages;
}

/// By when a stage's goods are there.
std::string goods_session(const build::Bench& bench) {
  if (bench.days_after_payday == 0) return "first session";
  return fmt::format("first session from {} days after its payday on", bench.days_after_payday);
}

void session_notes(Notes& notes, const build::Bench& bench) {
  notes.push_back("What a stage uses is in the house by its " + goods_session(bench) +
                  " and keeps up to its last; an opened pack counts as opened in the first.");
  if (bench.days_after_payday > 0)
    notes.push_back(
        "The hours of earlier sessions are not counted on: work whose goods are there already is laid out in "
        "them.");
  notes.push_back(
      "The hours of a job, and of taking off and putting back, are shared evenly among their steps to lay "
      "the "
      "work out by sessions.");
}

void want_notes(Notes& notes, const build::Build& build, const Staging& staging) {
  const std::string from = staging.has_sessions ? "the last session of its stage" : "its bench date";
  notes.push_back("A job's want counts for each day from " + from + " up to the day before " +
                  budgets::write_date(staging.calendar.end) + ", when the plan ends.");
  if (staging.has_sessions) session_notes(notes, build.bench);
  if (end_is_assumed(build.money)) {
    notes.push_back("The listed paydays stop with the last stage, so the plan is taken to end on " +
                    budgets::write_date(staging.calendar.end) +
                    ", as long after the last payday as that is after the one before (30 days where there is "
                    "only one).");
  }
  if (build.bench.bother > 0 && !build.removals.empty()) {
    notes.push_back("Each hour of taking off and putting back is counted as " +
                    std::to_string(build.bench.bother) + " want-days lost.");
  }
  const bool due = std::any_of(build.fitted.begin(), build.fitted.end(),
                               [](const build::Fitted& fitted) { return due_date(fitted).has_value(); });
  if (due) {
    notes.push_back(
        "Renewing a part is wanted 3 from the day its service life ends and 1 more for each tenth of that "
        "life "
        "begun since, at most 10; the job's own want counts where it is larger.");
  }
}

}  // namespace

std::vector<std::string> notes_of(const build::Build& build, const Staging& staging) {
  Notes notes;
  money_notes(notes, build, staging);
  price_notes(notes, build);
  want_notes(notes, build, staging);
  notes.push_back(
      "Offer and payday of every purchase are part of the plan: an order goes out on the latest payday whose "
      "delivery still arrives by " +
      (staging.has_sessions ? "the stage's " + goods_session(build.bench) : "the bench date") +
      ", or earlier where that shares a delivery.");
  if (std::string links = links_note(build); !links.empty()) notes.push_back(std::move(links));
  return notes;
}

}  // namespace fettlefund::planning
