#include "lib/outcome/sessions.hpp"

#include <algorithm>

#include "lib/report/files/calendar.hpp"
#include "lib/report/json/json.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "tests/lib/build/support.hpp"
#include "tests/lib/support/build_fixture.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

// Bench time as sessions: which evenings a stage has, what its plan keeps to, and how the work is laid out.

using namespace fettlefund;
using namespace fettlefund::planning;

namespace {

Date date_of(const std::string& text) { return *budgets::read_date(text); }

/// Paydays on the first of January to April 2027; Tuesdays and, once, Saturday 2027-01-09.
test::BuildText evenings() {
  test::BuildText text;
  text.bench =
      R"("sessions": [{"weekday": "tuesday", "hours": 2}, {"date": "2027-01-09", "hours": 4}], "bother": 0)";
  text.jobs = R"("lamp": {"name": "Lamp", "want": 5, "hours": 1})";
  return text;
}

std::vector<std::string> written(const std::vector<Evening>& list) {
  std::vector<std::string> texts;
  for (const Evening& one : list)
    texts.push_back(fmt::format("{} {}", budgets::write_date(one.date), one.minutes));
  return texts;
}

std::vector<std::string> evenings_of(const build::Build& build, int stage) {
  return written(bench_time(build, calendar_of(build.money), stage).evenings);
}

using Texts = std::vector<std::string>;

Outcome planned_by_sessions(const build::Build& build) {
  Planning result = plan(build);
  REQUIRE(std::holds_alternative<Outcome>(result));
  return std::get<Outcome>(result);
}

Texts lines_of(const std::vector<SessionView>& sessions) {
  Texts texts;
  for (const SessionView& session : sessions) {
    texts.push_back(session_text(session));
    for (const std::string& more : overnight_texts(session)) texts.push_back(more);
  }
  return texts;
}

/// Three evenings of two hours.
std::vector<Evening> three_evenings() {
  return {{date_of("2027-01-05"), 120}, {date_of("2027-01-12"), 120}, {date_of("2027-01-19"), 120}};
}

/// A job with removals of so many minutes each way.
struct Shed {
  test::BuildMaker maker;

  build::Job& job(const std::string& id, std::int64_t minutes, test::Words removals = {}) {
    build::Job& job = maker.job(id, std::move(removals));
    job.minutes = minutes;
    return job;
  }
  build::Removal& removal(const std::string& id, std::int64_t off, std::int64_t on) {
    build::Removal& removal = maker.removal(id);
    removal.minutes_off = off;
    removal.minutes_on = on;
    return removal;
  }
  Texts laid_out(const std::vector<Evening>& list = three_evenings()) {
    std::vector<int> jobs;
    for (std::size_t j = 0; j < maker.build().jobs.size(); ++j) jobs.push_back(static_cast<int>(j));
    std::vector<Date> days;
    for (const Evening& one : list) days.push_back(one.date);
    return lines_of(lay_out(maker.build(), graph::work_order(maker.build(), jobs, {}, days), list));
  }
};

}  // namespace

TEST_CASE("a stage has the evenings from its payday up to the day before the next") {
  const build::Build build = evenings().read();
  CHECK(evenings_of(build, 0) ==
        Texts{"2027-01-05 120", "2027-01-09 240", "2027-01-12 120", "2027-01-19 120", "2027-01-26 120"});
  CHECK(evenings_of(build, 1) ==
        Texts{"2027-02-02 120", "2027-02-09 120", "2027-02-16 120", "2027-02-23 120"});
  const auto stages = stages_of(build, calendar_of(build.money));
  CHECK(stages[0].minutes == 720);
  CHECK(stages[0].bench == date_of("2027-01-05"));
  CHECK(stages[0].last == date_of("2027-01-26"));
  REQUIRE(stages[0].marks.size() == 4);
  CHECK(stages[0].marks[1].day == date_of("2027-01-09"));
  CHECK(stages[0].marks[1].minutes == 360);
}

TEST_CASE("a date counts in place of its weekday and a free day has no evening") {
  test::BuildText text = evenings();
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}, {"date": "2027-01-12", "hours": 0.5}],
                  "no_sessions": ["2027-01-19", "2027-02-02"], "stages": [{"stage": 3, "hours": 0}])";
  const build::Build build = text.read();
  CHECK(evenings_of(build, 0) == Texts{"2027-01-05 120", "2027-01-12 30", "2027-01-26 120"});
  CHECK(evenings_of(build, 1).size() == 3);
  CHECK(evenings_of(build, 2).empty());
  const auto stages = stages_of(build, calendar_of(build.money));
  CHECK(stages[2].minutes == 0);
  CHECK(stages[2].bench == date_of("2027-03-31"));
  CHECK_FALSE(stages[2].last);
}

TEST_CASE("a payday is an evening of its own stage") {
  test::BuildText text = evenings();
  text.bench = R"("sessions": [{"weekday": "friday", "hours": 1}])";
  CHECK(evenings_of(text.read(), 0).front() == "2027-01-01 60");
}

TEST_CASE("of a stage under way what has been used goes off the evenings to come, the nearest first") {
  build::Build build = evenings().read();
  build.money.from = date_of("2027-01-10");
  CHECK(evenings_of(build, 0) == Texts{"2027-01-12 120", "2027-01-19 120", "2027-01-26 120"});
  build.bench.minutes_gone = 360;  // just what the evenings that are over had
  CHECK(evenings_of(build, 0) == Texts{"2027-01-12 120", "2027-01-19 120", "2027-01-26 120"});
  build.bench.minutes_gone = 510;
  CHECK(evenings_of(build, 0) == Texts{"2027-01-19 90", "2027-01-26 120"});
}

TEST_CASE("weekdays are those of the calendar") {
  CHECK(weekday(date_of("1970-01-01")) == 3);
  CHECK(weekday(date_of("2027-01-05")) == 1);
  CHECK(weekday(date_of("1969-12-28")) == 6);
}

TEST_CASE("a job's want counts from the last evening of its stage") {
  const build::Build build = evenings().read();
  const Staging staging = to_staging(build);
  CHECK(staging.problem.jobs[0].worth[0] == 5 * 60 * (date_of("2027-04-30") - date_of("2027-01-26")));
}

TEST_CASE("a must with a day within a stage is done there if the evenings up to it hold it") {
  test::BuildText text = evenings();
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}])";
  text.jobs = R"("check": {"name": "Check", "must": true, "by": "2027-01-14", "hours": 4})";
  CHECK(planned_by_sessions(text.read()).stages[0].jobs.size() == 1);
  text.jobs = R"("check": {"name": "Check", "must": true, "by": "2027-01-11", "hours": 4})";
  CHECK(std::holds_alternative<Conflict>(plan(text.read())));
}

TEST_CASE("goods for a stage are in the house by its first evening") {
  test::BuildText text = evenings();
  text.suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 5})";
  text.articles = R"("bulb": {"name": "Bulb", "kind": "part", "offers": [{"supplier": "shop", "price": 5}]})";
  text.jobs = R"("lamp": {"name": "Lamp", "want": 5, "hours": 1, "uses": ["bulb"]})";
  const Outcome outcome = planned_by_sessions(text.read());
  CHECK(outcome.stages[0].jobs.empty());  // 2027-01-06 is after the evening of the 5th
  CHECK(outcome.stages[1].jobs.size() == 1);
}

namespace {

/// The shop sends in five days; goods are counted on from the session a week after the payday on.
test::BuildText sent_for() {
  test::BuildText text = evenings();
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}], "days_after_payday": 7, "bother": 0)";
  text.suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 5})";
  text.articles = R"("bulb": {"name": "Bulb", "kind": "part", "offers": [{"supplier": "shop", "price": 5}]})";
  text.removals = R"("bowl": {"name": "Lamp bowl", "hours_off": 0.25, "hours_on": 0.25})";
  text.jobs = R"("wash": {"name": "Wash", "want": 5, "hours": 1},
                 "lamp": {"name": "Lamp", "want": 5, "hours": 1, "uses": ["bulb"], "removals": ["bowl"]})";
  return text;
}

}  // namespace

TEST_CASE("goods serve the later sessions of their stage and no hour before them is counted on") {
  const build::Build build = sent_for().read();
  const BenchTime time = bench_time(build, calendar_of(build.money), 0);
  CHECK(written(time.evenings) ==
        Texts{"2027-01-05 120", "2027-01-12 120", "2027-01-19 120", "2027-01-26 120"});
  CHECK(time.first == date_of("2027-01-12"));
  CHECK(time.minutes == 360);
  const auto stage = stages_of(build, calendar_of(build.money))[0];
  CHECK(stage.bench == date_of("2027-01-12"));
  REQUIRE(stage.marks.size() == 2);
  CHECK(stage.marks[0].minutes == 120);
  CHECK(planned_by_sessions(build).stages[0].jobs.size() == 2);
}

TEST_CASE("what needs no goods is done in the sessions before and nothing is opened before its goods") {
  const StageView stage = planned_by_sessions(sent_for().read()).stages[0];
  CHECK(lines_of(stage.sessions) == Texts{"2027-01-05, 1 h of 2 h: step 1",
                                          "2027-01-12, 1.5 h of 2 h: steps 2 to 4",
                                          "2027-01-19, 2 h: no work", "2027-01-26, 2 h: no work"});
  CHECK(bench_text(stage) == "2027-01-05 to 2027-01-26");
}

TEST_CASE("sessions on end without work are one line of the plan") {
  StageView stage = planned_by_sessions(sent_for().read()).stages[0];
  const auto texts = [&] {
    Texts all;
    for (const SessionLine& line : session_lines(stage)) {
      all.push_back(line.text);
      all.insert(all.end(), line.overnight.begin(), line.overnight.end());
    }
    return all;
  };
  CHECK(texts() == Texts{"2027-01-05, 1 h of 2 h: step 1", "2027-01-12, 1.5 h of 2 h: steps 2 to 4",
                         "2027-01-19 to 2027-01-26, 2 sessions, 4 h: no work"});
  stage.sessions[2].open = {"Lamp bowl (off)"};  // what stays open is told of its own session
  CHECK(texts() == Texts{"2027-01-05, 1 h of 2 h: step 1", "2027-01-12, 1.5 h of 2 h: steps 2 to 4",
                         "2027-01-19, 2 h: no work", "stays open overnight: Lamp bowl (off)",
                         "2027-01-26, 2 h: no work"});
}

TEST_CASE("not_before holds in the sessions before goods are counted on and what goes off waits for them") {
  const Texts in_the_second = {"2027-01-05, 2 h: no work", "2027-01-12, 1 h of 2 h: step 1",
                               "2027-01-19, 2 h: no work", "2027-01-26, 2 h: no work"};
  test::BuildText text = sent_for();
  text.jobs = R"("wash": {"name": "Wash", "want": 5, "hours": 1, "not_before": "2027-01-10"})";
  CHECK(lines_of(planned_by_sessions(text.read()).stages[0].sessions) == in_the_second);
  text.articles = R"("glue": {"name": "Glue", "kind": "consumable", "keeps_days": 40})";
  text.more = R"(, "on_hand": [{"article": "glue", "amount": 1}])";
  text.jobs = R"("wash": {"name": "Wash", "want": 5, "hours": 1, "uses": ["glue"]})";
  CHECK(lines_of(planned_by_sessions(text.read()).stages[0].sessions) == in_the_second);
}

TEST_CASE("a stage whose sessions all come before goods are counted on has no hours") {
  test::BuildText text = sent_for();
  text.bench = R"("sessions": [{"date": "2027-01-05", "hours": 2}, {"date": "2027-02-20", "hours": 2}],
                  "days_after_payday": 7)";
  const build::Build build = text.read();
  CHECK(bench_time(build, calendar_of(build.money), 0).minutes == 0);
  CHECK(bench_time(build, calendar_of(build.money), 0).first == date_of("2027-01-31"));
  CHECK(bench_time(build, calendar_of(build.money), 1).minutes == 120);
  CHECK(test::checked(build).find(
            "/bench/days_after_payday: found 7, expected at most 4: the last session after the payday on "
            "2027-01-01 is 2027-01-05; its stage has no hours") != std::string::npos);
}

TEST_CASE("what is taken off and put back stands in one evening where one holds it") {
  Shed shed;
  shed.job("a", 90);
  shed.job("b", 60, {"box"});
  shed.removal("box", 15, 15);
  CHECK(shed.laid_out() == Texts{"2027-01-05, 1.5 h of 2 h: step 1", "2027-01-12, 1.5 h of 2 h: steps 2 to 4",
                                 "2027-01-19, 2 h: no work"});
}

TEST_CASE("what no evening holds is spread and said to stay open unless the build allows it") {
  Shed shed;
  shed.job("b", 150, {"box"}).steps = {test::step("begin"), test::step("end")};
  shed.removal("box", 15, 15);
  CHECK(shed.laid_out() ==
        Texts{"2027-01-05, 1.5 h of 2 h: steps 1 to 2",
              "stays open overnight, not said to be allowed: the box (off) and the b (half done)",
              "2027-01-12, 1.5 h of 2 h: steps 3 to 4", "2027-01-19, 2 h: no work"});
  shed.maker.build().removals[0].overnight = true;
  shed.maker.build().jobs[0].overnight = true;
  CHECK(shed.laid_out()[1] == "stays open overnight: the box (off) and the b (half done)");
}

TEST_CASE("a step longer than an evening goes on in the next ones") {
  Shed shed;
  shed.job("paint", 300);
  CHECK(shed.laid_out() == Texts{"2027-01-05, 2 h of 2 h: step 1, step 1 not to its end",
                                 "stays open overnight, not said to be allowed: the paint (half done)",
                                 "2027-01-12, 2 h of 2 h: step 1, step 1 not to its end",
                                 "stays open overnight, not said to be allowed: the paint (half done)",
                                 "2027-01-19, 1 h of 2 h: step 1"});
}

TEST_CASE("nothing waits for a later evening where the hours would not suffice then") {
  Shed shed;
  shed.job("a", 90);
  shed.job("b", 90);
  shed.job("c", 90);
  shed.job("d", 90);
  const Texts texts = shed.laid_out();
  CHECK(texts.front() == "2027-01-05, 2 h of 2 h: steps 1 to 2, step 2 not to its end");
  CHECK(texts.back() == "2027-01-19, 2 h of 2 h: steps 3 to 4");
}

TEST_CASE("jobs with a day come first and end by it") {
  Shed shed;
  shed.job("a", 60);
  shed.job("b", 30);
  shed.job("due", 105).by = date_of("2027-01-12");
  shed.job("first", 60);
  shed.maker.build().jobs[2].after = {"first"};
  // 165 minutes are due by the second evening; the rest follows.
  const Texts texts = shed.laid_out();
  CHECK(texts[0] == "2027-01-05, 1 h of 2 h: step 1");
  CHECK(texts[1] == "2027-01-12, 1.75 h of 2 h: step 2");
  CHECK(texts[2] == "2027-01-19, 1.5 h of 2 h: steps 3 to 4");
}

TEST_CASE("check warns of what no evening holds and names the key") {
  test::BuildText text = evenings();
  text.removals = R"("box": {"name": "Engine box", "hours_off": 1, "hours_on": 2})";
  text.jobs = R"("lamp": {"name": "Lamp", "want": 5, "hours": 2, "removals": ["box"]},
                 "paint": {"name": "Paint", "want": 5, "hours": 4.5},
                 "tar": {"name": "Tar", "want": 5, "hours": 4.5, "overnight": true})";
  Texts warnings;
  for (const build::Diagnostic& one : check(text.read())) warnings.push_back(build::to_text(one));
  REQUIRE(warnings.size() == 2);
  CHECK(warnings[0].find("/removals/box/overnight: found 5 h off at the least, expected at most 4 h, the "
                         "longest session, or \"overnight\": true: it stays off overnight") !=
        std::string::npos);
  CHECK(warnings[1].find("/jobs/paint/overnight: found 4.5 h at a time, expected at most 4 h, the longest "
                         "session, or \"overnight\": true: it is left half done overnight") !=
        std::string::npos);
}

TEST_CASE("check warns of sessions beyond the plan and of free days without one") {
  test::BuildText text = evenings();
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}, {"date": "2027-05-01", "hours": 4}],
                  "no_sessions": ["2027-01-06"])";
  Texts warnings;
  for (const build::Diagnostic& one : check(text.read())) warnings.push_back(build::to_text(one));
  REQUIRE(warnings.size() == 2);
  CHECK(
      warnings[0].find("/bench/sessions/1/date: found 2027-05-01, expected a day from 2027-01-01, the first "
                       "payday, and before 2027-04-30, when the plan ends; this session is not counted") !=
      std::string::npos);
  CHECK(warnings[1].find(
            "/bench/no_sessions: found 2027-01-06, expected a day on whose weekday there is a session") !=
        std::string::npos);
}

namespace {

build::Build boat() {
  const auto path = build::testing::golden() / "good" / "evenings.build";
  build::Reading reading = build::read_file(path.string());
  REQUIRE(reading.build.has_value());
  return std::move(*reading.build);
}

}  // namespace

TEST_CASE("every output shows a stage's work by sessions") {
  const build::Build build = boat();
  const Outcome outcome = planned_by_sessions(build);
  report::TextOptions options;
  options.steps = true;
  const std::string text = report::text(outcome, options);
  const SessionView* worked = nullptr;
  for (const StageView& stage : outcome.stages) {
    for (const SessionView& session : stage.sessions) worked = session.last_step > 0 ? &session : worked;
  }
  REQUIRE(worked != nullptr);
  const std::string date = budgets::write_date(worked->date);
  CHECK(text.find("session") != std::string::npos);
  CHECK(text.find(date) != std::string::npos);
  CHECK(report::json(outcome).find("\"sessions\"") != std::string::npos);
  CHECK(report::stage_cards(outcome).find("Session " + date) != std::string::npos);
  bool sheet = false;
  for (const sheets::Sheet& one : sheets::make_book(outcome).sheets) {
    for (const auto& [place, cell] : one.cells) {
      const auto* said = std::get_if<std::string>(&cell.value);
      sheet = sheet || (said != nullptr && *said == session_text(*worked));
    }
  }
  CHECK(sheet);
}

TEST_CASE("the calendar has one event a session, with its hours, and none of more") {
  const build::Build build = boat();
  const Outcome outcome = planned_by_sessions(build);
  const std::string text = report::calendar(outcome, {});
  std::size_t sessions = 0;
  for (const StageView& stage : outcome.stages) {
    sessions += stage.sessions.size();
    for (const SessionView& session : stage.sessions) {
      std::string date = budgets::write_date(session.date);
      std::erase(date, '-');
      CHECK(text.find("DTSTART;VALUE=DATE:" + date) != std::string::npos);
      if (session.last_step > 0) CHECK(session.used <= session.minutes);
    }
  }
  std::size_t events = 0;
  for (std::size_t at = 0; (at = text.find("BEGIN:VEVENT", at)) != std::string::npos; ++at) ++events;
  CHECK(events == sessions + outcome.stages.size());
  CHECK(text.find("bench day") == std::string::npos);
}

namespace {

/// The boat's problem with so much more cash that quick effort proves its best plan.
budgets::ProblemData quickly_proven() {
  budgets::ProblemData data = to_staging(boat()).problem;
  data.opening += budgets::Money::of_minor(9000);
  return data;
}

}  // namespace

TEST_CASE("a build by evenings takes no more than half as many steps again as with one date a stage") {
  const budgets::ProblemData evenings = quickly_proven();
  budgets::ProblemData twin = evenings;
  for (budgets::Stage& stage : twin.stages) {
    stage.last.reset();
    stage.marks.clear();
  }
  const auto steps = [](const budgets::ProblemData& data) {
    const budgets::Result result = budgets::solve(budgets::Problem(data));
    const auto* proven = std::get_if<budgets::Proven>(&result);
    REQUIRE(proven != nullptr);
    return proven->work.steps;
  };
  const std::int64_t with_sessions = steps(evenings), with_dates = steps(twin);
  MESSAGE("steps with sessions " << with_sessions << ", with one date a stage " << with_dates);
  CHECK(with_sessions * 2 <= with_dates * 3);
}

TEST_CASE("a value that quick effort has proven is not looked for again at normal effort") {
  const budgets::Problem problem(quickly_proven());
  const auto proven = [&](budgets::Effort effort) {
    budgets::SolveOptions options;
    options.effort = effort;
    return std::get<budgets::Proven>(budgets::solve(problem, options));
  };
  const budgets::Proven quick = proven(budgets::Effort::quick), normal = proven(budgets::Effort::normal);
  CHECK(quick.plan.value == normal.plan.value);
  CHECK(normal.ties_proven);
  CHECK(normal.plan.spent <= quick.plan.spent);
  budgets::SolveOptions alone;
  alone.steps = 1'000'000'000;  // normal effort by itself, no lower one first
  const auto anew = std::get<budgets::Proven>(budgets::solve(problem, alone));
  MESSAGE("steps of quick effort " << quick.work.steps << ", with normal " << normal.work.steps
                                   << ", of normal alone " << anew.work.steps);
  CHECK(normal.work.steps - quick.work.steps < anew.work.steps);
}
