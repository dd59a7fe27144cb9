#include "lib/form/naming.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using form::NamedRow;

TEST_CASE("a name becomes a short word of lower-case letters, digits and hyphens") {
  CHECK(form::word_of("Fit the new rear tyre") == "fit-the-new-rear-tyre");
  CHECK(form::word_of("Socket, 24 mm (long)") == "socket-24-mm-long");
  CHECK(form::word_of("Füße & Größe") == "fuesse-groesse");
  CHECK(form::word_of("  --  ") == "");
  CHECK(form::word_of("\xE8\xBB\x8A") == "");
}

TEST_CASE("a long name is cut between words at forty letters") {
  CHECK(form::word_of("Renew the bearings of the front wheel and the rear wheel") ==
        "renew-the-bearings-of-the-front-wheel");
  CHECK(form::word_of(std::string(60, 'a')) == std::string(40, 'a'));
}

TEST_CASE("names that come to the same word are told apart by numbers") {
  std::vector<NamedRow> rows = {{5, "Chain!", "", "", ""}, {6, "chain", "", "", ""}, {7, "???", "", "", ""}};
  std::set<std::string> taken = {"chain"};
  form::make_ids(rows, taken, "job");
  CHECK(rows[0].id == "chain-2");
  CHECK(rows[1].id == "chain-3");
  CHECK(rows[2].id == "job");
}

TEST_CASE(
    "an id stays with its row when the name changes and with its name when rows move without their id") {
  std::vector<NamedRow> renamed = {{5, "New name", "old-id", "Old name", ""}};
  form::keep_ids(renamed);
  CHECK(renamed[0].id == "old-id");
  std::vector<NamedRow> sorted = {{5, "B", "id-a", "A", ""}, {6, "A", "id-b", "B", ""}};
  form::keep_ids(sorted);
  CHECK(sorted[0].id == "id-b");
  CHECK(sorted[1].id == "id-a");
}

TEST_CASE("a copied row does not take the id of its original") {
  std::vector<NamedRow> rows = {{5, "A copy", "id-a", "A", ""}, {6, "A", "id-a", "A", ""}};
  form::keep_ids(rows);
  CHECK(rows[0].id == "");
  CHECK(rows[1].id == "id-a");
}

TEST_CASE("texts in one cell are divided at semicolons and line breaks, and quotes keep them together") {
  using Parts = std::vector<std::string>;
  CHECK(form::split_list("a; b ;c\nd", false) == Parts{"a", "b", "c", "d"});
  CHECK(form::split_list("a, b; c", false) == Parts{"a, b", "c"});
  CHECK(form::split_list("a, b; c", true) == Parts{"a", "b", "c"});
  CHECK(form::split_list("\"a; b\"; \"say \"\"so\"\"\";; ", false) == Parts{"a; b", "say \"so\""});
  for (const Parts& parts : {Parts{"a;b", "c"}, Parts{"\"", "x\ny"}, Parts{"a, b"}, Parts{"36\" rim"}})
    CHECK(form::split_list(form::join_list(parts, true), true) == parts);
  CHECK(form::join_list({"Socket, 24 mm", "Jack"}, false) == "Socket, 24 mm; Jack");
}
