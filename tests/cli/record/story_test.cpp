#include "lib/build/read/read.hpp"
#include "lib/log/read.hpp"
#include "lib/progress/replan.hpp"
#include "tests/cli/support/handed_workbook.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::RecordPlace;
using test::TypedWorkbook;

namespace {

/// 100.00 in hand and on the first of January to April 2027, bench on the fourth. Everything comes after the
/// bars, so that the plan is: stage 1 bars (180.00), stage 2 lamp (70.00) and seat (40.00), stage 3 tank
/// (105.00), stage 4 pegs (90.00); what is left is 20.00, 10.00, 5.00 and 15.00.
std::string five_jobs() {
  test::BuildText text;
  const auto add = [&](const std::string& id, const std::string& price, const std::string& want) {
    const std::string comma = text.jobs.empty() ? "" : ", ";
    text.articles += comma + "\"" + id + "\": {\"name\": \"" + id + "\", \"kind\": \"part\", \"offers\": " +
                     "[{\"supplier\": \"shop\", \"price\": " + price + "}]}";
    text.jobs += comma + "\"fit-" + id + "\": {\"name\": \"Fit the " + id + "\", \"want\": " + want +
                 ", \"hours\": 2, \"uses\": [{\"article\": \"" + id + "\"}]" +
                 (id == "bars" ? "" : ", \"after\": [\"fit-bars\"]") + "}";
  };
  add("bars", "180", "10");
  add("lamp", "70", "8");
  add("seat", "40", "7");
  add("tank", "105", "6");
  add("pegs", "90", "1");
  return text.text();
}

planning::Outcome plan_now(const planning::Standing& standing) {
  return std::get<planning::Outcome>(planning::replan(standing));
}

std::string stage_jobs(const planning::Outcome& outcome) {
  std::string all;
  for (const planning::StageView& stage : outcome.stages) {
    all += std::to_string(stage.number) + ":";
    for (const planning::JobView& job : stage.jobs) all += " " + job.id;
    all += "; ";
  }
  return all;
}

planning::Standing stand(const std::string& day) {
  return planning::stand_on(*build::read_file("bike.build").build, *log::read_file("bike.record").log,
                            *budgets::read_date(day), planning::usual_keep_days);
}

}  // namespace

TEST_CASE(
    "two stages are bought, one price was wrong and one job is late: the workbook tells it, and the rest "
    "is planned anew") {
  RecordPlace place;
  place.put("bike.build", five_jobs());
  CHECK(place.run({"record", "bike.build", "agreed", "--on", "2027-01-01"}) == 0);
  const planning::Standing agreed = stand("2027-01-01");
  const planning::Outcome plan = plan_now(agreed);
  REQUIRE(stage_jobs(plan) == "1: fit-bars; 2: fit-lamp fit-seat; 3: fit-tank; 4: fit-pegs; ");
  CHECK(plan.moves.empty());

  TypedWorkbook book = test::handed_workbook("2027-01-01");
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  book.save("handed-back.xlsx");
  CHECK(place.contents("bike.xlsx") == place.contents("handed-back.xlsx"));
  const sheets::Value x = std::string("x");
  const auto day = [](unsigned month, unsigned of_month) {
    return budgets::make_date(2027, month, of_month);
  };
  book.type("Shopping", "bars@1", "Tick", x);
  book.type("Shopping", "bars@1", "Bought on", day(1, 1));
  book.type("Shopping", "lamp@2", "Paid", budgets::Money::of_minor(7900));  // 9.00 dearer
  book.type("Shopping", "lamp@2", "Bought on", day(2, 1));
  book.type("Shopping", "seat@2", "Tick", x);
  book.type("Shopping", "seat@2", "Bought on", day(2, 1));
  book.type("Jobs", "job:fit-bars@1", "Tick", x);
  book.type("Jobs", "job:fit-bars@1", "Done on", day(1, 4));
  book.type("Jobs", "job:fit-bars@1", "Hours taken", sheets::Minutes{150});
  book.type("Jobs", "job:fit-lamp@2", "Tick", x);
  book.type("Jobs", "job:fit-lamp@2", "Done on", day(2, 4));
  book.type("Jobs", "job:fit-seat@2", "Your remark", std::string("no time, it rained"));
  book.save("handed-back.xlsx");

  CHECK(place.run({"record", "bike.build", "--from", "handed-back.xlsx", "--on", "2027-02-05"}) == 0);
  CHECK(place.err == "");
  CHECK(place.out ==
        "   2  2027-01-01  bought bars@1, 1 pack, 180.00 EUR\n"
        "   3  2027-02-01  bought lamp@2, 1 pack, 79.00 EUR\n"
        "   4  2027-02-01  bought seat@2, 1 pack, 40.00 EUR\n"
        "   5  2027-01-04  fitted fit-bars, took 2 h 30 min\n"
        "   6  2027-02-04  fitted fit-lamp\n"
        "   7  2027-02-05  remark about fit-seat: no time, it rained\n"
        "Recorded in bike.record.\n");

  const planning::Standing standing = stand("2027-02-05");
  CHECK(standing.build->money.opening == budgets::Money::of_minor(100));  // 10.00 - 9.00
  const planning::Outcome now = plan_now(standing);
  CHECK(stage_jobs(now) == "3: fit-seat; 4: fit-tank fit-pegs; ");
  CHECK(now.agreed_kept == 1);  // the pegs stay
  REQUIRE(now.moves.size() == 2);
  CHECK(
      planning::move_text(now.moves[0]) ==
      "Fit the seat: from bench 2027-02-04 to stage 3 (bench 2027-03-04): that day has passed and it is not "
      "recorded as fitted.");
  CHECK(
      planning::move_text(now.moves[1]) ==
      "Fit the tank: from bench 2027-03-04 to stage 4 (bench 2027-04-04): with the rest as it is now, money "
      "would be short by 4.00 EUR in stage 3.");
  for (const planning::StageView& stage : now.stages)
    for (const planning::OrderView& order : stage.orders)
      for (const planning::ShoppingLine& line : order.lines) CHECK(line.article != "seat");  // it lies there

  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.out.find("cash on 2027-02-05 1.00") != std::string::npos);
  CHECK(place.run({"record", "bike.build", "--from", "handed-back.xlsx", "--on", "2027-02-06"}) == 0);
  CHECK(place.out ==
        "6 things told by handed-back.xlsx are recorded already.\n"
        "Nothing new to record in handed-back.xlsx.\n");
  CHECK(place.err.find("warning: the workbook is of an older plan: 6 log lines were written since") !=
        std::string::npos);
}
