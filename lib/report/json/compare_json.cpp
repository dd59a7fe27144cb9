#include "lib/outcome/words.hpp"
#include "lib/report/text/compare.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using planning::CompareColumn;
using planning::FrontierRow;

class CompareTeller {
 public:
  explicit CompareTeller(const build::Build& build) : build_(build) {}

  Json head() const {
    return {{"report", 1},
            {"status", "ok"},
            {"exit_code", 0},
            {"build", build_.name},
            {"currency", build_.currency.code},
            {"from", date(build_.money.from)}};
  }

  Json money(budgets::Money amount) const { return budgets::write_money(amount, build_.currency); }

  Json column(const CompareColumn& one) const {
    Json told = {{"title", one.title},
                 {"status", !one.planned                           ? one.impossible ? "impossible" : "no-plan"
                            : one.proof == planning::Proof::proven ? "proven"
                                                                   : "stopped"}};
    if (one.impossible) told["sentences"] = one.reasons;
    if (!one.planned) return told;
    told["value_want_days"] = one.value_want_days;
    told["bound_want_days"] = one.bound_want_days;
    told["jobs_done"] = one.jobs_done;
    told["finish"] = date(one.finish);
    told["minutes"] = one.minutes;
    told["spent"] = money(one.spent);
    told["left"] = money(one.left);
    return told;
  }

  Json moves(const planning::Comparison& comparison) const {
    Json all = Json::array();
    for (const int j : comparison.moving) {
      const auto at = static_cast<std::size_t>(j);
      Json stages = Json::array();
      for (const CompareColumn& one : comparison.columns) {
        stages.push_back(one.planned && one.stage_of[at] > 0 ? Json(one.stage_of[at]) : Json());
      }
      all.push_back({{"job", build_.jobs[at].id}, {"name", build_.jobs[at].name}, {"stages", stages}});
    }
    return all;
  }

  Json row(const FrontierRow& one) const {
    Json told = {{"amount", money(one.amount)},
                 {"status", one.planned      ? one.proven ? "proven" : "stopped"
                            : one.impossible ? "impossible"
                                             : "no-plan"}};
    if (!one.planned) return told;
    told["value_want_days"] = one.value_want_days;
    told["bound_want_days"] = one.bound_want_days;
    told["jobs_done"] = one.jobs_done;
    told["finish"] = date(one.finish);
    told["spent"] = money(one.spent);
    told["left"] = money(one.left);
    return told;
  }

 private:
  static Json date(const std::optional<budgets::Date>& day) {
    return day ? Json(budgets::write_date(*day)) : Json();
  }

  const build::Build& build_;
};

std::string text_of(const Json& json) {
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string compare_json(const planning::Comparison& comparison) {
  const CompareTeller teller(*comparison.build);
  Json all = teller.head();
  all["columns"] = Json::array();
  for (const CompareColumn& one : comparison.columns) all["columns"].push_back(teller.column(one));
  all["moves"] = teller.moves(comparison);
  all["notes"] = comparison.notes;
  return text_of(all);
}

std::string frontier_json(const planning::FrontierReport& frontier) {
  const CompareTeller teller(*frontier.build);
  Json all = teller.head();
  all["amounts"] = Json::array();
  for (const FrontierRow& row : frontier.rows) all["amounts"].push_back(teller.row(row));
  all["changes"] = Json::array();
  for (const planning::FrontierChange& change : frontier.changes) {
    Json told = teller.row(change.at);
    told["moves"] = change.moves;
    all["changes"].push_back(told);
  }
  all["changes_complete_from"] = frontier.complete_from ? teller.money(*frontier.complete_from) : Json();
  all["notes"] = frontier.notes;
  return text_of(all);
}

}  // namespace fettlefund::report
