#include "lib/report/json/json.hpp"

#include "lib/outcome/words.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using budgets::Date;
using budgets::Money;

/// Makes the JSON of one outcome; knows the currency.
class Writer {
 public:
  explicit Writer(const planning::Outcome& outcome) : outcome_(outcome) {}

  Json whole() const {
    const build::Build& build = *outcome_.build;
    const bool proven = outcome_.proof == planning::Proof::proven;
    return {{"report", 1},
            {"status", proven ? "proven" : "stopped"},
            {"exit_code", 0},
            {"build", build.name},
            {"about", build.about},
            {"currency", build.currency.code},
            {"cheapest_of_the_best", proven && outcome_.ties_proven},
            {"value_want_days", outcome_.value_want_days},
            {"bound_want_days", outcome_.bound_want_days},
            {"want_months", planning::want_months_text(outcome_.value_want_days)},
            {"work", {{"steps", outcome_.work.steps}, {"states", outcome_.work.states}}},
            {"end", date(outcome_.end)},
            {"from", maybe(build.money.from, date)},
            {"stages_in_all", build.money.stages},
            {"opening", money(build.money.opening)},
            {"spent", money(outcome_.spent)},
            {"left", money(outcome_.left)},
            {"stages", all(outcome_.stages, &Writer::stage)},
            {"left_out", all(outcome_.left_out, &Writer::left_out)},
            {"so_far", outcome_.so_far},
            {"agreed_kept", outcome_.agreed_kept},
            {"moves", all(outcome_.moves, &Writer::move)},
            {"tools", all(outcome_.tools, &Writer::tool)},
            {"warnings", outcome_.warnings},
            {"cautions", all(outcome_.cautions, &Writer::caution)},
            {"assumptions", outcome_.assumptions}};
  }

 private:
  std::string money(Money amount) const { return budgets::write_money(amount, outcome_.build->currency); }
  static std::string date(Date day) { return budgets::write_date(day); }
  template <class T, class Make>
  static Json maybe(const std::optional<T>& value, Make make) {
    return value ? Json(make(*value)) : Json();
  }

  template <class List, class Method>
  Json all(const List& list, Method method) const {
    Json array = Json::array();
    for (const auto& entry : list) array.push_back((this->*method)(entry));
    return array;
  }

  Json stage(const planning::StageView& stage) const {
    Json json = {{"number", stage.number}, {"payday", date(stage.payday)}, {"bench", date(stage.bench)}};
    json["money"] = stage_money(stage);
    json["minutes"] = {
        {"used", stage.minutes_used}, {"limit", stage.minutes_limit}, {"note", stage.bench_note}};
    json["jobs"] = all(stage.jobs, &Writer::job);
    json["removals"] = all(stage.removals, &Writer::removal);
    json["orders"] = all(stage.orders, &Writer::order);
    json["hires"] = all(stage.hires, &Writer::hire);
    json["fees"] = all(stage.fee_lines, &Writer::fee);
    json["easily_forgotten"] = all(stage.reminders, &Writer::reminder);
    json["work"] = all(stage.work, &Writer::step);
    json["last_session"] = stage.by_sessions ? Json(date(stage.last)) : Json();
    json["sessions"] = all(stage.sessions, &Writer::session);
    json["cautions"] = all(stage.cautions, &Writer::caution);
    json["used"] = all(stage.used, &Writer::used);
    json["tools"] = all(stage.tools, &Writer::stage_tool);
    json["while_off"] = all(stage.while_off, &Writer::due_part);
    json["groups"] = stage.groups;
    return json;
  }

  Json stage_money(const planning::StageView& stage) const {
    return {{"payday_amount", money(stage.payday_amount)},
            {"extras", all(stage.extras, &Writer::extra)},
            {"in", money(stage.cash_in)},
            {"goods", money(stage.goods)},
            {"delivery", money(stage.delivery)},
            {"hire", money(stage.hire)},
            {"fees", money(stage.fees)},
            {"allowance", money(stage.allowance)},
            {"spent", money(stage.spent)},
            {"left", money(stage.cash_after)},
            {"floor", money(stage.floor)}};
  }

  Json extra(const build::Extra& extra) const {
    return {{"date", date(extra.date)}, {"amount", money(extra.amount)}, {"what", extra.what}};
  }

  Json job(const planning::JobView& job) const {
    return {{"id", job.id},           {"name", job.name},     {"want", job.want}, {"must", job.must},
            {"minutes", job.minutes}, {"manual", job.manual}, {"note", job.note}};
  }

  Json removal(const planning::RemovalView& removal) const {
    return {{"id", removal.id},
            {"name", removal.name},
            {"minutes", removal.minutes},
            {"for_good", removal.for_good},
            {"for_jobs", removal.for_jobs}};
  }

  Json used(const planning::UsedLine& line) const {
    Json users = Json::array();
    for (const planning::NeededBy& user : line.needed_by) users.push_back(needed_by(user));
    return {{"article", line.article},
            {"name", line.name},
            {"unit", line.unit},
            {"amount", planning::amount_text(line.amount)},
            {"left", planning::amount_text(line.left)},
            {"from", line.from},
            {"needed_by", users}};
  }

  Json stage_tool(const planning::StageTool& tool) const {
    return {{"id", tool.id}, {"name", tool.name}, {"how", tool.how}};
  }

  Json order(const planning::OrderView& order) const {
    return {{"supplier", order.supplier},
            {"supplier_name", order.supplier_name},
            {"goods", money(order.goods)},
            {"delivery", money(order.delivery)},
            {"lines", all(order.lines, &Writer::line)}};
  }

  Json line(const planning::ShoppingLine& line) const {
    static constexpr const char* kinds[] = {"part", "consumable", "tool"};
    return {{"key", line.key},
            {"article", line.article},
            {"name", line.name},
            {"kind", kinds[static_cast<int>(line.kind)]},
            {"for_stage", line.for_stage + 1},
            {"packs", line.packs},
            {"pack", planning::amount_text(line.pack)},
            {"unit", line.unit},
            {"price", money(line.price)},
            {"amount", money(line.amount)},
            {"arrives", date(line.arrives)},
            {"last_order_day", maybe(line.last_order_day, date)},
            {"needed_by", all(line.needed_by, &Writer::needed_by)},
            {"easily_forgotten", line.reason}};
  }

  Json needed_by(const planning::NeededBy& user) const {
    return {{"id", user.id}, {"name", user.name}, {"kind", user.removal ? "removal" : "job"}};
  }

  Json hire(const planning::HireLine& hire) const {
    return {{"tool", hire.tool}, {"name", hire.name}, {"amount", money(hire.amount)}};
  }

  Json fee(const planning::FeeLine& fee) const {
    return {{"job", fee.job}, {"name", fee.name}, {"amount", money(fee.amount)}};
  }

  Json reminder(const planning::Reminder& reminder) const {
    return {{"key", reminder.key},
            {"rule", reminder.rule},
            {"article", reminder.article},
            {"amount", planning::amount_text(reminder.amount)},
            {"unit", reminder.unit},
            {"why", reminder.why},
            {"needed_by", needed_by(reminder.needed_by)},
            {"also_needed_by", all(reminder.also, &Writer::needed_by)},
            {"in_plan", reminder.bought},
            {"paid", maybe(reminder.amount_paid_in_plan, [&](Money amount) { return money(amount); })}};
  }

  Json step(const planning::WorkStep& step) const {
    static constexpr const char* kinds[] = {"off", "work", "on", "tighten", "lock", "check"};
    return {{"number", step.number}, {"kind", kinds[static_cast<int>(step.kind)]},
            {"of", step.of},         {"text", step.text},
            {"torque", step.torque}, {"source", step.source},
            {"limits", step.limits}, {"second_person", step.helper},
            {"mind", step.cautions}};
  }

  Json session(const planning::SessionView& session) const {
    return {{"date", date(session.date)},
            {"minutes", session.minutes},
            {"used", session.used},
            {"first_step", session.first_step},
            {"last_step", session.last_step},
            {"goes_on", session.goes_on},
            {"works_on", session.jobs},
            {"open_overnight", session.open},
            {"open_not_said", session.unsaid},
            {"late", session.late}};
  }

  Json caution(const planning::Caution& caution) const {
    return {{"text", caution.text}, {"source", caution.source}};
  }

  Json due_part(const planning::DuePart& part) const {
    return {{"fitted", part.fitted},
            {"name", part.name},
            {"due", date(part.due)},
            {"overdue_months", part.overdue_months},
            {"job", part.job},
            {"renewed_here", part.chosen},
            {"renewed_in", maybe(part.renewed_in, [](int stage) { return stage + 1; })},
            {"extra_money", maybe(part.extra_money, [&](Money amount) { return money(amount); })},
            {"extra_minutes", maybe(part.extra_minutes, [](std::int64_t minutes) { return minutes; })}};
  }

  Json left_out(const planning::LeftOut& left) const {
    return {{"job", left.job}, {"name", left.name}, {"reason", left.reason}};
  }

  Json move(const planning::Move& move) const {
    const bool planned = move.stage >= 0;
    return {{"job", move.job},
            {"name", move.name},
            {"agreed_bench", date(move.agreed_bench)},
            {"stage", planned ? Json(move.stage + 1) : Json()},
            {"bench", planned ? Json(date(move.bench)) : Json()},
            {"reasons", move.reasons}};
  }

  Json tool(const planning::ToolView& tool) const {
    return {{"id", tool.id},
            {"name", tool.name},
            {"how", tool.how},
            {"first_stage", tool.first_stage + 1},
            {"amount", money(tool.amount)},
            {"used_for", tool.used_for}};
  }

  const planning::Outcome& outcome_;
};

std::string written(const Json& json) {
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

Json told(const build::Diagnostic& diagnostic) {
  Json json{{"severity", build::word_of(diagnostic.severity)},
            {"file", diagnostic.file},
            {"line", diagnostic.place.line},
            {"column", diagnostic.place.column},
            {"pointer", diagnostic.pointer},
            {"found", diagnostic.found},
            {"expected", diagnostic.expected},
            {"nearest", diagnostic.nearest}};
  if (!diagnostic.cell.empty()) json["cell"] = diagnostic.cell;
  return json;
}

}  // namespace

std::string json(const planning::Outcome& outcome) { return written(Writer(outcome).whole()); }

std::string json(const planning::Conflict& conflict) {
  return written({{"report", 1},
                  {"status", "impossible"},
                  {"exit_code", 3},
                  {"from", conflict.from ? Json(budgets::write_date(*conflict.from)) : Json()},
                  {"jobs", conflict.jobs},
                  {"sentences", conflict.sentences}});
}

std::string json(const planning::NoPlan& nothing) {
  return written({{"report", 1},
                  {"status", "no-plan"},
                  {"exit_code", 4},
                  {"work", {{"steps", nothing.work.steps}, {"states", nothing.work.states}}}});
}

std::string json(const std::vector<build::Diagnostic>& diagnostics) {
  const bool bad = build::has_errors(diagnostics);
  Json all = Json::array();
  for (const build::Diagnostic& diagnostic : diagnostics) all.push_back(told(diagnostic));
  return written({{"report", 1},
                  {"status", bad ? "bad-input" : "ok"},
                  {"exit_code", bad ? 2 : 0},
                  {"diagnostics", all}});
}

}  // namespace fettlefund::report
