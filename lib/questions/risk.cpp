#include "lib/questions/risk.hpp"

#include <utility>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/conflict.hpp"

namespace fettlefund::planning {
namespace {

budgets::OfferSpread spread_of(const build::Offer& offer) {
  const auto [low, likely, high] = offer.price;
  const build::LeadSpread lead =
      offer.lead_spread.value_or(build::LeadSpread{offer.lead_days, offer.lead_days, offer.lead_days});
  return {{low.minor(), likely.minor(), high.minor()}, {lead.low, lead.likely, lead.high}};
}

/// One for each of the problem's offers, by where these stand in the Build.
std::vector<std::vector<budgets::OfferSpread>> spreads(const build::Build& build,
                                                       const std::vector<int>& articles,
                                                       const std::vector<std::vector<int>>& places) {
  std::vector<std::vector<budgets::OfferSpread>> all;
  for (std::size_t i = 0; i < articles.size(); ++i) {
    auto& offers = all.emplace_back();
    const auto& from = build.articles[static_cast<std::size_t>(articles[i])].offers;
    for (const int place : places[i]) offers.push_back(spread_of(from[static_cast<std::size_t>(place)]));
  }
  return all;
}

const build::Article& article_of(const View& view, int article, int tool) {
  return tool >= 0 ? view.tool(tool) : view.article(article);
}

RiskStage stage_of(const View& view, const budgets::Risk& figures, int stage) {
  const auto at = static_cast<std::size_t>(stage);
  RiskStage told;
  told.number = view.place_of(stage) + 1;
  told.payday = view.stage(stage).payday;
  told.bench = view.stage(stage).bench;
  told.floor = view.stage(stage).floor;
  told.planned = figures.planned[at];
  told.lowest = figures.lowest[at];
  told.holds = figures.kept.stages[at];
  told.holds_if_spent = figures.spent.stages[at];
  told.in_time = figures.in_time[at];
  return told;
}

void add_money_notes(const build::Build& build, std::vector<std::string>& notes) {
  notes.push_back(
      "The plan stays as it is. Each price given as a range is drawn between low and high, most often near "
      "likely (a triangular distribution), once for all orders of that offer; the draws do not depend on one "
      "another. Prices given as one figure, fees, hire and income are taken as certain.");
  notes.push_back(
      "Delivery is charged by the drawn prices: an order may miss its free delivery, or reach it.");
  if (build.money.allowance_bp == 0) return;
  notes.push_back(
      "The allowance for the unforeseen is not spent here: it stays in the purse, and rising prices may draw "
      "on it. The second figures tell what is left when all of it goes on other things as planned.");
}

std::vector<std::string> notes_of(const RiskReport& report) {
  std::vector<std::string> notes;
  add_money_notes(*report.build, notes);
  notes.push_back(
      "Lead times given as a range are drawn likewise, once for each order: what comes in one parcel is "
      "early "
      "or late together. A bench date is missed when anything ordered for it arrives later. A must is in "
      "time "
      "when what is ordered for it is there on the last bench date that its day allows, if it is put off so "
      "far. Money still moves on the planned paydays, and what a missed "
      "date does to later stages is not followed up.");
  notes.push_back(
      "What carries the risk: the share of the variance of the worst shortfall over the stages (the "
      "allowance "
      "spent) that goes with an article's price. Articles that the samples cannot tell from none are left "
      "out.");
  notes.push_back("The samples come from a fixed generator, so the same build gives the same figures.");
  return notes;
}

void add_names(const View& view, const budgets::Risk& figures, RiskReport& report) {
  for (const budgets::RiskShare& share : figures.shares) {
    const build::Article& article = article_of(view, share.article, share.tool);
    report.articles.push_back({article.id, article.name, share.share, share.standard_error});
  }
  for (const budgets::LateArrival& late : figures.late) {
    const build::Article& article = article_of(view, late.article, late.tool);
    report.late.push_back({article.id, article.name, view.place_of(late.for_stage) + 1, late.late});
  }
  for (const budgets::MustChance& must : figures.musts) {
    const build::Job& job = view.job(must.job);
    report.musts.push_back({job.id, job.name, view.place_of(must.stage) + 1, job.by, must.in_time});
  }
}

RiskReport report_of(const View& view, bool proven, std::int64_t samples) {
  const budgets::Risk figures =
      budgets::risk(view.problem, view.plan, spreads_of(view.build, view.staging), samples);
  RiskReport report;
  report.build = &view.build;
  report.proof = proven ? Proof::proven : Proof::stopped;
  report.samples = samples;
  for (int t = 0; t < view.problem.stage_count(); ++t) report.stages.push_back(stage_of(view, figures, t));
  report.all = figures.kept.all;
  report.all_if_spent = figures.spent.all;
  report.all_in_time = figures.all_in_time;
  report.buffer = figures.kept.buffer;
  report.buffer_if_spent = figures.spent.buffer;
  report.allowance = view.build.money.allowance_bp > 0;
  report.uncertain_prices = figures.uncertain_prices;
  report.uncertain_leads = figures.uncertain_leads;
  add_names(view, figures, report);
  report.notes = notes_of(report);
  return report;
}

}  // namespace

budgets::Spreads spreads_of(const build::Build& build, const Staging& staging) {
  return {spreads(build, staging.article_of, staging.article_offers),
          spreads(build, staging.tool_of, staging.tool_offers)};
}

RiskAnswer risk(const build::Build& build, std::int64_t samples, const budgets::SolveOptions& options) {
  const Staging staging = to_staging(build);
  const budgets::Problem problem(staging.problem);
  const budgets::Result result = budgets::solve(problem, options);
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result)) {
    return conflict_of(build, problem, *impossible, options);
  }
  const budgets::Plan* plan = budgets::plan_of(result);
  if (plan == nullptr) return NoPlan{std::get<budgets::Stopped>(result).work};
  return report_of({build, staging, problem, *plan}, std::holds_alternative<budgets::Proven>(result),
                   samples);
}

}  // namespace fettlefund::planning
