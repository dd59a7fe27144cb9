#include "lib/report/files/calendar.hpp"

#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;

namespace {

std::vector<std::string> lines_of(const std::string& file) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < file.size();) {
    const std::size_t end = file.find("\r\n", at);
    REQUIRE(end != std::string::npos);
    lines.push_back(file.substr(at, end - at));
    at = end + 2;
  }
  return lines;
}

/// Takes the folding back.
std::string unfolded(std::string file) {
  for (std::size_t at = 0; (at = file.find("\r\n ", at)) != std::string::npos;) file.erase(at, 3);
  return file;
}

bool has_line(const std::string& file, const std::string& line) {
  return ("\r\n" + unfolded(file)).find("\r\n" + line + "\r\n") != std::string::npos;
}

std::string repeated(const std::string& text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}

}  // namespace

TEST_CASE("a calendar has a payday and a bench date for every stage as all-day events") {
  const auto fixture = test::small_outcome();
  const std::string file = unfolded(report::calendar(fixture.outcome));
  CHECK(
      file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Fettlefund//Staged build plan//EN\r\n"));
  CHECK(file.ends_with("END:VEVENT\r\nEND:VCALENDAR\r\n"));
  CHECK(has_line(file, "DTSTART;VALUE=DATE:20260130"));
  CHECK(has_line(file, "DTEND;VALUE=DATE:20260131"));  // the day after: RFC 5545 section 3.6.1, not inclusive
  CHECK(has_line(file, "SUMMARY:Stage 1 payday: order from Quay (invented)"));
  CHECK(has_line(file, "SUMMARY:Stage 1 bench day: Renew the pump (2.5 h)"));
}

TEST_CASE("a payday event tells what to order and what is left") {
  const auto fixture = test::small_outcome();
  CHECK(
      has_line(report::calendar(fixture.outcome),
               "DESCRIPTION:Quay (invented): goods 59.97 EUR\\, delivery 4.90 EUR\\n- 3 x Impeller\\, 59.97 "
               "EUR\\nFee: Renew the pump\\, 20.00 EUR\\nFor the unforeseen: 4.25 EUR\\nSpent: 89.12 EUR. "
               "Left: 210.88 EUR\\, of which 50.00 EUR must stay."));
}

TEST_CASE("an event keeps its UID when the plan changes its day and its content") {
  auto fixture = test::small_outcome();
  const auto uids = [](const std::string& file) {
    std::vector<std::string> found;
    for (const std::string& line : lines_of(unfolded(file))) {
      if (line.starts_with("UID:")) found.push_back(line);
    }
    return found;
  };
  const auto before = uids(report::calendar(fixture.outcome));
  CHECK(before.size() == 4);
  CHECK(std::set(before.begin(), before.end()).size() == 4);
  fixture.outcome.stages[1].bench = fixture.outcome.stages[1].bench + 9;
  fixture.outcome.stages[1].jobs.clear();
  fixture.outcome.stages[1].orders.clear();
  CHECK(uids(report::calendar(fixture.outcome)) == before);
  fixture.build->name = "Another invented runabout";
  CHECK(uids(report::calendar(fixture.outcome)) != before);
}

TEST_CASE("the revision is every event sequence and the stamp is the first payday") {
  const auto fixture = test::small_outcome();
  const std::string file = report::calendar(fixture.outcome, {7});
  int sequences = 0;
  for (const std::string& line : lines_of(file)) {
    if (line.starts_with("SEQUENCE:")) CHECK(line == "SEQUENCE:7");
    if (line.starts_with("DTSTAMP:")) CHECK(line == "DTSTAMP:20260130T000000Z");
    sequences += line.starts_with("SEQUENCE:");
  }
  CHECK(sequences == 4);
}

TEST_CASE("a stage with nothing to do still has its events and leaves the day free") {
  auto fixture = test::small_outcome();
  auto& stage = fixture.outcome.stages[1];
  stage.jobs.clear();
  stage.orders.clear();
  stage.spent = {};
  const std::string file = report::calendar(fixture.outcome);
  CHECK(has_line(file, "SUMMARY:Stage 2 payday: nothing to order"));
  CHECK(has_line(file, "SUMMARY:Stage 2 bench day: no work"));
  const std::size_t last = file.rfind("TRANSP:");
  CHECK(file.substr(last).starts_with("TRANSP:TRANSPARENT"));
}

TEST_CASE("texts are escaped as RFC 5545 section 3-3-11 asks") {
  CHECK(report::calendar_text("a\\b; c, d") == "a\\\\b\\; c\\, d");
  CHECK(report::calendar_text("one\ntwo") == "one\\ntwo");
  CHECK(report::calendar_text("\n") == "\\n");
  CHECK(report::calendar_text("") == "");
  CHECK(report::calendar_text("bell\x07 and\ttab") == "bell? and tab");
}

TEST_CASE("a build text cannot begin a property of its own") {
  auto fixture = test::small_outcome();
  fixture.outcome.stages[0].jobs[0].name = "pump\r\nEND:VEVENT\r\nATTACH:x";
  fixture.outcome.stages[0].orders[0].lines[0].name = "part\nATTACH:y";
  for (const std::string& line : lines_of(unfolded(report::calendar(fixture.outcome)))) {
    CHECK_FALSE(line.starts_with("ATTACH"));
  }
}

TEST_CASE("a line is folded at 75 octets and never inside a character") {
  CHECK(report::folded(repeated("x", 75)) == repeated("x", 75) + "\r\n");
  CHECK(report::folded(repeated("x", 76)) == repeated("x", 75) + "\r\n x\r\n");
  CHECK(report::folded("") == "\r\n");
  // Two octets each; 74 octets of a first line end before the 75th octet would cut one.
  const std::string text = "x" + repeated("\xC3\xBC", 40);
  CHECK(report::folded(text) == "x" + repeated("\xC3\xBC", 37) + "\r\n " + repeated("\xC3\xBC", 3) + "\r\n");
  const std::string odd = repeated("\xC3\xBC", 40);
  CHECK(report::folded(odd) == repeated("\xC3\xBC", 37) + "\r\n " + repeated("\xC3\xBC", 3) + "\r\n");
}

TEST_CASE("any mix of characters survives folding in lines of at most 75 octets") {
  const bool held = rc::check("folding", [](const std::vector<unsigned char>& picks) {
    static const std::vector<std::string> characters = {"a", ";", "\xC3\xA9", "\xE2\x82\xAC",
                                                        "\xF0\x9F\x94\xA7"};
    std::string line;
    for (const unsigned char pick : picks) line += repeated(characters[pick % characters.size()], pick % 7);
    const std::string file = report::folded(line);
    RC_ASSERT(unfolded(file) == line + "\r\n");
    for (const std::string& part : lines_of(file)) {
      RC_ASSERT(part.size() <= 75u);
      RC_ASSERT(part.size() < 2 || part[0] != ' ' || (static_cast<unsigned char>(part[1]) & 0xC0) != 0x80);
    }
  });
  CHECK(held);
}

TEST_CASE("the same outcome gives the same calendar bytes") {
  CHECK(report::calendar(test::long_outcome().outcome) == report::calendar(test::long_outcome().outcome));
}
