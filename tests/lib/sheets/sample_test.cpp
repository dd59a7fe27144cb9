#include <cstdlib>
#include <string>

#include "lib/sheets/workbook.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

// Not a check by itself: writes the workbooks that tests/recalc/recalc_check.sh recalculates.
TEST_CASE("sample workbooks are written where FETTLEFUND_SAMPLES says") {
  const char* folder = std::getenv("FETTLEFUND_SAMPLES");
  if (folder == nullptr) {
    MESSAGE("skipped: FETTLEFUND_SAMPLES is not set");
    return;
  }
  sheets::write_workbook(test::small_outcome().outcome, std::string(folder) + "/small.xlsx");
  sheets::write_workbook(test::long_outcome().outcome, std::string(folder) + "/long.xlsx");
}
