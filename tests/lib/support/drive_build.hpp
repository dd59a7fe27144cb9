#pragma once
#include <string>

#include "lib/build/read/read.hpp"

#include <doctest/doctest.h>

/// Small builds with a drive train, read from text. Everything in them is invented.
namespace fettlefund::test {

inline constexpr const char* one_chain_job = R"json({
  "fettlefund": 1, "name": "Invented roadster", "currency": "EUR",
  "money": {"opening": 500, "keep_back": 0, "amount": 100, "stages": 1, "paydays": {"dates": ["2027-01-29"]}},
  "bench": {"hours": 5, "days_after_payday": 3},
  "suppliers": {"shop": {"name": "Invented Shop"}},
  "articles": {"chain": {"name": "chain by the link", "kind": "part", "unit": "link", "pack": 2,
    "mates": {"chain-size": "520"}, "offers": [{"supplier": "shop", "price": 1.5}]}},
  "fitted": {"old-chain": {"name": "old chain", "mates": {"chain-size": "520"}, "replaced_by": ["new-chain"]}},
  "jobs": {"new-chain": {"name": "new chain", "want": 5, "hours": 1, "uses": )json";

/// A build of one chain job whose drive train is the JSON text given. `uses` is what the job lists.
inline build::Build drive_build(const std::string& drive,
                                const std::string& uses = R"([{"article": "chain", "amount": 100}])") {
  const std::string text = one_chain_job + uses + R"json(}}, "drive": )json" + drive + "}";
  const build::Reading reading = build::read(text, "drive.build");
  std::string told;
  for (const auto& diagnostic : reading.diagnostics) told += build::to_text(diagnostic) + '\n';
  CAPTURE(told);
  REQUIRE(reading.build);
  return *reading.build;
}

/// 15/45 to 14/47 teeth, size 520, 110 links now.
inline constexpr const char* roadster_drive = R"json({
  "front": {"before": 15, "after": 14}, "rear": {"before": 45, "after": 47},
  "chain": {"designation": "520", "links": 110, "article": "chain", "job": "new-chain"},
  "centre": {"now_mm": 632, "min_mm": 615, "max_mm": 650},
  "primary": 2, "gears": [1], "tyre": "180/55-17", "speedometer": "gearbox", "speeds_kmh": [100],
  "engine_rpm": [7000]})json";

}  // namespace fettlefund::test
