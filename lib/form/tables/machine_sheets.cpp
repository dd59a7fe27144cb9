#include "lib/form/tables/spec.hpp"

/// The sheets of the machine: what is on it, what does not go together, reminders, the drive train.
namespace fettlefund::form {
namespace {

SheetSpec on_it_sheet() {
  return {"On it now",
          Kind::entries,
          "fitted",
          "a fitted part",
          "What is on the machine when the build starts. Past its life a part is due, and the job that "
          "renews it is wanted more.",
          {{"Part", "name", Type::line, needed, 30, "Its name.", "Front brake pads"},
           {"Since", "since", Type::day, optional, 12, "With a life.", "2023-05-01"},
           {"Life, years", "life_years", Type::whole, optional, 9, "One of the two,", "3"},
           {"Life, months", "life_months", Type::whole, optional, 9, "not both.", ""},
           {"Renewed by", "replaced_by", Type::many, optional, 30, "Jobs, with ; between them.", "", "Jobs"},
           {"Reached when off", "reached_by", Type::many, optional, 30,
            "What comes off, with ; between them.", "Front wheel", "Comes off"}}};
}

SheetSpec do_not_fit_sheet() {
  return {
      "Do not fit",
      Kind::items,
      "",
      "a clash",
      "Two things that do not go together unless another job is done.",
      {{"Job", "", Type::one, optional, 24, "A job, or", "Fit heated grips", "Jobs"},
       {"Part on it", "", Type::one, optional, 24, "a part on it now, does not fit with", "", "On it now"},
       {"With job", "", Type::one, optional, 24, "this job, or", "", "Jobs"},
       {"With part", "", Type::one, optional, 24, "this part.", "Front brake pads", "On it now"},
       {"Unless", "", Type::many, optional, 24, "Jobs that make them fit, with ; between them.", "", "Jobs"},
       {"Why", "", Type::line, needed, 36, "What is in the way.", "The grip fouls the lever"}},
      {{"",
        "clashes",
        {{"Job", "between.0", true},
         {"Part on it", "between.0", true},
         {"With job", "between.1", true},
         {"With part", "between.1", true},
         {"Unless", "unless"},
         {"Why", "why", true}}}}};
}

SheetSpec must_agree_sheet() {
  const std::vector<Use> value = {{"Value", "", true}};
  return {"Must agree",
          Kind::items,
          "",
          "a measure",
          "Measures that everything on the machine must agree on: chain size, voltage, axle, thread. One row "
          "for each thing, job or part that has one.",
          {{"Thing", "", Type::one, optional, 26, "A thing, or", "", "Things"},
           {"Job", "", Type::one, optional, 26, "a job, or", "Fit heated grips", "Jobs"},
           {"Part on it", "", Type::one, optional, 26, "a part on it now.", "", "On it now"},
           {"Measure", "", Type::word, needed, 18, "What must agree.", "voltage"},
           {"Value", "", Type::line, needed, 18, "As written on it.", "12 V"}},
          {{"", "articles/{Thing}/mates/{Measure}", value, Variant::Tools::any, true},
           {"", "jobs/{Job}/mates/{Measure}", value, Variant::Tools::any, true},
           {"", "fitted/{Part on it}/mates/{Measure}", value, Variant::Tools::any, true}}};
}

SheetSpec reminders_sheet() {
  return {"Reminders",
          Kind::items,
          "",
          "a reminder",
          "Reminders of your own, and reminders that you do not want to hear.",
          {{kind_heading, "", Type::choice, needed, 12, "Pick from the list.", "silence", "",
            "reminder; silence"},
           {"Rule", "", Type::word, needed, 20, "Its word, as the plan shows it.", "grip-glue"},
           {"Tag", "", Type::line, optional, 16, "Of the work that it belongs to.", ""},
           {"To buy", "", Type::one_or_word, optional, 24, "A thing, or a word for it.", "", "Things"},
           {"Called", "", Type::line, optional, 20, "For people; empty if it is a thing.", ""},
           {"How much", "", Type::amount, optional, 12, "1 if empty.", ""},
           {"Unit", "", Type::line, optional, 9, "piece if empty.", ""},
           {"Job", "", Type::one, optional, 24, "Silence: for this job, or", "", "Jobs"},
           {"Comes off", "", Type::one, optional, 24, "for this; else everywhere.", "", "Comes off"},
           {"Why", "", Type::line, needed, 36, "What it is for; why it is not needed.",
            "Glue comes with the grips"}},
          {{"reminder",
            "rules",
            {{"Rule", "id", true},
             {"Tag", "tag", true},
             {"To buy", "article", true},
             {"Called", "name"},
             {"How much", "amount"},
             {"Unit", "unit"},
             {"Why", "why", true}}},
           {"silence",
            "silence",
            {{"Rule", "rule", true}, {"Job", "for"}, {"Comes off", "for"}, {"Why", "because", true}}}}};
}

SheetSpec drive_sheet() {
  return {
      "Drive",
      Kind::fields,
      "drive",
      "a field",
      "Only for a machine with chain and sprockets. Leave everything empty otherwise.",
      {{"Front teeth now", "front/before", Type::whole, needed, 22, "Of the sprocket on it.", "15"},
       {"Front teeth later", "front/after", Type::whole, optional, 22, "As now if empty.", "14"},
       {"Front changed by", "front/job", Type::one, optional, 22, "A job.", "", "Jobs"},
       {"Rear teeth now", "rear/before", Type::whole, needed, 22, "", "43"},
       {"Rear teeth later", "rear/after", Type::whole, optional, 22, "As now if empty.", ""},
       {"Rear changed by", "rear/job", Type::one, optional, 22, "A job.", "", "Jobs"},
       {"Chain size", "chain/designation", Type::line, needed, 22, "As on the chain.", "520"},
       {"Chain links", "chain/links", Type::whole, needed, 22, "Of the chain on it.", "110"},
       {"Chain to buy", "chain/article", Type::one, optional, 22, "A thing whose unit is link.", "",
        "Things"},
       {"Chain changed by", "chain/job", Type::one, optional, 22, "A job.", "", "Jobs"},
       {"Axle distance now, mm", "centre/now_mm", Type::real, needed, 22, "Between the two axles.", "600.5"},
       {"Axle distance least, mm", "centre/min_mm", Type::real, needed, 22, "End of the adjuster.", "585"},
       {"Axle distance most, mm", "centre/max_mm", Type::real, needed, 22, "Its other end.", "620"},
       {"Links rounded", "rounding", Type::choice, optional, 22, "To an even number; up if empty.", "", "",
        "up; nearest"},
       {"Primary ratio", "primary", Type::real, optional, 22, "1 if empty.", "2.1"},
       {"Gear ratios", "gears", Type::reals, optional, 22, "With ; between them.", "2.8; 1.9; 1.4"},
       {"Tyre", "tyre", Type::line, optional, 22, "As on its side wall.", "150/70-17"},
       {"Rolling factor", "rolling_factor", Type::real, optional, 22, "0.9 to 1.05; 1 if empty.", ""},
       {"Speedometer driven by", "speedometer", Type::choice, optional, 22, "wheel if empty.", "", "",
        "wheel; gearbox"},
       {"Speeds, km/h", "speeds_kmh", Type::reals, optional, 22, "To tabulate, with ; between them.",
        "50; 100"},
       {"Engine speeds, 1/min", "engine_rpm", Type::reals, optional, 22, "To tabulate, with ; between them.",
        "4000"},
       {"Wanted ratio from", "wanted/ratio.0", Type::real, optional, 22, "Rear over front teeth, from",
        "2.6"},
       {"Wanted ratio to", "wanted/ratio.1", Type::real, optional, 22, "to.", "2.9"},
       {"Front teeth from", "wanted/front.0", Type::whole, optional, 22, "To choose from,", "13"},
       {"Front teeth to", "wanted/front.1", Type::whole, optional, 22, "both ends.", "16"},
       {"Rear teeth from", "wanted/rear.0", Type::whole, optional, 22, "To choose from,", "40"},
       {"Rear teeth to", "wanted/rear.1", Type::whole, optional, 22, "both ends.", "48"}}};
}

}  // namespace

std::vector<SheetSpec> machine_sheets() {
  return {on_it_sheet(), do_not_fit_sheet(), must_agree_sheet(), reminders_sheet(), drive_sheet()};
}

}  // namespace fettlefund::form
