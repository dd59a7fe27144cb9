#include "lib/form/tables/spec.hpp"
#include "lib/form/writing/kinds_sheet.hpp"

/// The sheets of the work: what is done, what comes off for it, and how.
namespace fettlefund::form {
namespace {

SheetSpec comes_off_sheet() {
  return {
      "Comes off",
      Kind::entries,
      "removals",
      "a thing that comes off",
      "What has to come off so that jobs can be reached, and goes back on afterwards.",
      {{"What comes off", "name", Type::line, needed, 30, "Its name.", "Front wheel"},
       {"Hours off", "hours_off", Type::hours, needed, 10, "To take it off.", "0.25"},
       {"Hours on", "hours_on", Type::hours, needed, 10, "To put it back.", "0.5"},
       {"After these are off", "needs", Type::many, optional, 28, "With ; between them.", "", "Comes off"},
       {"Second person", "helper", Type::tick, optional, 9, "x if needed.", ""},
       {"Stays off overnight", "overnight", Type::tick, optional, 9,
        "x: may stay off from one session to the next.", ""},
       {"Tags", "tags", Type::words, optional, 22,
        "Words that reminders and cautions go by, with ; between them.", "wheel"}}};
}

SheetSpec jobs_sheet() {
  return {
      "Jobs",
      Kind::entries,
      "jobs",
      "a job",
      "What you want done. What a job needs stands on the sheet Needs, how it is done on the sheet Steps.",
      {{"Job", "name", Type::line, needed, 30, "Its name.", "Fit heated grips"},
       {"Kind of work", "kind", Type::line, optional, 22,
        "From the sheet Kinds of work: brings what is easily forgotten.", "grips", kinds_sheet_name},
       {"Want", "want", Type::whole, optional, 7, "0 to 10; a must needs none.", "5"},
       {"Must", "must", Type::tick, optional, 7, "x: has to be done", ""},
       {"By", "by", Type::day, optional, 12, "by this bench date.", ""},
       {"Not before", "not_before", Type::day, optional, 12, "Bench date.", ""},
       {"Hours", "hours", Type::hours, needed, 8, "Without what comes off.", "2.5"},
       {"Fee", "cost", Type::money, optional, 10, "Paid on the payday, besides things.", ""},
       {"What comes off", "removals", Type::many, optional, 24, "Names from that sheet, with ; between them.",
        "Front wheel", "Comes off"},
       {"After", "after", Type::many, optional, 24, "Jobs that come first.", "", "Jobs"},
       {"Together with", "with", Type::many, optional, 24, "Jobs of the same stage.", "", "Jobs"},
       {"One of", "one_of", Type::line, optional, 16, "A name for the choice: at most one job of it is done.",
        ""},
       {"Undone by", "replaced_by", Type::many, optional, 24, "Jobs that take off again what it fitted.", "",
        "Jobs"},
       {"Off for good", "takes_off", Type::many, optional, 24, "What comes off with it and stays off.", "",
        "Comes off"},
       {"Off later by", "puts_on", Type::many, optional, 24,
        "What comes off when the new part has to come off again.", "", "Comes off"},
       {"Second person", "helper", Type::tick, optional, 9, "x if needed.", ""},
       {"Left overnight", "overnight", Type::tick, optional, 9,
        "x: may be left half done from one session to the next.", ""},
       {"Tags", "tags", Type::words, optional, 20,
        "Words that reminders and cautions go by, with ; between them.", "wiring"},
       {"In the manual", "manual", Type::text, optional, 20, "Where the maker treats it.", ""},
       {"Note", "note", Type::text, optional, 24, "A remark.", ""}},
      {},
      needed};
}

SheetSpec needs_sheet() {
  const std::vector<Use> goods = {{"Thing", "article", true}, {"How much", "amount"}};
  return {"Needs",
          Kind::items,
          "",
          "a need",
          "What a job uses up or fits, what is spoilt each time something comes off, and the tools for it.",
          {{"Job", "", Type::one, optional, 30, "For a job, or", "Fit heated grips", "Jobs"},
           {"Comes off", "", Type::one, optional, 30, "for what comes off.", "", "Comes off"},
           {"Thing", "", Type::one, needed, 30, "From the sheet Things.", "Grip glue", "Things"},
           {"How much", "", Type::amount, optional, 12, "In its unit; 1 if empty. Not for tools.", "8"}},
          {{"", "jobs/{Job}/uses", goods, Variant::Tools::none},
           {"", "removals/{Comes off}/one_use", goods, Variant::Tools::none},
           {"", "jobs/{Job}/tools", {{"Thing", "", true}}, Variant::Tools::only},
           {"", "removals/{Comes off}/tools", {{"Thing", "", true}}, Variant::Tools::only}}};
}

SheetSpec steps() {
  const std::vector<Use> off = {
      {"Text", "do", true}, {step_name_heading, "id"}, {"After steps", "after"}, {"Second person", "helper"}};
  std::vector<Use> step = off;
  step.insert(step.end(), {{"Fits", "fits"}, {"Tightens", "tightens"}});
  const std::vector<Use> torque = {{"Text", "on", true},
                                   {"Figure", "value", true},
                                   {"Source", "source", true},
                                   {"Pattern", "pattern"},
                                   {"Fasteners", "fasteners"}};
  const std::vector<Use> check = {
      {"Text", "what", true}, {"Figure", "target"}, {"Limits", "limits"}, {"When whole", "whole"}};
  const std::vector<Use> caution = {{"Text", "", true}};
  return {
      steps_sheet,
      Kind::items,
      "",
      "a step",
      "How it is done, in the order of the rows. A tightening figure is yours, from the maker's manual: name "
      "where it stands.",
      {{kind_heading, "", Type::choice, needed, 12, "Pick from the list.", "step", "",
        "step; take off; put back; torque; check; caution"},
       {"Job", "", Type::one, optional, 26, "For a job, or", "Fit heated grips", "Jobs"},
       {"Comes off", "", Type::one, optional, 26, "for what comes off.", "", "Comes off"},
       {"Text", "", Type::text, needed, 40, "What to do; the fastener; what to look at; the caution.",
        "Warm the grip and slide it on"},
       {"Figure", "", Type::line, optional, 12, "Torque with its unit; the target of a check.", ""},
       {"Source", "", Type::line, optional, 20, "Of a torque: where the figure stands.", ""},
       {"Pattern", "", Type::choice, optional, 14, "Of a torque.", "", "", "opposite pairs"},
       {"Fasteners", "", Type::whole, optional, 12, "Of a torque; 1 if empty.", ""},
       {"Limits", "", Type::line, optional, 14, "Of a check.", ""},
       {"When whole", "", Type::tick, optional, 9, "Of a check: x if only once all is back on.", ""},
       {"Fits", "", Type::one, optional, 22, "Of a step: the thing that it fits.", "", "Things"},
       {"Tightens", "", Type::line, optional, 18, "Of a step: the fastener, as its torque names it.", ""},
       {"Second person", "", Type::tick, optional, 9, "x if needed.", ""},
       {step_name_heading, "", Type::word, optional, 12, "Of a step that others wait for.", ""},
       {"After steps", "", Type::many, optional, 16, "Short names, with ; between them.", "", steps_sheet}},
      {{"step", "jobs/{Job}/steps", step},
       {"take off", "removals/{Comes off}/off", off},
       {"put back", "removals/{Comes off}/on", step},
       {"torque", "jobs/{Job}/torques", torque},
       {"torque", "removals/{Comes off}/torques", torque},
       {"check", "jobs/{Job}/checks", check},
       {"check", "removals/{Comes off}/checks", check},
       {"caution", "jobs/{Job}/cautions", caution},
       {"caution", "cautions", caution}}};
}

}  // namespace

std::vector<SheetSpec> work_sheets() { return {comes_off_sheet(), jobs_sheet(), needs_sheet(), steps()}; }

}  // namespace fettlefund::form
