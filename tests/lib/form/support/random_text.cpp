#include "tests/lib/form/support/random_text.hpp"

#include <algorithm>
#include <random>
#include <set>
#include <vector>

#include "lib/form/reading/piece.hpp"

namespace fettlefund::test {
namespace {

using Words = std::vector<std::string>;

class Maker {
 public:
  explicit Maker(std::uint64_t seed) : random_(seed) {}

  std::string make() {
    suppliers_ = ids("shop", number(0, 3));
    goods_ = ids("part", number(1, 4));
    tools_ = ids("tool", number(0, 3));
    removals_ = ids("off", number(0, 3));
    jobs_ = ids("job", number(1, 5));
    fitted_ = ids("old", number(0, 3));
    std::string text = "{\"fettlefund\": 1, \"name\": " + line() + ", \"currency\": \"EUR\"";
    if (chance()) text += ", \"about\": " + remark();
    text += ", \"money\": " + money() + ", \"bench\": " + bench();
    text += ", \"suppliers\": " + section(suppliers_, [&](const std::string&) { return supplier(); });
    Words articles = goods_;
    articles.insert(articles.end(), tools_.begin(), tools_.end());
    text += ", \"articles\": " + section(articles, [&](const std::string& id) { return article(id); });
    text += ", \"on_hand\": " + on_hand(articles);
    choose_step_ids();
    text += ", \"removals\": " + section(removals_, [&](const std::string& id) { return removal(id); });
    text += ", \"jobs\": " + section(jobs_, [&](const std::string& id) { return job(id); });
    text += ", \"fitted\": " + section(fitted_, [&](const std::string&) { return fitted(); });
    text += ", \"clashes\": " + clashes() + ", \"rules\": " + rules() + ", \"silence\": " + silences();
    if (chance()) text += ", \"cautions\": [" + remark() + "]";
    if (!jobs_.empty() && chance()) text += ", \"drive\": " + drive();
    return text + "}";
  }

 private:
  int number(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  bool chance() { return number(0, 1) == 0; }
  template <class T>
  const T& one_of(const std::vector<T>& all) {
    return all[static_cast<std::size_t>(number(0, static_cast<int>(all.size()) - 1))];
  }
  static std::string quoted(const std::string& text) { return form::quoted(text); }

  Words ids(const std::string& stem, int count) {
    static const Words tails = {"", "-X", "-long-way-round", "9", "-a1"};
    Words all;
    for (int i = 0; i < count; ++i) all.push_back(stem + one_of(tails) + "-" + std::to_string(i));
    return all;
  }
  std::string awkward() {
    static const Words words = {"=1+1",
                                "1.5",
                                "TRUE",
                                "a; b",
                                "c, d",
                                "\"quoted\"",
                                "2027-03-05",
                                "Füße",
                                "x_x0041_y",
                                "@home",
                                "-5",
                                "+5",
                                "#N/A",
                                "12:30",
                                "50%",
                                "\xE2\x82\xAC 3",
                                "a\\b",
                                "{}",
                                "'tick",
                                "<&>",
                                "Chain",
                                "chain size",
                                "\xF0\x9F\x94\xA7",
                                "x"};
    return one_of(words);
  }
  std::string line() { return quoted(awkward() + " " + std::to_string(++count_)); }
  std::string remark() {
    return quoted(awkward() + (chance() ? "\nsecond; line, \"so\"" : "") + std::to_string(++count_));
  }
  std::string money_text() {
    const std::string amount =
        std::to_string(number(0, 900)) + (chance() ? "." + std::to_string(number(10, 99)) : "");
    return chance() ? amount : quoted(amount);
  }
  std::string hours() {
    static const Words fractions = {"", ".5", ".05", ".25", ".95", ".1"};
    return std::to_string(number(0, 12)) + one_of(fractions);
  }
  std::string amount() {
    static const Words all = {"1", "2", "0.5", "12.125", "0.001", "250", "1e1"};
    return one_of(all);
  }
  std::string day(int from = 0) {
    static const Words days = {"2027-01-05", "2027-02-28", "2027-06-30", "2027-12-31", "2028-02-29"};
    return quoted(days[static_cast<std::size_t>(number(from, 4))]);
  }
  template <class Make>
  std::string section(const Words& ids, const Make& make) {
    std::string text = "{";
    for (const std::string& id : ids) text += (text.size() > 1 ? ", " : "") + quoted(id) + ": " + make(id);
    return text + "}";
  }
  template <class Make>
  std::string list(int count, const Make& make) {
    std::string text = "[";
    for (int i = 0; i < count; ++i) text += (i > 0 ? ", " : "") + make();
    return text + "]";
  }
  /// Some of them, in any order, never `but`.
  std::string some(Words all, const std::string& but = {}) {
    std::erase(all, but);
    std::shuffle(all.begin(), all.end(), random_);
    all.resize(all.empty() ? 0 : static_cast<std::size_t>(number(0, static_cast<int>(all.size()))));
    std::string text = "[";
    for (const std::string& id : all) text += (text.size() > 1 ? ", " : "") + quoted(id);
    return text + "]";
  }
  std::string key(const std::string& name, const std::string& value) {
    return ", \"" + name + "\": " + value;
  }
  std::string maybe(const std::string& name, const std::string& value) {
    return chance() ? key(name, value) : "";
  }

  std::string money() {
    const std::string rules[] = {
        R"("dates": ["2027-01-29", "2027-02-26", "2027-03-31", "2027-04-30", "2027-05-28", "2027-06-30"])",
        R"("every_weeks": 3, "from": "2027-01-02")", R"("day_of_month": 31, "from": "2027-01-01")",
        R"("last_working_day": true, "from": "2027-01-01")"};
    std::string paydays = rules[number(0, 3)];
    if (chance()) paydays += R"(, "holidays": ["2027-03-31", "2027-01-29"])";
    std::string text = R"({"opening": )" + std::string(chance() ? "-" : "") + std::to_string(number(0, 99)) +
                       R"(, "keep_back": )" + money_text() + R"(, "amount": )" + money_text() +
                       R"(, "stages": 4, "paydays": {)" + paydays + "}";
    text += maybe("extras", list(number(0, 2), [&] {
                    return "{\"date\": " + day() + ", \"amount\": -" + std::to_string(number(1, 90)) +
                           ".5, \"what\": " + line() + "}";
                  }));
    return text + maybe("allowance_percent", chance() ? "2.25" : "100") + "}";
  }
  std::string bench() {
    if (chance()) return sessions();
    std::string text = "{\"hours\": " + hours() + ", \"days_after_payday\": " + std::to_string(number(0, 20));
    if (chance()) text += ", \"stages\": [{\"stage\": 2, \"hours\": " + hours() + maybe("why", line()) + "}]";
    return text + maybe("bother", std::to_string(number(0, 99))) + "}";
  }
  std::string sessions() {
    std::string text = R"({"sessions": [{"weekday": "tuesday", "hours": 2.5})";
    if (chance()) text += R"(, {"date": "2027-03-06", "hours": 5})";
    if (chance()) text += R"(, {"weekday": "sunday", "hours": )" + std::to_string(number(1, 9)) + "}";
    text += "]";
    if (chance()) text += R"(, "no_sessions": ["2027-04-06", "2027-04-13"])";
    if (chance()) text += R"(, "stages": [{"stage": 2, "hours": 0)" + maybe("why", line()) + "}]";
    return text + maybe("bother", std::to_string(number(0, 99))) + "}";
  }
  std::string lead() {
    return chance() ? std::to_string(number(0, 9))
                    : R"({"low": 1, "likely": 2, "high": )" + std::to_string(number(2, 9)) + "}";
  }
  std::string supplier() {
    return "{\"name\": " + line() + maybe("delivery", money_text()) + maybe("free_from", money_text()) +
           maybe("lead_days", lead()) + "}";
  }
  std::string offers() {
    if (suppliers_.empty()) return "[]";
    return list(number(0, 3), [&] {
      const std::string price = chance() ? money_text() : R"({"low": 3, "likely": 4.50, "high": 9.99})";
      return "{\"supplier\": " + quoted(one_of(suppliers_)) + key("price", price) +
             maybe("lead_days", lead()) + maybe("from", quoted("2027-01-02")) + maybe("until", day()) + "}";
    });
  }
  std::string mates() {
    std::string text = "{";
    for (const char* name : {"chain-size", "Volt", "axle"})
      if (chance()) text += (text.size() > 1 ? ", " : "") + quoted(name) + ": " + line();
    return text + "}";
  }
  std::string article(const std::string& id) {
    const bool tool = std::find(tools_.begin(), tools_.end(), id) != tools_.end();
    std::string text = "{\"name\": " + line() +
                       key("kind", tool       ? "\"tool\""
                                   : chance() ? "\"part\""
                                              : "\"consumable\"");
    text += maybe("unit", id == goods_.front() ? "\"link\"" : "\"ml\"") + maybe("offers", offers()) +
            maybe("serves", R"(["drive-chain", "Glue"])");
    if (id == goods_.front() && text.find("\"unit\"") == std::string::npos) text += key("unit", "\"link\"");
    if (!tool)
      return text + maybe("pack", amount()) + maybe("keeps_days", "90") + maybe("mates", mates()) + "}";
    text += maybe("hire", money_text()) + maybe("sizes", R"(["36 mm socket", "1/2; square", "a, b"])");
    text += maybe(
        "borrow",
        R"([{"from": "2027-02-01", "until": "2027-02-28"}, {"from": "2027-05-01", "until": "2027-05-01"}])");
    return text + maybe("range", chance() ? R"(["250 Nm"])" : R"(["10 Nm", "100 Nm"])") + "}";
  }
  std::string on_hand(const Words& articles) {
    return list(number(0, 3), [&] {
      return "{\"article\": " + quoted(one_of(articles)) + maybe("amount", amount()) +
             maybe("opened", day()) + "}";
    });
  }
  std::string uses() {
    Words all = goods_;
    std::shuffle(all.begin(), all.end(), random_);
    all.resize(static_cast<std::size_t>(number(0, static_cast<int>(all.size()))));
    std::string text = "[";
    for (const std::string& id : all)
      text +=
          (text.size() > 1 ? ", " : "") + ("{\"article\": " + quoted(id) + maybe("amount", amount()) + "}");
    return text + "]";
  }
  std::string torques() {
    return list(number(0, 2), [&] {
      return "{\"on\": " + line() + key("value", chance() ? "\"85 Nm\"" : "\"63 lbf ft\"") +
             key("source", line()) + maybe("pattern", "\"opposite pairs\"") + maybe("fasteners", "4") + "}";
    });
  }
  std::string checks() {
    return list(number(0, 2), [&] {
      return "{\"what\": " + line() + maybe("target", line()) + maybe("limits", line()) +
             maybe("whole", "true") + "}";
    });
  }
  void choose_step_ids() { step_ids_ = {"set-in", "Rivet", "s3"}; }
  std::string steps() {
    return list(number(0, 3), [&] {
      if (chance()) return line();
      std::string text = "{\"do\": " + line();
      if (next_step_ < step_ids_.size() && chance()) text += key("id", quoted(step_ids_[next_step_++]));
      // Only ids that were given out already: their order is then never a ring.
      if (next_step_ > 1 && chance()) text += key("after", "[" + quoted(step_ids_[0]) + "]");
      return text + maybe("helper", chance() ? "true" : "false") + "}";
    });
  }
  std::string tags() { return chance() ? R"(["wheel", "a; b", "c, d", "\"e\""])" : R"(["raised vehicle"])"; }
  std::string removal(const std::string& id) {
    return "{\"name\": " + line() + key("hours_off", hours()) + key("hours_on", hours()) +
           maybe("needs", some(removals_, id)) + maybe("one_use", uses()) + maybe("tools", some(tools_)) +
           maybe("torques", torques()) + maybe("checks", checks()) + (chance() ? key("off", steps()) : "") +
           (chance() ? key("on", steps()) : "") + maybe("tags", tags()) +
           maybe("helper", chance() ? "true" : "false") + maybe("overnight", "true") + "}";
  }
  std::string job(const std::string& id) {
    std::string text =
        "{\"name\": " + line() + key("hours", hours()) + key("want", std::to_string(number(0, 10)));
    text += maybe("must", chance() ? "true" : "false") + maybe("by", day(2)) +
            maybe("not_before", quoted("2027-01-03"));
    text += maybe("cost", money_text()) + maybe("removals", some(removals_)) +
            maybe("after", some(jobs_, id)) + maybe("with", some(jobs_, id)) + maybe("one_of", line()) +
            maybe("uses", uses()) + maybe("tools", some(tools_)) + maybe("torques", torques()) +
            maybe("checks", checks());
    text += (chance() ? key("steps", steps()) : "") + maybe("tags", tags()) +
            maybe("helper", chance() ? "true" : "false") + maybe("overnight", "true") +
            maybe("mates", mates()) + maybe("replaced_by", some(jobs_, id)) +
            maybe("cautions", list(number(0, 2), [&] { return remark(); }));
    return text + maybe("manual", remark()) + maybe("note", remark()) + "}";
  }
  std::string fitted() {
    std::string text = "{\"name\": " + line() + key("since", day());
    if (chance()) text += chance() ? key("life_years", "3") : key("life_months", "30");
    return text + maybe("mates", mates()) + maybe("replaced_by", some(jobs_)) +
           maybe("reached_by", some(removals_)) + "}";
  }
  std::string clashes() {
    if (fitted_.empty()) return "[]";
    Words pair = {quoted(jobs_.front()), quoted(fitted_.back())};
    if (chance()) std::swap(pair[0], pair[1]);
    return "[{\"between\": [" + pair[0] + ", " + pair[1] + "]" + maybe("unless", some(jobs_)) +
           key("why", line()) + "}]";
  }
  std::string rules() {
    if (chance()) return "[]";
    return "[{\"id\": \"Fresh-pin\", \"tag\": " + line() +
           key("article", chance() ? quoted(goods_.front()) : "\"split-Pin\"") + maybe("name", line()) +
           maybe("amount", amount()) + maybe("unit", line()) + key("why", line()) + "}]";
  }
  std::string silences() {
    Words work = jobs_;
    work.insert(work.end(), removals_.begin(), removals_.end());
    return chance() ? "[]"
                    : "[{\"rule\": \"Fresh-pin\"" + maybe("for", quoted(one_of(work))) +
                          key("because", line()) + "}]";
  }
  std::string drive() {
    std::string text = R"({"front": {"before": 15)" + maybe("after", "14") + maybe("job", quoted(jobs_[0])) +
                       R"(}, "rear": {"before": 43)" + maybe("after", "45") + maybe("job", quoted(jobs_[0])) +
                       R"(}, "chain": {"designation": "520", "links": 110)" +
                       maybe("article", quoted(goods_.front())) + maybe("job", quoted(jobs_[0])) +
                       R"(}, "centre": {"now_mm": 600.5, "min_mm": 585.25, "max_mm": 620})";
    text += maybe("rounding", "\"nearest\"") + maybe("primary", "2.1875") +
            maybe("gears", "[2.8, 1.94, 1.4123]") + maybe("tyre", "\"150/70-17\"") +
            maybe("rolling_factor", "0.97") + maybe("speedometer", "\"gearbox\"") +
            maybe("speeds_kmh", "[50, 100.5]") + maybe("engine_rpm", "[4000]");
    if (chance())
      text += R"(, "wanted": {"ratio": [2.6, 2.9])" + maybe("front", "[13, 16]") + maybe("rear", "[40, 48]") +
              "}";
    return text + "}";
  }

  std::mt19937_64 random_;
  Words suppliers_, goods_, tools_, removals_, jobs_, fitted_, step_ids_;
  std::size_t next_step_ = 0;
  int count_ = 0;
};

}  // namespace

std::string random_build_text(std::uint64_t seed) { return Maker(seed).make(); }

}  // namespace fettlefund::test
