#include "lib/form/tables/spec.hpp"

/// The sheets of what is bought, and where.
namespace fettlefund::form {
namespace {

constexpr bool needed = true;
constexpr bool optional = false;

SheetSpec shops_sheet() {
  return {"Shops",
          Kind::entries,
          "suppliers",
          "a shop",
          "Where things are bought. All names in the examples are invented.",
          {{"Shop", "name", Type::line, needed, 30, "Its name.", "Harbour Parts (invented)"},
           {"Delivery", "delivery", Type::money, optional, 11, "Charge for an order.", "5.90"},
           {"Free from", "free_from", Type::money, optional, 11, "No charge from this sum on.", "150"},
           {"Days to arrive", "lead_days.likely", Type::whole, optional, 11, "Usually; 0 if empty.", "3"},
           {"Days, at best", "lead_days.low", Type::whole, optional, 11, "Only with at worst.", "2"},
           {"Days, at worst", "lead_days.high", Type::whole, optional, 11, "Only with at best.", "9"}}};
}

SheetSpec things_sheet() {
  return {"Things",
          Kind::entries,
          "articles",
          "a thing",
          "Every part, consumable and tool that the build needs, whether you have it or not.",
          {{"Thing", "name", Type::line, needed, 30, "Its name.", "Grip glue"},
           {"Kind", "kind", Type::choice, needed, 13, "Pick from the list.", "consumable", "",
            "part; consumable; tool"},
           {"Unit", "unit", Type::line, optional, 9, "piece if empty; m, ml, link ...", "ml"},
           {"In a pack", "pack", Type::amount, optional, 9, "1 if empty.", "20"},
           {"Keeps, days", "keeps_days", Type::whole, optional, 9, "Once opened.", "180"},
           {"Hire, a stage", "hire", Type::money, optional, 11, "A tool's price for one stage.", ""},
           {"Torque from", "range.0", Type::line, optional, 12, "Torque wrench: lowest mark, with unit.", ""},
           {"Torque up to", "range.1", Type::line, optional, 12, "Torque wrench: highest mark.", ""},
           {"Sizes", "sizes", Type::lines, optional, 18, "A tool's, with ; between them.", ""},
           {"Serves as", "serves", Type::words, optional, 18,
            "Reminder words that it settles, with ; between them.", ""},
           {"Only so for", "for", Type::words, optional, 18,
            "Ids of jobs or of what comes off, with ; between them; empty: any.", ""}}};
}

SheetSpec at_hand_sheet() {
  return {
      "At hand",
      Kind::items,
      "",
      "a thing at hand",
      "What you have already, and tools that can be borrowed for nothing.",
      {{kind_heading, "", Type::choice, needed, 16, "Pick from the list.", "in store", "",
        "in store; to borrow"},
       {"Thing", "", Type::one, needed, 30, "From the sheet Things.", "Grip glue", "Things"},
       {"How much", "", Type::amount, optional, 12, "In its unit; 1 if empty.", "12"},
       {"Opened", "", Type::day, optional, 12, "When its pack was opened.", ""},
       {"From", "", Type::day, optional, 12, "To borrow: from this day", ""},
       {"Until", "", Type::day, optional, 12, "to this one.", ""}},
      {{"in store", "on_hand", {{"Thing", "article", true}, {"How much", "amount"}, {"Opened", "opened"}}},
       {"to borrow", "articles/{Thing}/borrow", {{"From", "from", true}, {"Until", "until", true}}}}};
}

SheetSpec offers_sheet() {
  return {"Offers",
          Kind::items,
          "",
          "an offer",
          "What a pack costs where. One row for each shop that has it.",
          {{"Thing", "", Type::one, needed, 30, "From the sheet Things.", "Grip glue", "Things"},
           {"Shop", "", Type::one, needed, 26, "From the sheet Shops.", "Harbour Parts (invented)", "Shops"},
           {"Price", "", Type::money, needed, 10, "Of a pack, as you expect it.", "5.20"},
           {"At least", "", Type::money, optional, 10, "Only with at most.", "4.90"},
           {"At most", "", Type::money, optional, 10, "Only with at least.", "6.50"},
           {"Days to arrive", "", Type::whole, optional, 10, "If other than the shop's.", ""},
           {"Days, at best", "", Type::whole, optional, 10, "Only with at worst.", ""},
           {"Days, at worst", "", Type::whole, optional, 10, "Only with at best.", ""},
           {"From", "", Type::day, optional, 12, "Can be ordered from", ""},
           {"Until", "", Type::day, optional, 12, "to this day.", ""}},
          {{"",
            "articles/{Thing}/offers",
            {{"Shop", "supplier", true},
             {"Price", "price.likely", true},
             {"At least", "price.low"},
             {"At most", "price.high"},
             {"Days to arrive", "lead_days.likely"},
             {"Days, at best", "lead_days.low"},
             {"Days, at worst", "lead_days.high"},
             {"From", "from"},
             {"Until", "until"}}}}};
}

}  // namespace

std::vector<SheetSpec> goods_sheets() {
  return {shops_sheet(), things_sheet(), at_hand_sheet(), offers_sheet()};
}

}  // namespace fettlefund::form
