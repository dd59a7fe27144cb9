#include "lib/text/columns.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::text;

TEST_CASE("the width of a text counts characters and not bytes") {
  CHECK(display_width("") == 0);
  CHECK(display_width("chain") == 5);
  CHECK(display_width("Öl") == 2);
  CHECK(display_width("e\u0301") == 1);       // a combining accent takes no column
  CHECK(display_width("\u96E8\u5177") == 4);  // wide characters take two
  CHECK(display_width("\xFF\xFE") == 2);      // broken bytes one each
}

TEST_CASE("text from a build cannot steer the terminal") {
  CHECK(printable("a\033[31mb") == "a?[31mb");
  CHECK(printable("a\nb\tc") == "a b c");
  CHECK(printable("\u202Eabc") == "?abc");  // right-to-left override
  CHECK(printable("\u009Bm") == "?m");      // one-character control sequence
  CHECK(printable("\xC3") == "?");
  CHECK(printable("Öl, 2 l") == "Öl, 2 l");
}

TEST_CASE("padding reaches the width and never cuts") {
  CHECK(pad_right("Öl", 4) == "Öl  ");
  CHECK(pad_left("12.50", 8) == "   12.50");
  CHECK(pad_left("long text", 4) == "long text");
}

TEST_CASE("wrapped lines keep within the width and lose no word") {
  CHECK(wrapped("", 10) == std::vector<std::string>{""});
  CHECK(wrapped("one two  three four", 10) == std::vector<std::string>{"one two", "three four"});
  CHECK(wrapped("abcdefghijklmno p", 10) == std::vector<std::string>{"abcdefghij", "klmno p"});
  for (const std::string& line : wrapped("\u96E8\u5177\u96E8\u5177\u96E8\u5177 \u00D6l und Fett", 10)) {
    CHECK(display_width(line) <= 10);
  }
}

TEST_CASE("a paragraph hangs under its first line") {
  CHECK(paragraph("  -", "one two three four five", 4, 15) == "  - one two\n    three four\n    five\n");
}
