#include <cmath>

#include "lib/report/text/risk.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using budgets::Chance;
using planning::RiskReport;

/// Six decimals, which every standard error is wider than.
Json rounded(double share) { return std::round(share * 1e6) / 1e6; }

Json told(const Chance& chance) {
  return {{"samples_so", chance.hits},
          {"chance", rounded(chance.share())},
          {"standard_error", chance.always_or_never() ? Json() : rounded(chance.standard_error())}};
}

class RiskTeller {
 public:
  explicit RiskTeller(const RiskReport& risk) : risk_(risk) {}

  Json all() const {
    const std::optional<budgets::Date>& from = risk_.build->money.from;
    return {{"report", 1},
            {"status", risk_.proof == planning::Proof::proven ? "proven" : "stopped"},
            {"exit_code", 0},
            {"build", risk_.build->name},
            {"currency", risk_.build->currency.code},
            {"from", from ? Json(budgets::write_date(*from)) : Json()},
            {"samples", risk_.samples},
            {"uncertain_prices", risk_.uncertain_prices},
            {"uncertain_lead_times", risk_.uncertain_leads},
            {"money_holds", told(risk_.all)},
            {"buffer", told(risk_.buffer)},
            {"money_holds_allowance_spent", told(risk_.all_if_spent)},
            {"buffer_allowance_spent", told(risk_.buffer_if_spent)},
            {"all_in_time", told(risk_.all_in_time)},
            {"stages", stages()},
            {"articles", articles()},
            {"musts", musts()},
            {"late", late()},
            {"notes", risk_.notes}};
  }

 private:
  using Money = budgets::Money;
  Json told(const Chance& chance) const { return report::told(chance); }
  Json told(Money amount) const { return budgets::write_money(amount, risk_.build->currency); }
  Json told(const budgets::Buffer& buffer) const {
    return {{"amount", told(buffer.amount)},
            {"two_standard_errors", Json::array({told(buffer.low), told(buffer.high)})}};
  }

  Json stages() const {
    Json all = Json::array();
    for (const planning::RiskStage& stage : risk_.stages) {
      all.push_back({{"stage", stage.number},
                     {"payday", budgets::write_date(stage.payday)},
                     {"bench", budgets::write_date(stage.bench)},
                     {"to_keep", told(stage.floor)},
                     {"planned", told(stage.planned)},
                     {"lowest", told(stage.lowest)},
                     {"money_holds", told(stage.holds)},
                     {"money_holds_allowance_spent", told(stage.holds_if_spent)},
                     {"in_time", told(stage.in_time)}});
    }
    return all;
  }

  Json articles() const {
    Json all = Json::array();
    for (const planning::RiskArticle& article : risk_.articles) {
      all.push_back({{"article", article.id},
                     {"name", article.name},
                     {"share_of_variance", rounded(article.share)},
                     {"standard_error", rounded(article.standard_error)}});
    }
    return all;
  }

  Json musts() const {
    Json all = Json::array();
    for (const planning::RiskMust& must : risk_.musts) {
      all.push_back({{"job", must.id},
                     {"name", must.name},
                     {"stage", must.stage},
                     {"by", must.by ? Json(budgets::write_date(*must.by)) : Json(nullptr)},
                     {"in_time", told(must.in_time)}});
    }
    return all;
  }

  Json late() const {
    Json all = Json::array();
    for (const planning::RiskArrival& late : risk_.late) {
      all.push_back({{"article", late.id},
                     {"name", late.name},
                     {"for_stage", late.for_stage},
                     {"late", told(late.late)}});
    }
    return all;
  }

  const RiskReport& risk_;
};

}  // namespace

std::string risk_json(const RiskReport& risk) {
  return RiskTeller(risk).all().dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fettlefund::report
