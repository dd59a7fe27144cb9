#include <algorithm>

#include "lib/outcome/view.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

/// The order line that brings the article for the stage, or nothing: then stock or leftovers serve.
std::optional<Money> paid_for(const View& view, int stage, int article) {
  for (const budgets::Order& order : view.plan.orders) {
    for (const budgets::OrderLine& line : order.lines) {
      const bool same = line.for_stage == stage && line.article >= 0 &&
                        view.staging.article_of[static_cast<std::size_t>(line.article)] == article;
      if (same) return line.amount;
    }
  }
  return std::nullopt;
}

/// Whether both are one line on a list: the same article, bought or not.
bool same_thing(const Reminder& a, const Reminder& b) {
  return a.article == b.article && a.unit == b.unit && a.bought == b.bought;
}

/// One line for what several jobs of the stage need: the amounts add up, but one tool serves all.
void collect(std::vector<Reminder>& reminders, Reminder reminder) {
  const auto known = std::find_if(reminders.begin(), reminders.end(),
                                  [&](const Reminder& one) { return same_thing(one, reminder); });
  if (known == reminders.end()) {
    reminders.push_back(std::move(reminder));
    return;
  }
  known->amount = known->used_up ? known->amount + reminder.amount : std::max(known->amount, reminder.amount);
  known->also.push_back(std::move(reminder.needed_by));
}

void add(std::vector<Reminder>& reminders, const View& view, int stage,
         std::vector<goods::ForgottenNeed> needs) {
  for (goods::ForgottenNeed& need : needs) {
    need.reminder.key = fmt::format("{}@{}", need.reminder.key, view.place_of(stage) + 1);
    if (need.article >= 0) need.reminder.amount_paid_in_plan = paid_for(view, stage, need.article);
    collect(reminders, std::move(need.reminder));
  }
}

/// A job may have the id of a removal, and a tag of its own that the removal has, too.
void tell_apart_from_job(std::vector<goods::ForgottenNeed>& needs, const View& view,
                         const build::Id& removal) {
  if (find_id(view.build.jobs, removal) < 0) return;
  for (goods::ForgottenNeed& need : needs)
    need.reminder.key.insert(need.reminder.key.find('@') + 1, "removal:");
}

}  // namespace

std::vector<Reminder> reminders_of(const View& view, int stage) {
  std::vector<Reminder> reminders;
  for (const int r : view.cost(stage).opened) {
    std::vector<goods::ForgottenNeed> needs = goods::forgotten_of_removal(view.build, r);
    tell_apart_from_job(needs, view, view.removal(r).id);
    add(reminders, view, stage, std::move(needs));
  }
  for (const int j : view.cost(stage).jobs) {
    add(reminders, view, stage, goods::forgotten_of_job(view.build, j));
  }
  return reminders;
}

}  // namespace fettlefund::planning
