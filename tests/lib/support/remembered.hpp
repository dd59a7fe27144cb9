#pragma once
#include <string>
#include <vector>

#include "lib/progress/past.hpp"
#include "tests/lib/support/standing_fixture.hpp"
#include "tests/lib/support/typed_workbook.hpp"

/// Workbooks of builds under way, for tests of what they show and of what is typed into them.
namespace fettlefund::test {

/// Five things, paydays on the first of January to June 2027, 100.00 each, bench on the fourth.
inline build::Build five_jobs() {
  BuildText text;
  text.stages = "6";
  text.money_more = R"(, "allowance_percent": 5)";
  text.suppliers = R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5})";
  for (int i = 1; i <= 5; ++i) {
    const std::string n = std::to_string(i), comma = i == 1 ? "" : ", ";
    text.articles += comma + "\"thing-" + n + R"(": {"name": "Thing )" + n +
                     R"(", "kind": "part", "offers": [{"supplier": ")" + (i % 2 == 0 ? "post" : "shop") +
                     R"(", "price": )" + std::to_string(60 + i) + "}]}";
    text.jobs += comma + "\"fit-" + n + R"(": {"name": "Fit )" + n + R"(", "want": 5, "hours": 2,
      "uses": [{"article": "thing-)" +
                 n + R"("}]})";
  }
  return text.read();
}

/// A workbook of the build as it stands on a day, with what went before.
struct Remembered {
  Remembered(const build::Build& of, std::vector<log::NewEntry> events, const std::string& on)
      : build(of),
        log(test::log_of(events)),
        standing(test::stood(of, events, on)),
        outcome(test::replanned(standing)),
        past(planning::past_of(of, log, day(on))),
        book(outcome, past) {}

  sheets::Value value(const std::string& sheet, const std::string& key, const std::string& heading) {
    return book.cell(sheet, key, heading).value;
  }
  sheets::Money money(const std::string& key, const std::string& heading) {
    return std::get<sheets::Money>(value("Overview", key, heading));
  }

  const build::Build& build;
  log::Log log;
  planning::Standing standing;
  planning::Outcome outcome;
  planning::Past past;
  TypedWorkbook book;
};

inline std::vector<log::NewEntry> two_stages() {
  return {{day("2027-01-01"), log::Bought{"thing-1@1", 1, cents(6500), {}}},
          {day("2027-01-01"), log::Bought{"thing-2@1", 1, cents(6200), day("2027-01-03")}},
          {day("2027-01-01"), log::Bought{"delivery:post@1", 1, cents(500), {}}},
          {day("2027-01-04"), log::Fitted{"fit-1", 150}},
          {day("2027-01-20"), log::Moved{cents(-1000), "paint"}},
          {day("2027-02-01"), log::Bought{"thing-3@2", 1, cents(6100), {}}},
          {day("2027-02-01"), log::Bought{"thing-4@2", 1, cents(6400), day("2027-02-20")}}};
}

}  // namespace fettlefund::test
