#include <algorithm>

#include "budgets/problem/check.hpp"
#include "budgets/search/conflict.hpp"
#include "budgets/what_if/what_if.hpp"

namespace fettlefund::budgets {
namespace {

void lift_dates(ProblemData& data) {
  for (Job& job : data.jobs) {
    job.earliest = 0;
    job.latest = -1;
    job.by.reset();
  }
}

void lift_order(ProblemData& data) {
  for (Job& job : data.jobs) job.after.clear();
  data.together.clear();
}

void open_offers(std::vector<Offer>& offers) {
  for (Offer& offer : offers) {
    offer.lead_days = 0;
    offer.from.reset();
    offer.until.reset();
  }
}

/// All that any plan can need of the article.
Quantity most_needed(const ProblemData& data, int article) {
  Quantity sum = 0;
  const auto add = [&](const std::vector<Need>& needs, Quantity times) {
    for (const Need& need : needs) sum += need.article == article ? need.amount * times : 0;
  };
  for (const Job& job : data.jobs) add(job.needs, 1);
  for (const Removal& removal : data.removals) add(removal.one_use, static_cast<int>(data.stages.size()));
  return sum;
}

void lift_delivery(ProblemData& data) {
  for (std::size_t a = 0; a < data.articles.size(); ++a) {
    Article& article = data.articles[a];
    open_offers(article.offers);
    for (Lot& lot : article.on_hand) lot.from.reset();
    const Quantity needed = most_needed(data, static_cast<int>(a));
    if (article.offers.empty() && needed > 0) article.on_hand.push_back({needed, {}, {}});
  }
  for (Tool& tool : data.tools) open_offers(tool.offers);
}

void lift(ProblemData& data, Hold hold) {
  switch (hold) {
    case Hold::dates:
      return lift_dates(data);
    case Hold::cash:
      data.opening += Money::of_minor(search::boundless(data));
      return;
    case Hold::hours:
      for (Stage& stage : data.stages) stage.minutes = Limits::minutes;
      search::forget_days(data);
      return;
    case Hold::order:
      return lift_order(data);
    case Hold::delivery:
      return lift_delivery(data);
    case Hold::mates:
      for (Carrier& carrier : data.carriers) carrier.mates.clear();
      return;
    case Hold::clashes:
      return data.clashes.clear();
    case Hold::tools:
      for (Tool& tool : data.tools) tool.free.assign(data.stages.size(), 1);
      return;
    case Hold::choices:
      return data.one_of.clear();
    case Hold::musts:
      return;
  }
}

}  // namespace

ProblemData lifted(ProblemData data, const std::vector<Hold>& holds) {
  for (const Hold hold : holds) lift(data, hold);
  return data;
}

}  // namespace fettlefund::budgets
