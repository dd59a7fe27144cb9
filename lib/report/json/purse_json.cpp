#include "lib/report/json/purse_json.hpp"

#include "lib/outcome/words.hpp"
#include "lib/report/json/json.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;

class PurseTeller {
 public:
  explicit PurseTeller(const purse::Outcome& outcome) : outcome_(outcome) {}

  Json whole() const {
    const planning::Outcome& plan = outcome_.whole;
    const build::MoneyPlan& purse = outcome_.build->money;
    const bool proven = plan.proof == planning::Proof::proven;
    Json json = {{"report", 1},
                 {"status", proven ? "proven" : "stopped"},
                 {"exit_code", 0},
                 {"purse", outcome_.build->name},
                 {"currency", outcome_.build->currency.code},
                 {"cheapest_of_the_best", proven && plan.ties_proven},
                 {"value_want_days", plan.value_want_days},
                 {"bound_want_days", plan.bound_want_days},
                 {"want_months", planning::want_months_text(plan.value_want_days)},
                 {"work", {{"steps", plan.work.steps}, {"states", plan.work.states}}},
                 {"end", budgets::write_date(plan.end)},
                 {"from", purse.from ? Json(budgets::write_date(*purse.from)) : Json()},
                 {"stages_in_all", purse.stages},
                 {"opening", money(purse.opening)},
                 {"spent", money(plan.spent)},
                 {"left", money(plan.left)}};
    json["stages"] = Json::array();
    for (const purse::StageSum& one : outcome_.stages) json["stages"].push_back(stage(one));
    json["builds"] = Json::array();
    for (const purse::Share& one : outcome_.shares) json["builds"].push_back(share(one));
    return json;
  }

 private:
  std::string money(budgets::Money amount) const {
    return budgets::write_money(amount, outcome_.build->currency);
  }

  Json stage(const purse::StageSum& one) const {
    Json by = Json::object();
    for (std::size_t b = 0; b < one.spent_by.size(); ++b) by[outcome_.shares[b].id] = money(one.spent_by[b]);
    return {{"number", one.number},
            {"payday", budgets::write_date(one.payday)},
            {"bench", budgets::write_date(one.bench)},
            {"in", money(one.cash_in)},
            {"spent", money(one.spent)},
            {"spent_by", by},
            {"left", money(one.cash_after)},
            {"floor", money(one.floor)},
            {"minutes", {{"used", one.minutes_used}, {"limit", one.minutes_limit}}}};
  }

  /// As of a build alone, but for what a plan of it alone would claim.
  static Json share(const purse::Share& one) {
    Json part = Json::parse(json(one.outcome));
    for (const char* claim :
         {"report", "status", "exit_code", "cheapest_of_the_best", "bound_want_days", "work"})
      part.erase(claim);
    Json told = {{"id", one.id}};
    told.update(part);
    return told;
  }

  const purse::Outcome& outcome_;
};

}  // namespace

std::string purse_json(const purse::Outcome& outcome) {
  return PurseTeller(outcome).whole().dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fettlefund::report
