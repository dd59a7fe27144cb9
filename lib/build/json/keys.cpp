#include "lib/build/json/keys.hpp"

namespace fettlefund::build {
namespace {

text::Names names_of(const std::vector<Key>& keys) {
  std::vector<std::string> names;
  for (const Key& key : keys) names.emplace_back(key.name);
  return text::Names(std::move(names));
}

constexpr bool required = true;

/// Words that come to mind before a key's own does.
struct Meant {
  std::string_view part, word, key;
};

constexpr Meant meant[] = {{"job", "remove", "removals"},
                           {"job", "removal", "removals"},
                           {"job", "needs", "removals"},
                           {"job", "take_off", "removals"},
                           {"job", "parts", "uses"},
                           {"job", "articles", "uses"},
                           {"job", "materials", "uses"},
                           {"job", "one_use", "uses"},
                           {"job", "priority", "want"},
                           {"job", "deadline", "by"},
                           {"job", "until", "by"},
                           {"job", "price", "cost"},
                           {"job", "time", "hours"},
                           {"job", "type", "kind"},
                           {"removal", "removals", "needs"},
                           {"removal", "remove", "needs"},
                           {"removal", "uses", "one_use"},
                           {"removal", "parts", "one_use"},
                           {"removal", "steps", "off"},
                           {"article", "price", "offers"},
                           {"article", "supplier", "offers"},
                           {"article", "type", "kind"},
                           {"offer", "shop", "supplier"},
                           {"offer", "cost", "price"},
                           {"offer", "lead", "lead_days"},
                           {"supplier", "lead", "lead_days"},
                           {"supplier", "shipping", "delivery"},
                           {"use", "quantity", "amount"},
                           {"use", "part", "article"},
                           {"on_hand", "quantity", "amount"},
                           {"money", "monthly", "amount"},
                           {"money", "cash", "opening"},
                           {"money", "reserve", "keep_back"},
                           {"build", "parts", "articles"},
                           {"build", "shops", "suppliers"},
                           {"build", "tasks", "jobs"}};

}  // namespace

std::string_view meant_by(const KeyTable& table, std::string_view word) {
  for (const Meant& one : meant)
    if (one.part == table.name && one.word == word) return one.key;
  return {};
}

KeyTable::KeyTable(std::string_view part, std::string_view in_words, std::vector<Key> its_keys)
    : name(part), called(in_words), keys(std::move(its_keys)), names(names_of(keys)) {
  for (const std::string& known : names.all()) listed += (listed.empty() ? "" : ", ") + known;
  listed = "a key of " + std::string(called) + ": " + listed;
}

const std::vector<KeyTable>& key_tables() {
  // clang-format off
  static const std::vector<KeyTable> tables = {
      {"build", "the build", {{"$schema"}, {"fettlefund", required}, {"name", required}, {"about"}, {"currency", required}, {"money", required},
                 {"bench", required}, {"suppliers"}, {"articles"}, {"on_hand"}, {"removals"}, {"jobs", required},
                 {"fitted"}, {"clashes"}, {"rules"}, {"silence"}, {"cautions"}, {"drive"}}},
      {"money", "money", {{"opening", required}, {"keep_back", required}, {"amount", required}, {"stages", required},
                 {"paydays", required}, {"extras"}, {"allowance_percent"}}},
      {"paydays", "paydays", {{"dates"}, {"every_weeks"}, {"day_of_month"}, {"last_working_day"}, {"from"}, {"holidays"}}},
      {"extra", "an extra", {{"date", required}, {"amount", required}, {"what", required}}},
      {"bench", "the bench", {{"hours"}, {"days_after_payday"}, {"sessions"}, {"no_sessions"}, {"stages"}, {"bother"}}},
      {"bench_exception", "a bench exception", {{"stage", required}, {"hours", required}, {"why"}}},
      {"session", "a session", {{"weekday"}, {"date"}, {"hours", required}}},
      {"supplier", "a supplier", {{"name", required}, {"delivery"}, {"free_from"}, {"lead_days"}}},
      {"article", "an article", {{"name", required}, {"kind", required}, {"unit"}, {"pack"}, {"keeps_days"}, {"offers"}, {"mates"},
                   {"serves"}, {"for"}, {"hire"}, {"borrow"}, {"range"}, {"sizes"}}},
      {"offer", "an offer", {{"supplier", required}, {"price", required}, {"lead_days"}, {"from"}, {"until"}}},
      {"price", "a price", {{"low", required}, {"likely", required}, {"high", required}}},
      {"lead", "a lead time", {{"low", required}, {"likely", required}, {"high", required}}},
      {"borrow", "a borrowed time", {{"from", required}, {"until", required}}},
      {"on_hand", "a thing on hand", {{"article", required}, {"amount"}, {"opened"}}},
      {"use", "a use", {{"article", required}, {"amount"}}},
      {"removal", "a removal", {{"name", required}, {"hours_off", required}, {"hours_on", required}, {"needs"}, {"one_use"},
                   {"tools"}, {"torques"}, {"checks"}, {"off"}, {"on"}, {"tags"}, {"helper"}, {"overnight"}}},
      {"job", "a job", {{"name", required}, {"kind"}, {"want"}, {"must"}, {"by"}, {"not_before"}, {"hours", required}, {"cost"},
               {"removals"}, {"after"}, {"with"}, {"one_of"}, {"uses"}, {"tools"}, {"torques"}, {"checks"}, {"steps"},
               {"tags"}, {"helper"}, {"overnight"}, {"mates"}, {"replaced_by"}, {"takes_off"}, {"puts_on"}, {"cautions"}, {"manual"}, {"note"}}},
      {"torque", "a torque", {{"on", required}, {"value", required}, {"source", required}, {"pattern"}, {"fasteners"}}},
      {"check", "a check", {{"what", required}, {"target"}, {"limits"}, {"whole"}}},
      {"step", "a step", {{"do", required}, {"id"}, {"after"}, {"helper"}, {"fits"}, {"tightens"}}},
      {"fitted", "a fitted part", {{"name", required}, {"since"}, {"life_years"}, {"life_months"}, {"mates"}, {"replaced_by"},
                  {"reached_by"}}},
      {"clash", "a clash", {{"between", required}, {"unless"}, {"why", required}}},
      {"rule", "a rule", {{"id", required}, {"tag", required}, {"article", required}, {"name"}, {"amount"}, {"unit"},
                {"why", required}}},
      {"silence", "a silence", {{"rule", required}, {"for"}, {"because", required}}},
      {"drive", "the drive", {{"front", required}, {"rear", required}, {"chain", required}, {"centre", required}, {"rounding"},
                 {"primary"}, {"gears"}, {"tyre"}, {"rolling_factor"}, {"speedometer"}, {"speeds_kmh"}, {"engine_rpm"},
                 {"wanted"}}},
      {"drive_end", "an end of the drive", {{"before", required}, {"after"}, {"job"}}},
      {"chain", "the chain", {{"designation", required}, {"links", required}, {"article"}, {"job"}}},
      {"centre", "the centre distance", {{"now_mm", required}, {"min_mm", required}, {"max_mm", required}}},
      {"wanted", "what is wanted", {{"ratio", required}, {"front"}, {"rear"}}},
  };
  // clang-format on
  return tables;
}

}  // namespace fettlefund::build
