#include "tests/lib/support/outcome_fixture.hpp"

#include <string>

namespace fettlefund::test {

namespace {

using budgets::make_date;
using budgets::Money;
using planning::OrderView;
using planning::Reminder;
using planning::ShoppingLine;
using planning::StageView;
using planning::StepKind;
using planning::WorkStep;

Money cents(std::int64_t minor) { return Money::of_minor(minor); }

OutcomeFixture start(const std::string& name, std::int64_t opening, std::int64_t keep_back,
                     std::int64_t amount) {
  OutcomeFixture fixture;
  fixture.build = std::make_unique<build::Build>();
  build::Build& b = *fixture.build;
  b.file = "invented.build";
  b.name = name;
  b.currency = {"EUR", 2};
  b.money.opening = cents(opening);
  b.money.keep_back = cents(keep_back);
  b.money.amount = cents(amount);
  b.money.allowance_bp = 500;
  fixture.outcome.build = fixture.build.get();
  return fixture;
}

StageView& add_stage(OutcomeFixture& fixture, budgets::Date payday, std::int64_t hours) {
  StageView stage;
  stage.number = static_cast<int>(fixture.outcome.stages.size()) + 1;
  stage.payday = payday;
  stage.bench = payday + 8;
  stage.payday_amount = stage.cash_in = fixture.build->money.amount;
  stage.floor = fixture.build->money.keep_back;
  stage.minutes_limit = hours * 60;
  fixture.outcome.stages.push_back(stage);
  return fixture.outcome.stages.back();
}

OrderView& add_order(StageView& stage, const std::string& id, const std::string& name, std::int64_t charge,
                     std::int64_t free_from) {
  OrderView order;
  order.stage = stage.number - 1;
  order.supplier = id;
  order.supplier_name = name;
  order.delivery_charge = cents(charge);
  if (free_from > 0) order.free_from = cents(free_from);
  stage.orders.push_back(order);
  return stage.orders.back();
}

ShoppingLine& add_line(const StageView& stage, OrderView& order, const std::string& id,
                       const std::string& name, std::int64_t packs, std::int64_t price,
                       const std::string& job) {
  ShoppingLine line;
  line.article = id;
  line.name = name;
  line.stage = line.for_stage = order.stage;
  line.key = id + "@" + std::to_string(stage.number);
  line.packs = packs;
  line.unit = "piece";
  line.price = cents(price);
  line.amount = line.price * packs;
  line.arrives = stage.payday + 3;
  line.needed_by.push_back({job, job, false});
  order.lines.push_back(line);
  return order.lines.back();
}

void add_step(StageView& stage, StepKind kind, const std::string& of, const std::string& text,
              const std::string& torque = "", bool helper = false) {
  WorkStep step;
  step.number = static_cast<int>(stage.work.size()) + 1;
  step.kind = kind;
  step.of = step.of_name = of;
  step.text = text;
  step.torque = torque;
  if (!torque.empty()) step.source = "invented workshop notes, page 7";
  step.helper = helper;
  stage.work.push_back(step);
}

void add_reminder(StageView& stage, const std::string& rule, const std::string& article,
                  const std::string& why, const std::string& job, bool bought = false) {
  Reminder reminder;
  reminder.rule = rule;
  reminder.key = rule + "@" + job + "@" + std::to_string(stage.number);
  reminder.article = article;
  reminder.amount = 2000;
  reminder.unit = "piece";
  reminder.why = why;
  reminder.needed_by = {job, job, false};
  reminder.bought = bought;
  stage.reminders.push_back(reminder);
}

void add_up(StageView& stage, std::int64_t allowance_bp) {
  stage.goods = stage.delivery = stage.hire = stage.fees = Money{};
  for (OrderView& order : stage.orders) {
    order.goods = Money{};
    for (const ShoppingLine& line : order.lines) order.goods += line.amount;
    const bool free = order.free_from && order.goods >= *order.free_from;
    order.delivery = free ? Money{} : order.delivery_charge;
    stage.goods += order.goods;
    stage.delivery += order.delivery;
  }
  for (const auto& hire : stage.hires) stage.hire += hire.amount;
  for (const auto& fee : stage.fee_lines) stage.fees += fee.amount;
  const Money base = stage.goods + stage.delivery + stage.hire + stage.fees;
  stage.allowance = cents((base.minor() * allowance_bp + 9999) / 10000);
  stage.spent = base + stage.allowance;
}

/// One of the long build's jobs with what belongs to it.
struct Job {
  const char* id;
  const char* name;
  std::int64_t hours_quarters;
  const char* parts[4][2];  ///< id, name; unused ones null
  std::int64_t prices[4];
};

const Job kJobs[] = {
    {"fork-service",
     "Renew the fork seals and oil",
     14,
     {{"fork-seal", "Fork seal set, 41 mm"},
      {"fork-oil", "Fork oil, 10 W, 1 litre"},
      {"dust-cap", "Dust caps"},
      {"copper-washer", "Copper sealing washers, 10 mm"}},
     {2795, 1489, 1190, 249}},
    {"final-drive",
     "Change to the 520 chain with 15 and 42 teeth",
     11,
     {{"chain", "Chain 520, 110 links with rivet link"},
      {"front-sprocket", "Front sprocket, 15 teeth"},
      {"rear-sprocket", "Rear sprocket, 42 teeth"},
      {"tab-washer", "Tab washer of the front sprocket"}},
     {10995, 2349, 5290, 310}},
    {"front-brake",
     "Braided front brake hose and new pads",
     9,
     {{"brake-hose", "Braided brake hose, 900 mm"},
      {"pads", "Front brake pads"},
      {"brake-fluid", "Brake fluid DOT 4, 500 ml"},
      {"banjo-washer", "Banjo bolt washers"}},
     {6450, 3895, 949, 180}},
    {"loom",
     "Re-route the loom under the seat",
     18,
     {{"loom-sleeve", "Loom sleeve, 13 mm, sold by the metre"},
      {"connector", "Weather-proof connectors, 4-way"},
      {"fuse-box", "Blade fuse box with lid"},
      {nullptr, nullptr}},
     {345, 690, 1890, 0}},
    {"wheel-bearings",
     "Wheel bearings, front and rear",
     8,
     {{"bearing-front", "Front wheel bearings, sealed"},
      {"bearing-rear", "Rear wheel bearings, sealed"},
      {"axle-seal", "Axle seals"},
      {nullptr, nullptr}},
     {1990, 2390, 860, 0}},
    {"exhaust",
     "Two-into-one exhaust",
     7,
     {{"exhaust", "Two-into-one exhaust, stainless, with a very long name that has to wrap in its cell"},
      {"exhaust-gasket", "Exhaust gaskets"},
      {"stud", "Exhaust studs and brass nuts"},
      {nullptr, nullptr}},
     {38900, 780, 1240, 0}},
};

void add_job(OutcomeFixture& fixture, StageView& stage, const Job& job) {
  stage.jobs.push_back({job.id, job.name, 7, stage.number == 3, job.hours_quarters * 15});
  stage.minutes_used += job.hours_quarters * 15;
  OrderView& post = add_order(stage, "north-quay", "North Quay Post", 690, 12000);
  for (int i = 0; i < 4 && job.parts[i][0] != nullptr; ++i) {
    auto& line = add_line(stage, post, job.parts[i][0], job.parts[i][1], 1 + i % 2, job.prices[i], job.name);
    if (i == 1) line.last_order_day = stage.payday + 20;
  }
  OrderView& corner = add_order(stage, "corner", "Corner Hardware", 0, 0);
  auto& rag = add_line(stage, corner, "clean-rag", "Cleaning cloths", 1, 399, job.name);
  rag.reason = "clean hands and clean threads; there is never a cloth when one is needed";
  rag.key += "#cloth";
  add_step(stage, StepKind::off, "Seat and tank",
           "Close the fuel tap, pull off the hose and catch what runs out.", "", false);
  add_step(stage, StepKind::off, "Seat and tank", "Lift the tank up and back off its rubbers.", "", true);
  add_step(stage, StepKind::work, job.name,
           "Take a picture of how every cable and hose runs before anything moves.");
  add_step(stage, StepKind::work, job.name, "Fit the new parts in the order the maker's manual gives.");
  add_step(stage, StepKind::tighten, job.name, "Pinch bolts, opposite pairs, in two rounds",
           "22 N m (16.2 lbf ft)");
  add_step(stage, StepKind::on, "Seat and tank",
           "Tank back on, hose and clip, look for drips with the tap open.");
  add_step(stage, StepKind::check, job.name, "Turn the bars from lock to lock: nothing pulls tight.");
  add_reminder(stage, "cloth", "Cleaning cloths", rag.reason, job.name, true);
  add_reminder(stage, "thread-lock", "Thread locker, medium",
               "small bolts near a spinning part shake loose; a drop on clean threads holds them", job.name);
  stage.cautions.push_back({"Fuel burns: work in moving air, no flame or spark near it, and wipe up at once.",
                            "common practice, no source"});
  if (std::string(job.id) == "final-drive")
    stage.groups.push_back("Chain size 520 ties sprockets and chain to one stage.");
  (void)fixture;
}

}  // namespace

void add_up(OutcomeFixture& fixture) {
  planning::Outcome& outcome = fixture.outcome;
  Money cash = fixture.build->money.opening;
  outcome.spent = Money{};
  for (StageView& stage : outcome.stages) {
    add_up(stage, fixture.build->money.allowance_bp);
    cash = cash + stage.cash_in - stage.spent;
    stage.cash_after = cash;
    outcome.spent += stage.spent;
  }
  outcome.left = cash;
}

OutcomeFixture small_outcome() {
  OutcomeFixture fixture = start("Invented runabout", 10000, 5000, 20000);
  StageView one = add_stage(fixture, make_date(2026, 1, 30), 6);
  one.jobs.push_back({"pump", "Renew the pump", 5, true, 150});
  one.minutes_used = 150;
  add_line(one, add_order(one, "quay", "Quay (invented)", 490, 15000), "impeller", "Impeller", 3, 1999,
           "Renew the pump");
  one.fee_lines.push_back({"pump", "Renew the pump", cents(2000)});
  add_reminder(one, "grease", "Silicone grease", "rubber runs dry at the first start", "Renew the pump");
  add_step(one, StepKind::work, "Renew the pump", "=1+1 is a text and stays one");
  fixture.outcome.stages[0] = one;
  StageView two = add_stage(fixture, make_date(2026, 2, 27), 2);
  two.jobs.push_back({"seat", "Re-cover the seat", 3, false, 90});
  two.minutes_used = 90;
  add_line(two, add_order(two, "quay", "Quay (invented)", 490, 15000), "cover", "Cover", 1, 15000,
           "Re-cover the seat");
  two.hires.push_back({"stapler", "Heavy stapler", cents(1200)});
  fixture.outcome.stages[1] = two;
  fixture.outcome.value_want_days = 487;
  fixture.outcome.bound_want_days = 487;
  fixture.outcome.end = make_date(2026, 3, 27);
  fixture.outcome.tools.push_back(
      {"stapler", "Heavy stapler", "hired in stage 2", 1, cents(1200), {"Re-cover the seat"}});
  fixture.outcome.left_out.push_back(
      {"mast", "Varnish the mast", "costs 312.00 with what it opens; at most 120.00 is ever free"});
  add_up(fixture);
  return fixture;
}

OutcomeFixture long_outcome() {
  OutcomeFixture fixture = start("Harbour Mule 350 & winter rebuild (invented)", 24350, 15000, 26000);
  build::Job& renews = fixture.build->jobs.emplace_back();
  renews.id = "fork-service";
  renews.name = "Renew the fork seals and oil";
  for (int month = 0; month < 13; ++month) {
    const unsigned m = static_cast<unsigned>(month % 12) + 1;
    add_stage(fixture, make_date(2026 + month / 12, m, 25), 6);
  }
  auto& stages = fixture.outcome.stages;
  for (std::size_t i = 0; i < 13; ++i)
    if (i % 6 != 5) add_job(fixture, stages[i], kJobs[(i + i / 6) % 6]);
  stages[0].groups.clear();
  stages[2].hires.push_back({"lift", "Paddock lift", cents(1500)});
  stages[2].fee_lines.push_back({"front-brake", "Brake test at a licensed workshop", cents(2500)});
  stages[4].extras.push_back({stages[4].payday - 3, cents(12000), "Old exhaust sold"});
  stages[4].cash_in += cents(12000);
  stages[6].minutes_limit = 120;
  stages[6].bench_note = "holidays";
  stages[1].while_off.push_back(
      {"fork-oil", "Fork oil", 1, make_date(2025, 6, 1), 8, "fork-service", true, cents(1489), 30});
  stages[3].while_off.push_back(
      {"head-bearing", "Steering head bearing", 3, make_date(2026, 9, 1), -4, "", false, {}, {}});
  auto& outcome = fixture.outcome;
  outcome.value_want_days = 48211;
  outcome.bound_want_days = 48211;
  outcome.end = make_date(2027, 2, 25);
  const auto add_tool = [&](const char* id, const char* name, const char* how, std::int64_t price) {
    outcome.tools.push_back(
        {id, name, how, 1, cents(price), {"Renew the fork seals and oil", "Front wheel off"}});
  };
  add_tool("torque-wrench", "Torque wrench, 10 to 100 N m", "owned", 0);
  add_tool("chain-tool", "Chain breaker and rivet tool", "not covered", 0);
  add_tool("seal-driver", "Seal driver, 41 mm", "bought in stage 2", 4590);
  outcome.left_out.push_back({"paint", "Paint the tank in two colours",
                              "costs 412.50 with what it opens; at most 180.00 is ever free"});
  outcome.left_out.push_back(
      {"heated-grips", "Heated grips", "the plan's other jobs are worth more for the money and hours"});
  outcome.warnings.push_back(
      "Chain breaker and rivet tool: not owned, no offer and no hire price; the plan does not cover it.");
  outcome.assumptions.push_back("Bills dated between two paydays are kept back on the earlier one.");
  outcome.cautions.push_back(
      {"A machine off its wheels can fall: stand it on stands that are made for its weight, on firm ground.",
       "common practice, no source"});
  add_up(fixture);
  return fixture;
}

}  // namespace fettlefund::test
