#include "cli/command_line/record_arguments.hpp"

#include "lib/log/entry.hpp"

#include <CLI/CLI.hpp>

namespace fettlefund::cli {
namespace {

/// Hours with at most two decimals as whole minutes, rounded to the nearest.
std::optional<std::int64_t> minutes_of(const std::string& hours) {
  const auto hundredths = budgets::read_money(hours, {"", 2}).amount;
  if (!hundredths || hundredths->minor() < 0 || hundredths->minor() > 1'000'000) return std::nullopt;
  return (hundredths->minor() * 60 + 50) / 100;
}

CLI::App& add_action(CLI::App& record, RecordRequest& to, const char* name, const char* what) {
  CLI::App& action = *record.add_subcommand(name, what);
  action.fallthrough();  // --dry-run and --sure may stand behind as well
  if (name == std::string("list")) return action;
  add_day(action, "--on", to.on, "the day it happened; default: today");
  return action;
}

void add_bought(CLI::App& record, RecordRequest& to) {
  CLI::App& bought = add_action(record, to, "bought", "Lines of the shopping list are bought and paid.");
  bought
      .add_option("KEY", to.what,
                  "keys of the lines, as tyre@2 or tyre@2=84.90 at its real price; the article alone where "
                  "it is clear; order:SHOP@2 or stage:2 for all that is still to buy there")
      ->required()
      ->type_name("");
  bought.add_option("--packs", to.packs, "how many packs; default: as planned")
      ->type_name("N")
      ->check(CLI::Range(std::int64_t{1}, log::most_packs));
  bought.add_option("--paid", to.amount, "what was paid for all of them; default: as planned")
      ->type_name("AMOUNT");
  add_day(bought, "--arrives", to.arrives, "the day it arrives; default: by the offer's lead time");
  bought.add_flag("--again", to.again, "although the key is recorded already: this much more was bought");
}

/// What becomes of things that are bought, and of their money.
void add_states(CLI::App& record, RecordRequest& to) {
  const auto keyed = [&](const char* name, const char* what) -> CLI::App& {
    CLI::App& action = add_action(record, to, name, what);
    action
        .add_option_function<std::string>(
            "KEY", [&to](const std::string& key) { to.what = {key}; }, "its key")
        ->required()
        ->type_name("");
    return action;
  };
  CLI::App& deposit = keyed("deposit", "A line is ordered and part of it paid; the rest is paid later.");
  deposit.add_option("AMOUNT", to.amount, "what is paid now")->required()->type_name("");
  deposit
      .add_option("--rest", to.rest_amount,
                  "what is still to be paid; default: the rest of the planned amount")
      ->type_name("AMOUNT");
  add_day(deposit, "--rest-on", to.rest_on, "the day it is to be paid; default: when it arrives");
  add_day(deposit, "--arrives", to.arrives, "the day it arrives; default: by the offer's lead time");
  CLI::App& balance = keyed("balance", "The rest of a deposit is paid.");
  balance.add_option("AMOUNT", to.amount, "what was paid; default: what was left")->type_name("");
  CLI::App& refund = keyed("refund", "Money came back for something bought, which stays.");
  refund.add_option("AMOUNT", to.amount, "how much, above zero")->required()->type_name("");
  keyed("arrived", "Something that was on its way is here.");
  for (const std::string& way : log::ways_to_go()) {
    CLI::App& gone = add_action(record, to, way.c_str(),
                                "Something bought or on hand is gone: it is planned anew where needed.");
    gone.add_option_function<std::string>(
            "ARTICLE", [&to](const std::string& id) { to.what = {id}; }, "its id, or a key of it")
        ->required()
        ->type_name("");
    gone.add_option("--packs", to.packs, "how many packs; default 1")
        ->type_name("N")
        ->check(CLI::Range(std::int64_t{1}, log::most_packs));
    gone.add_option("--back", to.amount, "money that came back for it on that day")->type_name("AMOUNT");
  }
}

/// Bench time, with at most two decimals.
void add_hours(CLI::App& action, const char* name, std::optional<std::int64_t>& to, const char* what) {
  action
      .add_option_function<std::string>(
          name, [&to](const std::string& text) { to = minutes_of(text); }, what)
      ->type_name("H")
      ->check([](const std::string& text) {
        return minutes_of(text) ? "" : "'" + text + "' is not 0 to 10000 hours with at most two decimals";
      });
}

void add_done(CLI::App& record, RecordRequest& to) {
  CLI::App& fitted = add_action(record, to, "fitted", "Jobs are done.");
  fitted.add_option("JOB", to.what, "ids of the jobs")->required()->type_name("");
  add_hours(fitted, "--hours", to.minutes, "what the job took, taking off and putting back included");
  CLI::App& begun = add_action(record, to, "begun", "Work on a job is begun and goes on another day.");
  CLI::App& given_up = add_action(record, to, "given-up", "A job will not be done any more.");
  for (CLI::App* action : {&begun, &given_up}) {
    action
        ->add_option_function<std::string>(
            "JOB", [&to](const std::string& id) { to.what = {id}; }, "its id")
        ->required()
        ->type_name("");
  }
  add_hours(begun, "--hours", to.minutes, "what went into it that day");
  begun.get_option("--hours")->required();
  add_hours(begun, "--rest", to.rest, "what is left of it; default: what was planned less what went into it");
  CLI::App& remark = add_action(record, to, "remark", "Something to remember.");
  remark.add_option("TEXT", to.text, "the remark")->required()->type_name("");
  remark.add_option("--about", to.about, "a key or an id of the build")->type_name("KEY");
}

}  // namespace

void add_day(CLI::App& command, const std::string& name, std::optional<budgets::Date>& to,
             const std::string& what) {
  command
      .add_option_function<std::string>(
          name, [&to](const std::string& text) { to = budgets::read_date(text); }, what)
      ->type_name("DATE")
      ->check([](const std::string& text) {
        return budgets::read_date(text) ? "" : "'" + text + "' is no day like 2026-03-27";
      });
}

void add_record_actions(CLI::App& record, RecordRequest& to) {
  record.require_subcommand(0, 1);
  record.add_flag("--dry-run", to.dry_run, "show what would be recorded, write nothing");
  record.add_flag("--sure", to.sure,
                  "the day is right although it is more than a year from the build's days");
  record
      .add_option("--by", to.by,
                  "who records it, kept with every line; with --from: where the workbook has no name")
      ->type_name("NAME")
      ->check([](const std::string& name) {
        const std::string fault = name.empty() ? "a name that is not empty" : log::fault_of_name(name);
        return fault.empty() ? "" : "'" + name + "': expected " + fault;
      });
  record
      .add_option("--from", to.workbook,
                  "record what was typed into this workbook: ticks, amounts paid, days, hours, remarks")
      ->type_name("FILE.xlsx");
  CLI::Option* merge =
      record.add_option("--merge", to.other, "make one record of this and another of the same build")
          ->type_name("OTHER.record");
  record
      .add_option("--settle", to.settle,
                  "with --merge: of lines that differ mine, theirs or both count; default: they are shown")
      ->type_name("WHOSE")
      ->check(CLI::IsMember({"mine", "theirs", "both"}).description(""))
      ->needs(merge);
  add_day(record, "--on", to.on, "with --from: the day of what has no day in the workbook; default: today");
  add_bought(record, to);
  CLI::App& paid = add_action(record, to, "paid", "What was paid for something bought was another amount.");
  paid.add_option_function<std::string>(
          "KEY", [&to](const std::string& key) { to.what = {key}; }, "its key")
      ->required()
      ->type_name("");
  paid.add_option("AMOUNT", to.amount, "what was paid in all")->required()->type_name("");
  add_states(record, to);
  add_done(record, to);
  CLI::App& counted = add_action(record, to, "counted", "The cash was counted at the end of a day.");
  counted.add_option("AMOUNT", to.amount, "what there is")->required()->type_name("");
  counted.get_option("--on")->required();
  for (const auto& [name, what] : {std::pair{"in", "Money came in besides income and dated money."},
                                   std::pair{"out", "Money went out besides purchases and dated money."}}) {
    CLI::App& moved = add_action(record, to, name, what);
    moved.add_option("AMOUNT", to.amount, "how much, above zero")->required()->type_name("");
    moved.add_option("TEXT", to.text, "what it was")->required()->type_name("");
  }
  add_action(record, to, "agreed", "The current plan is agreed: its jobs stay unless moving one pays.");
  CLI::App& undo = add_action(record, to, "undo", "An entry counts no more.");
  undo.add_option("N", to.entry, "the entry's number, as `record BUILD list` shows it")
      ->required()
      ->type_name("");
  add_action(record, to, "list", "Show the log.");
}

}  // namespace fettlefund::cli
