#pragma once
#include <string>

#include "lib/build/read/read.hpp"
#include "lib/log/read.hpp"
#include "lib/progress/past.hpp"
#include "lib/progress/replan.hpp"
#include "tests/lib/support/typed_workbook.hpp"

namespace fettlefund::test {

/// The workbook of bike.build as `sheet` writes it, by bike.record from `day` on if there is one.
inline TypedWorkbook handed_workbook(const std::string& day) {
  const auto build = build::read_file("bike.build").build;
  const auto reading = log::read_file("bike.record");
  const auto standing = reading.log ? planning::stand_on(*build, *reading.log, *budgets::read_date(day), 61)
                                    : planning::Standing{*build, {}, {}};
  const auto planning = planning::replan(standing);
  const planning::Past past =
      reading.log ? planning::past_of(*build, *reading.log, *budgets::read_date(day)) : planning::Past{};
  return TypedWorkbook(std::get<planning::Outcome>(planning), past);
}

}  // namespace fettlefund::test
