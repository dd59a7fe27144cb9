#include "lib/outcome/words.hpp"
#include "lib/report/text/why.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using budgets::Least;
using planning::WhyReport;
using planning::WhyStage;

class WhyTeller {
 public:
  explicit WhyTeller(const WhyReport& why) : why_(why) {}

  Json all() const {
    const std::optional<budgets::Date>& from = why_.build->money.from;
    Json stages = Json::array();
    for (const WhyStage& one : why_.stages) stages.push_back(stage(one));
    return {{"report", 1},
            {"status", why_.proof == planning::Proof::proven ? "proven" : "stopped"},
            {"exit_code", 0},
            {"build", why_.build->name},
            {"currency", why_.build->currency.code},
            {"from", from ? Json(budgets::write_date(*from)) : Json()},
            {"job", why_.job},
            {"name", why_.name},
            {"stage", why_.stage > 0 ? Json(why_.stage) : Json()},
            {"bench", why_.stage > 0 ? Json(budgets::write_date(why_.bench)) : Json()},
            {"left_out", why_.stage > 0 ? Json() : Json(why_.left_out)},
            {"stages", stages},
            {"notes", why_.notes}};
  }

 private:
  Json money(std::int64_t minor) const {
    return budgets::write_money(budgets::Money::of_minor(minor), why_.build->currency);
  }
  Json amount(std::int64_t value, bool is_money) const { return is_money ? money(value) : Json(value); }

  Json least(const Least& one, bool is_money) const {
    return {{"at_least", one.never ? Json() : amount(one.at_least, is_money)},
            {"at_most", one.at_most ? amount(*one.at_most, is_money) : Json()},
            {"exact", one.exact()},
            {"never", one.never}};
  }

  Json least_extra(const budgets::LeastExtra& one, bool is_money) const {
    return {{"allows", least(one.allows, is_money)},
            {"as_good", least(one.as_good, is_money)},
            {"moves", least(one.best, is_money)}};
  }

  Json stage(const WhyStage& one) const {
    const bool possible = one.possible == budgets::Possible::yes;
    Json shifts = Json::array();
    for (const planning::WhyShift& shift : one.shifts) {
      shifts.push_back({{"job", shift.job},
                        {"name", shift.name},
                        {"from", shift.from > 0 ? Json(shift.from) : Json()},
                        {"to", shift.to > 0 ? Json(shift.to) : Json()}});
    }
    return {{"stage", one.number},
            {"payday", budgets::write_date(one.payday)},
            {"bench", budgets::write_date(one.bench)},
            {"possible", one.possible == budgets::Possible::unknown ? Json() : Json(possible)},
            {"stopped_by", one.stopped_by},
            {"or_by", one.or_by},
            {"stopped_by_proven", one.stopped_by_proven},
            {"loss_want_days", possible ? Json(one.loss) : Json()},
            {"least_loss_want_days", possible ? Json(one.least_loss) : Json()},
            {"dearer", possible ? money(one.dearer.minor()) : Json()},
            {"displaced", shifts},
            {"cash", least_extra(one.cash, true)},
            {"minutes", least_extra(one.minutes, false)},
            {"sentences", one.sentences}};
  }

  const WhyReport& why_;
};

}  // namespace

std::string why_json(const WhyReport& why) {
  return WhyTeller(why).all().dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fettlefund::report
