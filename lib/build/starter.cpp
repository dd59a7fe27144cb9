#include "lib/build/starter.hpp"

#include <algorithm>
#include <string_view>

#include "lib/build/json/values.hpp"
#include "lib/text/utf8.hpp"

namespace fettlefund::build {
namespace {

constexpr std::string_view opening =
    R"text(// A build file: JSON with comments. Check it with `fettlefund check`, plan it with `fettlefund plan`.
// Everything below is invented, so change it freely. Ids, the short words before each entry, are yours to
// choose; order in the file is order on the sheets.
{
  "fettlefund": 1,  // version of the format
  "name": ")text";

constexpr std::string_view rest = R"text(",
  "about": "A first example: an old roadster gets fresh rubber, a new chain and warm hands",
  "currency": "EUR",

  "money": {
    "opening": 140.00,   // cash before the first payday
    "keep_back": 60.00,  // never spent
    "amount": 120.00,    // comes in on each payday
    "stages": 6,         // paydays to plan
    // Others: {"dates": [...]}, {"every_weeks": 2, "from": ...}, {"last_working_day": true, "from": ...}
    "paydays": { "day_of_month": 25, "from": "2027-01-01", "holidays": ["2027-03-26"] },
    "extras": [{ "date": "2027-04-10", "amount": -45.00, "what": "road tax" }],
    "allowance_percent": 5  // for the unforeseen
  },

  // Each stage has its bench time, this many days after its payday.
  "bench": {
    "hours": 6,
    "days_after_payday": 9,
    "stages": [{ "stage": 3, "hours": 2.5, "why": "a week away" }]
  },

  "suppliers": {
    "harbour-parts": { "name": "Harbour Parts (invented)", "delivery": 5.90, "free_from": 150.00, "lead_days": 3 },
    "corner-shop": { "name": "The corner shop (invented)" }
  },

  "articles": {
    "tyre": {
      "name": "Rear tyre",
      "kind": "part",
      "offers": [{ "supplier": "harbour-parts", "price": { "low": 98.00, "likely": 109.00, "high": 125.00 } }]
    },
    "rim-tape": { "name": "Rim tape", "kind": "part", "offers": [{ "supplier": "harbour-parts", "price": 4.50 }] },
    "chain-kit": {
      "name": "Chain and both sprockets",
      "kind": "part",
      "offers": [{ "supplier": "harbour-parts", "price": 129.00, "lead_days": 6 }]
    },
    "rivet-link": { "name": "Rivet link", "kind": "part", "offers": [{ "supplier": "harbour-parts", "price": 6.80 }] },
    "brake-shoes": { "name": "Brake shoes", "kind": "part", "offers": [{ "supplier": "harbour-parts", "price": 31.00 }] },
    "heated-grips": { "name": "Heated grips", "kind": "part", "offers": [{ "supplier": "harbour-parts", "price": 74.00 }] },
    "grip-glue": {
      "name": "Grip glue",
      "kind": "consumable",
      "unit": "ml",
      "pack": 20,
      "keeps_days": 180,  // once opened
      "offers": [{ "supplier": "corner-shop", "price": 5.20 }]
    },
    "split-pin": {
      "name": "Split pin",
      "kind": "consumable",
      "pack": 10,
      "offers": [{ "supplier": "corner-shop", "price": 2.40 }]
    },
    "grease": {
      "name": "Grease",
      "kind": "consumable",
      "unit": "ml",
      "pack": 400,
      "offers": [{ "supplier": "corner-shop", "price": 8.90 }]
    },
    "rivet-tool": {
      "name": "Chain riveting tool",
      "kind": "tool",
      "hire": 9.00,  // for one stage
      "offers": [{ "supplier": "harbour-parts", "price": 46.00 }]
    },
    "socket": { "name": "Socket, 24 mm", "kind": "tool", "sizes": ["24 mm socket"] }
  },

  "on_hand": [
    { "article": "socket" },
    { "article": "split-pin", "amount": 1 }
  ],

  // What has to come off first. A removal is paid in hours once a stage, however many jobs share it.
  "removals": {
    "rear-wheel": {
      "name": "Rear wheel",
      "hours_off": 0.5,
      "hours_on": 0.75,
      "one_use": [{ "article": "split-pin" }],  // spoilt each time
      "tools": ["socket"],
      // Figures for tightening are yours, from the maker's manual. The tool never invents one:
      // "torques": [{ "on": "axle nut", "value": "85 Nm", "source": "the manual, page 41" }],
      "off": ["Raise and secure the machine", "Slacken the chain", "Draw the axle"],
      "on": [{ "do": "Set the wheel in", "helper": true }, "Adjust the chain"],
      "checks": [{ "what": "The wheel spins freely and the brake grips" }],
      "tags": ["raised vehicle", "wheel"]
    },
    "sprocket-cover": { "name": "Front sprocket cover", "hours_off": 0.25, "hours_on": 0.25 }
  },

  "jobs": {
    "new-tyre": {
      "name": "Fit the new rear tyre",
      "must": true,
      "by": "2027-05-31",  // on the bench by this day
      "hours": 1.5,
      "removals": ["rear-wheel"],
      "uses": [{ "article": "tyre" }, { "article": "rim-tape" }]
    },
    "brakes": {
      "name": "Renew the rear brake shoes",  // no want: it follows from their age, see "fitted"
      "hours": 1,
      "removals": ["rear-wheel"],
      "uses": [{ "article": "brake-shoes" }],
      "tags": ["brakes"]
    },
    "new-chain": {
      "name": "Fit a new chain and sprockets",
      "want": 7,  // 0 to 10
      "hours": 2,
      "removals": ["rear-wheel", "sprocket-cover"],
      "uses": [{ "article": "chain-kit" }, { "article": "rivet-link" }],
      "tools": ["rivet-tool"],
      "tags": ["chain riveting"]
    },
    "warm-hands": {
      "name": "Fit heated grips",
      "want": 5,
      "hours": 2.5,
      "uses": [{ "article": "heated-grips" }, { "article": "grip-glue", "amount": 8 }]
    },
    "grease-pedals": {
      "name": "Grease the pedals and cables",
      "want": 2,
      "hours": 0.5,
      "after": ["warm-hands"],
      "uses": [{ "article": "grease", "amount": 25 }]
    }
  },

  // What is on the machine already: past its service life a part is due.
  "fitted": {
    "old-shoes": {
      "name": "Rear brake shoes",
      "since": "2021-04-01",
      "life_years": 5,
      "replaced_by": ["brakes"],
      "reached_by": ["rear-wheel"]
    }
  }
}
)text";

std::string sound_name(std::string_view name) {
  std::string sound;
  for (std::size_t count = 0; count < longest_line && !name.empty(); ++count) {
    const std::size_t length = character_length(name);
    const bool fits = length > 0 && !starts_with_control(name);
    sound += fits ? name.substr(0, length) : "?";
    name.remove_prefix(std::max<std::size_t>(length, 1));
  }
  return sound.find_first_not_of(' ') == std::string::npos ? "My build" : sound;
}

std::string escaped(const std::string& text) {
  std::string result;
  for (const char c : text) {
    if (c == '"' || c == '\\') result += '\\';
    result += c;
  }
  return result;
}

}  // namespace

std::string starter_build(const std::string& name) {
  return std::string(opening) + escaped(sound_name(name)) + std::string(rest);
}

}  // namespace fettlefund::build
