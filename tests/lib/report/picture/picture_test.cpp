#include "lib/report/picture/picture.hpp"

#include "lib/report/picture/layout.hpp"
#include "tests/lib/support/build_fixture.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;
using report::PictureLayout;
using report::PictureModel;

namespace {

/// Stages given as lists of jobs, each job with its name as id.
planning::Outcome outcome_of(const build::Build& build, const std::vector<std::vector<std::string>>& stages) {
  planning::Outcome outcome;
  outcome.build = &build;
  for (const auto& ids : stages) {
    planning::StageView& stage = outcome.stages.emplace_back();
    stage.number = static_cast<int>(outcome.stages.size());
    stage.payday = budgets::make_date(2027, 1, 29) + 30 * stage.number;
    stage.bench = stage.payday + 8;
    for (const std::string& id : ids) stage.jobs.push_back({id, "the " + id, 5, false, 60});
  }
  return outcome;
}

planning::RemovalView opened(const std::string& id) { return {id, "the " + id, 60, {}}; }

/// Bands of 0 to 7 boxes; arrows from earlier boxes to later ones; strips over boxes of one band.
PictureModel random_model() {
  PictureModel model;
  const int bands = *rc::gen::inRange(1, 8);
  for (int b = 0; b < bands; ++b) {
    report::Band& band = model.bands.emplace_back();
    band.stage = b;
    band.label = {"Stage", "payday"};
    for (int i = *rc::gen::inRange(0, 8); i > 0; --i) {
      report::Box& box = model.boxes.emplace_back();
      box.name = "a job with a name of several words";
      box.about = "want 5, 1 h";
      box.band = b;
      band.boxes.push_back(static_cast<int>(model.boxes.size()) - 1);
    }
    for (int s = *rc::gen::inRange(0, 4); s > 0 && !band.boxes.empty(); --s) {
      const int first = *rc::gen::inRange(0, static_cast<int>(band.boxes.size()));
      const int last = *rc::gen::inRange(first, static_cast<int>(band.boxes.size()));
      band.strips.push_back(
          {"off: this, that and the other", {band.boxes.begin() + first, band.boxes.begin() + last + 1}});
    }
  }
  const int boxes = static_cast<int>(model.boxes.size());
  for (int a = *rc::gen::inRange(0, 15); a > 0 && boxes > 1; --a) {
    const int to = *rc::gen::inRange(1, boxes);
    model.arrows.push_back({*rc::gen::inRange(0, to), to});
  }
  return model;
}

bool apart(double a, double a_size, double b, double b_size) {
  return a + a_size <= b + 1e-9 || b + b_size <= a + 1e-9;
}

template <class Rect>
bool apart(const Rect& a, const Rect& b) {
  return apart(a.x, a.width, b.x, b.width) || apart(a.y, a.height, b.y, b.height);
}

/// Does the straight line between two points run through the inside of the box?
bool runs_through(const report::Point& a, const report::Point& b, const report::PlacedBox& box) {
  const double edge = 1e-6;
  return std::max(a.x, b.x) > box.x + edge && std::min(a.x, b.x) < box.x + box.width - edge &&
         std::max(a.y, b.y) > box.y + edge && std::min(a.y, b.y) < box.y + box.height - edge;
}

}  // namespace

TEST_CASE("no two boxes or strips of a picture overlap and all stand on the page within their band") {
  CHECK(rc::check("boxes", [] {
    const PictureModel model = random_model();
    const PictureLayout layout = report::lay_out(model, 210);
    for (std::size_t i = 0; i < layout.boxes.size(); ++i) {
      const auto& box = layout.boxes[i];
      const auto& band = layout.bands[static_cast<std::size_t>(model.boxes[i].band)];
      RC_ASSERT(box.x >= layout.left);
      RC_ASSERT(box.x + box.width <= layout.width);
      RC_ASSERT(box.y >= band.y);
      RC_ASSERT(box.y + box.height <= band.y + band.height);
      for (std::size_t j = 0; j < i; ++j) RC_ASSERT(apart(box, layout.boxes[j]));
    }
    for (const auto& band : layout.bands) {
      for (std::size_t i = 0; i < band.strips.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) RC_ASSERT(apart(band.strips[i], band.strips[j]));
      }
    }
    for (std::size_t b = 1; b < layout.bands.size(); ++b) {
      RC_ASSERT(layout.bands[b - 1].y + layout.bands[b - 1].height <= layout.bands[b].y);
    }
    RC_ASSERT(layout.foot <= layout.height);
  }));
}

TEST_CASE(
    "an arrow goes from its job to the job after it and never runs behind another box on its way down") {
  CHECK(rc::check("arrows", [] {
    const PictureModel model = random_model();
    const PictureLayout layout = report::lay_out(model, 210);
    RC_ASSERT(layout.arrows.size() == model.arrows.size());
    for (std::size_t a = 0; a < layout.arrows.size(); ++a) {
      const auto& points = layout.arrows[a].points;
      const auto& from = layout.boxes[static_cast<std::size_t>(model.arrows[a].from)];
      const auto& to = layout.boxes[static_cast<std::size_t>(model.arrows[a].to)];
      if (layout.arrows[a].level) {
        RC_ASSERT(from.y == to.y);
        for (const auto& box : layout.boxes) RC_ASSERT_FALSE(runs_through(points[0], points[1], box));
        continue;
      }
      RC_ASSERT(std::abs(points.front().y - (from.y + from.height)) < 1e-9);
      RC_ASSERT(points.front().x > from.x);
      RC_ASSERT(points.front().x < from.x + from.width);
      const double end = from.y == to.y ? to.y + to.height : to.y;
      RC_ASSERT(std::abs(points.back().y - end) < 1e-9);
      RC_ASSERT(points.back().x > to.x);
      RC_ASSERT(points.back().x < to.x + to.width);
      for (std::size_t i = 1; i < points.size(); ++i) {
        for (const auto& box : layout.boxes) RC_ASSERT_FALSE(runs_through(points[i - 1], points[i], box));
      }
    }
  }));
}

TEST_CASE("jobs that must come after one another in a stage stand from left to right") {
  test::BuildMaker maker;
  maker.job("last", {}, {"middle"});
  maker.job("middle", {}, {"first"});
  maker.job("first");
  const auto model = report::picture_model(outcome_of(maker.build(), {{"last", "middle", "first"}}));
  const PictureLayout layout = report::lay_out(model, 210);
  CHECK(layout.boxes[2].x < layout.boxes[1].x);
  CHECK(layout.boxes[1].x < layout.boxes[0].x);
}

TEST_CASE("an arrow that others in a row imply is left out") {
  test::BuildMaker maker;
  maker.job("a");
  maker.job("b", {}, {"a"});
  maker.job("c", {}, {"a", "b"});
  const auto model = report::picture_model(outcome_of(maker.build(), {{"a"}, {"b"}, {"c"}}));
  REQUIRE(model.arrows.size() == 2);
  CHECK(model.arrows[0].to == 1);
  CHECK(model.arrows[1].from == 1);
}

TEST_CASE("removals that the same jobs need share a strip in the order in which they come off") {
  test::BuildMaker maker;
  maker.removal("tank", {"panels"});
  maker.removal("panels", {"seat"});
  maker.removal("seat");
  maker.job("filter", {"tank"});
  maker.job("battery", {"seat"});
  auto outcome = outcome_of(maker.build(), {{"filter", "battery"}});
  outcome.stages[0].removals = {opened("tank"), opened("panels"), opened("seat")};
  const auto model = report::picture_model(outcome);
  REQUIRE(model.bands[0].strips.size() == 2);
  CHECK(model.bands[0].strips[0].text == "off: the panels, the tank");
  CHECK(model.bands[0].strips[0].boxes == std::vector<int>{0});
  CHECK(model.bands[0].strips[1].text == "off: the seat");
  CHECK(model.bands[0].strips[1].boxes == std::vector<int>{0, 1});
}

TEST_CASE("a clash is numbered on both its sides and on what makes them fit") {
  test::BuildMaker maker;
  maker.job("guard");
  maker.job("trim");
  build::Fitted stays;
  stays.id = stays.name = "stand";
  build::Fitted goes;
  goes.id = goes.name = "old guard";
  goes.replaced_by = {"guard"};
  maker.build().fitted = {stays, goes};
  build::Clash clash;
  clash.a = "guard";
  clash.b = "stand";
  clash.unless = {"trim"};
  clash.why = "they touch";
  maker.build().clashes = {clash};
  const auto model = report::picture_model(outcome_of(maker.build(), {{"guard"}, {"trim"}}));
  REQUIRE(model.boxes.size() == 3);  // the stand, then the jobs; the old guard stands in its job's box
  CHECK(model.boxes[0].kind == report::BoxKind::fitted);
  CHECK(model.boxes[0].clashes == std::vector<int>{1});
  CHECK(model.boxes[1].clashes == std::vector<int>{1});
  CHECK(model.boxes[1].takes_off == std::vector<std::string>{"old guard"});
  CHECK(model.boxes[2].settles == std::vector<int>{1});
  CHECK(model.clashes[0] == "the guard and stand do not fit together: they touch; made to fit by: the trim.");
}

TEST_CASE("a picture fits an A4 sheet and the same outcome gives the same bytes") {
  const auto fixture = test::long_outcome();
  const std::string svg = report::picture(fixture.outcome);
  CHECK(svg.find("width=\"210mm\" height=\"297mm\"") != std::string::npos);
  CHECK(svg == report::picture(test::long_outcome().outcome));
}

TEST_CASE("texts of a build cannot become marks of the picture") {
  test::BuildMaker maker;
  maker.build().name = "</text><script>alert(1)</script>";
  maker.job("a");
  auto outcome = outcome_of(maker.build(), {{"a"}});
  outcome.stages[0].jobs[0].name = "x\" onload=\"y & <b>\x01\xEF\xBF\xBE";
  const std::string svg = report::picture(outcome);
  CHECK(svg.find("<script") == std::string::npos);
  CHECK(svg.find("x&quot; onload=&quot;y &amp;") != std::string::npos);
  CHECK(svg.find('\x01') == std::string::npos);
  CHECK(svg.find("\xEF\xBF\xBE") == std::string::npos);
}

TEST_CASE("many stages make a picture higher than one sheet") {
  test::BuildMaker maker;
  std::vector<std::vector<std::string>> stages;
  for (int s = 0; s < 60; ++s) {
    stages.emplace_back();
    for (int j = 0; j < 3; ++j) {
      const std::string id = "job-" + std::to_string(3 * s + j);
      build::Job& job = maker.job(id);
      if (s > 0) job.after = {"job-" + std::to_string((7 * s + j) % (3 * s))};
      stages.back().push_back(id);
    }
  }
  const auto layout = report::lay_out_on_a4(report::picture_model(outcome_of(maker.build(), stages)));
  CHECK(layout.height > layout.width * 2);
}
