#pragma once
#include <string>

#include "tests/lib/support/build_text.hpp"

namespace fettlefund::test {

/// A build of two jobs: a lamp for 60.00, and a seat, which is wanted more, for so much. Paydays on the first
/// of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
inline BuildText lamp_and_seat(int seat) {
  BuildText text;
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
      "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": )" +
                  std::to_string(seat) + "}]}";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": ["lamp"]},
      "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": ["seat"]})";
  return text;
}

}  // namespace fettlefund::test
