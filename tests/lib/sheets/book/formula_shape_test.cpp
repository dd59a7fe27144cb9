#include "lib/sheets/book/formula_shape.hpp"

#include <doctest/doctest.h>

using fettlefund::sheets::formula_shape;

TEST_CASE("a formula keeps its shape where its cells move") {
  CHECK(formula_shape("=ROUND(E6*G6,2)") == "ROUND(#*#,2)");
  CHECK(formula_shape("ROUND(F60 * H60, 2)") == "ROUND(#*#,2)");
  CHECK(formula_shape("=IF($A5>'Work order'!B$7,\"x A1 $'\",0)") == "IF(#>WORKORDER!#,\"x A1 $'\",0)");
  CHECK(formula_shape("=SUM(E15:E15)+shop_planned") == "SUM(#:#)+SHOP_PLANNED");
  CHECK(formula_shape("=XFD1048576+AB12345678+ABCD1") == "#+AB12345678+ABCD1");
  CHECK(formula_shape("") == "");
}

TEST_CASE("another function, constant or text is another shape") {
  CHECK(formula_shape("=ROUND(E6*G6,2)") != formula_shape("=ROUND(E6*G6,1)"));
  CHECK(formula_shape("=ROUND(E6*G6,2)") != formula_shape("=ROUND(E6+G6,2)"));
  CHECK(formula_shape("=IF(A1,\"ok\",0)") != formula_shape("=IF(A1,\"OK\",0)"));
  CHECK(formula_shape("=SUM(A1:A9)") != formula_shape("=SUM(A1,A9)"));
}
