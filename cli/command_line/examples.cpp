#include "cli/command_line/examples.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Lines longer than this have their explanation on the next line.
constexpr std::size_t widest_line = 44;

std::string example_text(const Example& example) {
  const std::string line = fmt::format("fettlefund {}", example.line);
  if (line.size() > widest_line)
    return fmt::format("  {}\n  {:<{}}  {}\n", line, "", widest_line, example.what);
  return fmt::format("  {:<{}}  {}\n", line, widest_line, example.what);
}

const std::vector<Example> all{
    {"start", "start my-bike", "write my-bike.build", true},
    {"start", "start my-van --trade van", "van, bicycle or boat instead"},
    {"start", "start my-boat --trade boat --form", "write my-boat.xlsx, to fill in"},
    {"work", "work \"fork oil\"", "what a kind of work brings", true},
    {"work", "work --trade boat", "what boats know"},
    {"check", "check my-bike.build", "point at mistakes in it", true},
    {"form", "form my-bike.xlsx", "a workbook to describe a build in", true},
    {"form", "form my-boat.xlsx --trade boat", "what boats know is offered first"},
    {"form", "form my-bike.xlsx --from my-bike.build", "filled with a build"},
    {"form", "form my-bike.xlsx --to my-bike.build", "as a build file"},
    {"plan", "plan my-bike.build", "print the stages", true},
    {"plan", "plan --steps my-bike.build", "with the work order"},
    {"plan", "plan --brief my-bike.build", "what to do next"},
    {"plan", "plan --stage 2 my-bike.build", "one stage only"},
    {"plan", "plan shed.purse", "several builds on one purse"},
    {"plan", "plan --effort thorough my-bike.build", "look longer"},
    {"plan", "plan --json my-bike.build", "for programs"},
    {"sheet", "sheet my-bike.build", "write the workbook for two", true},
    {"record", "record my-bike.build --from my-bike.xlsx", "record what was typed into it", true},
    {"record", "record my-bike.build --merge theirs.record", "two people's records become one"},
    {"record", "record my-bike.build list", "show the log"},
    {"record bought", "record my-bike.build bought new-tyre", "as planned, today"},
    {"record bought", "record my-bike.build bought tyre@2 --paid 61.50", "at another price"},
    {"record paid", "record my-bike.build paid tyre@2 58.00", "correct an amount"},
    {"record fitted", "record my-bike.build fitted new-tyre --hours 1.5", "a job is done"},
    {"record counted", "record my-bike.build counted 212.40 --on 2027-03-31", "cash in the box"},
    {"record in", "record my-bike.build in 180 \"old exhaust sold\"", "besides income"},
    {"record out", "record my-bike.build out 25 \"fuel for the test\"", "besides purchases"},
    {"record deposit", "record my-bike.build deposit tyre@2 20 --rest 41.50", "the rest comes later"},
    {"record balance", "record my-bike.build balance tyre@2", "the rest is paid"},
    {"record refund", "record my-bike.build refund tyre@2 5", "money back for it"},
    {"record arrived", "record my-bike.build arrived tyre@2", "it is here, early or late"},
    {"record sent-back", "record my-bike.build sent-back tyre --back 61.50", "and the money for it"},
    {"record lost", "record my-bike.build lost split-pin", "not there any more"},
    {"record broken", "record my-bike.build broken tyre", "no use any more"},
    {"record never-came", "record my-bike.build never-came tyre --back 61.50", "and is not waited for"},
    {"record begun", "record my-bike.build begun new-tyre --hours 1", "the rest another day"},
    {"record given-up", "record my-bike.build given-up new-tyre", "not done any more"},
    {"record remark", "record my-bike.build remark \"seal weeps\"", "something to remember"},
    {"record agreed", "record my-bike.build agreed", "both agree to the plan"},
    {"record undo", "record my-bike.build undo 7", "entry 7 counts no more"},
    {"record list", "record my-bike.build list", "show the log"},
    {"why", "why my-bike.build new-tyre", "what holds the job", true},
    {"why", "why my-bike.build new-tyre --stage 2", "why not in stage 2"},
    {"compare", "compare my-bike.build --with amount=300", "beside itself with 300", true},
    {"compare", "compare my-bike.build --with hours=6,drop:new-tyre", "two changes at once"},
    {"compare", "compare my-bike.build --amounts 60..160/20", "other amounts a payday"},
    {"risk", "risk my-bike.build", "do prices spoil the plan?"},
    {"year", "year my-bike.build", "planned and paid so far"},
    {"year", "year my-bike.build --prices", "prices to put into the build file"},
    {"calendar", "calendar my-bike.build", "write my-bike.ics"},
    {"shopping", "shopping my-bike.build", "write my-bike.csv"},
    {"page", "page my-bike.build", "write my-bike.html, a card a stage", true},
    {"picture", "picture my-bike.build", "draw my-bike.svg"},
    {"ids", "ids my-bike.build jobs", "for programs and completions"},
    {"drive", "drive my-bike.build", "what other sprockets do"},
};

}  // namespace

const std::vector<Example>& examples() { return all; }

std::string examples_text(std::string_view command) {
  std::string text;
  for (const Example& example : examples()) {
    if (command.empty() ? example.first : example.command == command) text += example_text(example);
  }
  return text.empty() ? "" : "Examples:\n" + text;
}

std::string exit_codes_text() {
  return "Exit codes: 0 done, 1 internal fault, 2 bad input or usage, 3 proven impossible,\n"
         "4 stopped before a plan was found. A FILE of - is read from standard input.";
}

}  // namespace fettlefund::cli
