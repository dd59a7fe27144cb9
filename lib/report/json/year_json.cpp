#include "lib/report/text/year.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using planning::Against;
using planning::Year;

class Teller {
 public:
  explicit Teller(const Year& year) : year_(year) {}

  Json all() const {
    return {{"report", 1},
            {"status", "ok"},
            {"exit_code", 0},
            {"build", year_.build->name},
            {"currency", year_.build->currency.code},
            {"first", year_.first ? told(*year_.first) : Json()},
            {"until", told(year_.day)},
            {"money", money()},
            {"planned", told(year_.planned)},
            {"paid", told(year_.paid)},
            {"suppliers", told(year_.suppliers)},
            {"kinds", told(year_.kinds)},
            {"stages", told(year_.stages)},
            {"jobs", jobs()},
            {"shared", told(year_.shared)},
            {"prices", prices()},
            {"who", who()}};
  }

 private:
  Json told(budgets::Money amount) const { return budgets::write_money(amount, year_.build->currency); }
  static Json told(budgets::Date day) { return budgets::write_date(day); }
  template <class Value>
  static Json maybe(const std::optional<Value>& value) {
    return value ? Json(*value) : Json();
  }
  static Json maybe(const std::optional<budgets::Date>& day) { return day ? told(*day) : Json(); }

  Json told(const Against& one) const {
    return {{"name", one.name}, {"planned", told(one.planned)}, {"paid", told(one.paid)}};
  }
  Json told(const std::vector<Against>& rows) const {
    Json all = Json::array();
    for (const Against& one : rows) all.push_back(told(one));
    return all;
  }

  Json money() const {
    return {{"brought", told(year_.brought)},
            {"moved_in", told(year_.moved_in)},
            {"moved_out", told(year_.moved_out)},
            {"paid", told(year_.paid)},
            {"counted_on", maybe(year_.counted)},
            {"found_by_counting", told(year_.unexplained)},
            {"cash", told(year_.cash)}};
  }

  Json jobs() const {
    Json all = Json::array();
    for (const planning::JobAgainst& job : year_.jobs) {
      all.push_back({{"id", job.id},
                     {"name", job.name},
                     {"planned", told(job.planned)},
                     {"paid", told(job.paid)},
                     {"minutes_planned", job.planned_minutes},
                     {"minutes_taken", maybe(job.taken)},
                     {"minutes_begun", maybe(job.begun)},
                     {"fitted", maybe(job.fitted)},
                     {"given_up", maybe(job.given_up)}});
    }
    return all;
  }

  Json prices() const {
    Json all = Json::array();
    for (const planning::PricePaid& price : year_.prices) {
      all.push_back({{"article", price.article},
                     {"supplier", price.offer->supplier},
                     {"likely", told(price.likely)},
                     {"paid", told(price.paid)},
                     {"date", told(price.date)}});
    }
    return all;
  }

  Json who() const {
    Json all = Json::array();
    for (const planning::Recorder& one : year_.who)
      all.push_back({{"name", one.name.empty() ? Json() : Json(one.name)},
                     {"entries", one.entries},
                     {"paid", told(one.paid)}});
    return all;
  }

  const Year& year_;
};

}  // namespace

std::string year_json(const Year& year) {
  return Teller(year).all().dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fettlefund::report
