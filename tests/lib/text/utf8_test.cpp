#include "lib/text/utf8.hpp"

#include <string>
#include <string_view>

#include <doctest/doctest.h>

using namespace fettlefund::text;

TEST_CASE("the first byte that is not UTF-8 is found") {
  CHECK(find_bad_utf8("plain, \u00e9, \u20ac, \U0001F527") ==
        std::string_view("plain, \u00e9, \u20ac, \U0001F527").size());
  for (const std::string_view bad :
       {"\x80", "\xc0\xaf", "\xc1\xbf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf0\x80\x80\xaf",
        "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "\xff", "\xe2\x82", "\xc3("}) {
    CHECK(find_bad_utf8("ab" + std::string(bad)) == 2);
    CHECK(find_bad_utf8("ab" + std::string(bad) + "cd") == 2);
  }
}

TEST_CASE("text shown to people is cut at a character and holds no controls") {
  CHECK(shortened("short", 10) == "short");
  CHECK(shortened("exactly-10", 10) == "exactly-10");
  CHECK(shortened("eleven char", 10) == "eleven ...");
  CHECK(shortened("123456\u20ac7890", 10) == "123456...");
  CHECK(shortened("a\x1b[31m\u009b\x7f", 20) == "a?[31m??");
}

TEST_CASE("a cut keeps characters whole") {
  const std::string oil = "\u00d6l \u20ac \U0001F527";  // 2, 1, 1, 3, 1 and 4 bytes
  CHECK(whole_characters(oil, 1) == 0);
  CHECK(whole_characters(oil, 2) == 2);
  CHECK(whole_characters(oil, 6) == 4);
  CHECK(whole_characters(oil, 7) == 7);
  CHECK(whole_characters(oil, 11) == 8);
  CHECK(whole_characters(oil, 100) == 12);
  CHECK(whole_characters("\xFF\xFE"
                         "a",
                         2) == 2);  // broken bytes one each
}

TEST_CASE("every character encoded is one character and well formed") {
  for (const char32_t character : {U'a', U'\u00d6', U'\u20ac', U'\U0001F527', U'\U0010FFFF'}) {
    const std::string bytes = encoded(character);
    CHECK(character_length(bytes) == bytes.size());
  }
  CHECK(encoded(U'\u20ac') == "\u20ac");
}

TEST_CASE("characters are counted, and those that XML cannot hold are known") {
  CHECK(count_characters("\u00d6l") == 2);
  CHECK(has_noncharacters("a\uFFFE"));
  CHECK(has_noncharacters("\uFFFF"));
  CHECK_FALSE(has_noncharacters("\uFFFD"));
}
