#include "cli/command_line/subcommands.hpp"

#include "cli/command_line/record_arguments.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Want-months with at most one decimal as whole want-days, rounded up.
std::optional<std::int64_t> days_of(const std::string& months) {
  const auto tenths = budgets::read_money(months, {"", 1}).amount;
  if (!tenths || tenths->minor() < 0 || tenths->minor() > 1'000'000) return std::nullopt;
  return (tenths->minor() * 304'375 + 99'999) / 100'000;
}

void add_output(CLI::App& command, Request& request, const char* what) {
  command.add_option("-o,--output", request.output, what)->type_name("FILE");
}

void add_effort_alone(CLI::App& command, Words& words, const char* what) {
  command.add_option("--effort", words.effort, what)
      ->type_name("LEVEL")
      ->check(CLI::IsMember({"quick", "normal", "thorough"}).description(""));
}

void add_effort(CLI::App& command, Request& request, Words& words) {
  add_effort_alone(command, words, "how long to look for a better plan: quick, normal (default) or thorough");
  command.add_flag("--progress", request.progress, "show progress even if this is not a terminal");
  add_day(command, "--from", request.from, "plan from this day on; default: the log's last day");
  command.add_flag("--no-log", request.no_log, "plan as if nothing had been recorded");
  command
      .add_option_function<std::string>(
          "--keep", [&request](const std::string& text) { request.keep_days = days_of(text).value_or(0); },
          "an agreed job moves only if that gains more than this; default 2.0")
      ->type_name("WANT_MONTHS")
      ->check([](const std::string& text) {
        return days_of(text) ? "" : "'" + text + "' is not 0 to 100000 with at most one decimal";
      });
}

void add_file(CLI::App& command, Request& request, const char* what = "the build file, or a form") {
  command.add_option("FILE", request.file, what)->required()->type_name("");
}

constexpr const char* build_or_purse = "the build file, a form, or a purse of several builds";

/// The commands that plan a build and write one file of it.
void add_outputs(CLI::App& app, Request& request, Words& words) {
  CLI::App& calendar = *app.add_subcommand("calendar", "Plan a build and write its paydays and bench dates.");
  add_file(calendar, request, build_or_purse);
  add_effort(calendar, request, words);
  calendar.add_option("--revision", request.revision, "0 (default) or, for a later plan, a larger number")
      ->type_name("N")
      ->check(CLI::Range(0, 1'000'000));
  add_output(calendar, request, "the calendar to write; default: the build file's name with .ics; - prints");

  CLI::App& shopping = *app.add_subcommand("shopping", "Plan a build and write its shopping list as CSV.");
  add_file(shopping, request, build_or_purse);
  add_effort(shopping, request, words);
  add_output(shopping, request, "the list to write; default: the build file's name with .csv; - prints");

  CLI::App& page =
      *app.add_subcommand("page", "Plan a build and write a card a stage as one page for the bench.");
  add_file(page, request, build_or_purse);
  add_effort(page, request, words);
  add_output(page, request, "the page to write; default: the build file's name with .html; - prints");

  CLI::App& picture = *app.add_subcommand("picture", "Plan a build and draw what depends on what, by stage.");
  add_file(picture, request);
  add_effort(picture, request, words);
  add_output(picture, request, "the picture to write; default: the build file's name with .svg; - prints");
}

void add_colour(CLI::App& command, Words& words) {
  command.add_option("--colour", words.colour, "colours: auto (default), always or never")
      ->type_name("WHEN")
      ->check(CLI::IsMember({"auto", "always", "never"}).description(""));
}

void add_drive(CLI::App& app, Request& request, Words& words) {
  CLI::App& drive =
      *app.add_subcommand("drive", "Print the drive train's figures before and after the change.");
  add_file(drive, request);
  drive.add_flag("--json", request.json, "report as JSON, for programs");
  add_colour(drive, words);
  add_output(drive, request, "write the figures to FILE instead of the screen");
}

void add_risk(CLI::App& app, Request& request, Words& words) {
  CLI::App& risk = *app.add_subcommand(
      "risk", "Plan a build and print whether the plan holds when prices and lead times vary.");
  add_file(risk, request);
  risk.add_flag("--json", request.json, "report as JSON, for programs");
  risk.add_option("--samples", request.samples, "how often prices are drawn: 100 to 1000000, default 10000")
      ->type_name("N")
      ->check(CLI::Range(100, 1'000'000));
  add_effort(risk, request, words);
  add_colour(risk, words);
  add_output(risk, request, "write the report to FILE instead of the screen");
}

void add_year(CLI::App& app, Request& request, Words& words) {
  CLI::App& year = *app.add_subcommand("year", "Print what was planned and what was paid and done.");
  add_file(year, request);
  add_day(year, "--until", request.from, "up to this day; default: the log's last day");
  CLI::Option* json = year.add_flag("--json", request.json, "report as JSON, for programs");
  year.add_flag("--prices", request.prices,
                "print instead the offers whose prices were not the likely ones, as lines for the build file")
      ->excludes(json);
  add_colour(year, words);
  add_output(year, request, "write the report to FILE instead of the screen");
}

void add_why(CLI::App& app, Request& request, Words& words) {
  CLI::App& why = *app.add_subcommand("why", "Print what holds a job where the plan has it, or out of it.");
  add_file(why, request);
  why.add_option("JOB", request.job, "the job's id in the build file")->required()->type_name("");
  why.add_option("--stage", request.stage, "ask about this earlier stage only, and in words")
      ->type_name("N")
      ->check(CLI::Range(1, 120));
  why.add_flag("--json", request.json, "report as JSON, for programs");
  add_effort(why, request, words);
  add_colour(why, words);
  add_output(why, request, "write the report to FILE instead of the screen");
}

void add_compare(CLI::App& app, Request& request, Words& words) {
  CLI::App& compare =
      *app.add_subcommand("compare", "Plan a build as it is and under changes, side by side.");
  add_file(compare, request);
  compare
      .add_option(
          "--with", request.with,
          "changes for one column, with commas between: amount=300 opening=50 keep-back=100 allowance=5 "
          "hours=10 extra:DATE=200 want:JOB=9 drop:JOB must:JOB by:JOB=DATE price:ARTICLE=99.00 (or =+10, "
          "=-5); up to three times")
      ->type_name("CHANGES")
      ->allow_extra_args(false);
  compare
      .add_option(
          "--amounts", request.amounts,
          "instead: what these amounts each payday make of it, and where exactly the best plan changes; "
          "-o FILE.xlsx draws it")
      ->type_name("FROM..TO/STEP");
  compare.add_flag("--json", request.json, "report as JSON, for programs");
  add_effort(compare, request, words);
  add_colour(compare, words);
  add_output(compare, request, "write the report to FILE instead of the screen");
}

CLI::Option* add_trade(CLI::App& command, Request& request, const char* what) {
  return command.add_option("--trade", request.trade, what)
      ->type_name("TRADE")
      ->check(CLI::IsMember({"motorcycle", "van", "bicycle", "boat"}).description(""));
}

void add_work(CLI::App& app, Request& request) {
  CLI::App& work = *app.add_subcommand("work", "List kinds of work, or show what one brings.");
  work.add_option("WORD", request.word, "a kind of work, or what people call it; default: all are listed")
      ->type_name("");
  add_trade(work, request, "list what motorcycle, van, bicycle or boat know");
}

void add_start(CLI::App& app, Request& request) {
  CLI::App& start = *app.add_subcommand("start", "Write a small build to change into your own.");
  start.add_option("NAME", request.file, "what the build is called")->required()->type_name("");
  add_trade(start, request, "motorcycle (default), van, bicycle or boat");
  add_day(start, "--on", request.on, "the day it begins; default: today");
  start.add_flag("--form", request.as_form, "as a workbook, NAME.xlsx, instead of NAME.build");
}

void add_form(CLI::App& app, Request& request) {
  CLI::App& form = *app.add_subcommand("form", "Write a workbook to describe a build in, or read one.");
  form.add_option("FORM", request.file, "the form to write; with --to, the one to read")
      ->required()
      ->type_name("");
  CLI::Option* from =
      form.add_option("--from", request.form_from, "fill the form with this build")->type_name("BUILD");
  CLI::Option* to = form.add_option("--to", request.form_to, "read the form and write it as this build file")
                        ->type_name("FILE.build")
                        ->excludes(from);
  add_trade(form, request, "offer what motorcycle, van, bicycle or boat know first")->excludes(to);
}

}  // namespace

void add_commands(CLI::App& app, Request& request, Words& words) {
  CLI::App& check = *app.add_subcommand("check", "Look for mistakes in a build file and point at each.");
  add_file(check, request, build_or_purse);
  check.add_flag("--json", request.json, "report as JSON, for programs");

  CLI::App& plan = *app.add_subcommand("plan", "Plan a build and print its stages.");
  add_file(plan, request, build_or_purse);
  plan.add_flag("--json", request.json, "report as JSON, for programs");
  plan.add_flag("--steps", request.steps, "print the work order of each stage, step by step");
  CLI::Option* brief =
      plan.add_flag("--brief", request.brief, "print only what to do next and a line a stage");
  plan.add_option("--stage", request.stage, "print this stage only")
      ->type_name("N")
      ->check(CLI::Range(1, 120))
      ->excludes(brief);
  add_effort(plan, request, words);
  add_colour(plan, words);
  add_output(plan, request, "write the report to FILE instead of the screen");

  CLI::App& sheet = *app.add_subcommand("sheet", "Plan a build and write the workbook for two.");
  add_file(sheet, request);
  add_effort(sheet, request, words);
  add_output(sheet, request, "the workbook to write; default: the build file's name with .xlsx");
  sheet.add_flag(
      "--replace", request.replace,
      "replace a workbook in which something typed is not recorded; the old one is kept beside it");

  add_outputs(app, request, words);
  add_drive(app, request, words);
  add_risk(app, request, words);
  add_year(app, request, words);
  add_why(app, request, words);
  add_compare(app, request, words);
  CLI::App& record =
      *app.add_subcommand("record", "Write down what has happened, in the log beside the build.");
  add_file(record, request);
  add_effort_alone(
      record, words,
      "with bought, deposit and agreed: that of the plan whose lines are meant; default: normal");
  add_record_actions(record, request.record);

  CLI::App& ids = *app.add_subcommand("ids", "Print the ids of a build with their names, one a line.");
  add_file(ids, request);
  ids.add_option("KIND", request.ids, "jobs, removals, articles, suppliers or fitted; default: all")
      ->type_name("")
      ->check(CLI::IsMember({"jobs", "removals", "articles", "suppliers", "fitted"}).description(""));

  add_work(app, request);
  add_form(app, request);
  add_start(app, request);
}

}  // namespace fettlefund::cli
