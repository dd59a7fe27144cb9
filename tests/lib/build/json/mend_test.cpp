#include "lib/build/json/mend.hpp"

#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;

namespace {

std::string said(const std::string& text) { return told(read(text, "b")); }

/// A job's keys in a line of their own, among them a want that is too high.
std::string job_with(const std::string& keys) {
  return small_build("", ",\n" + keys + ",\n\"by\": \"soon\"");
}

const std::string later =
    "b:7:7: error: /jobs/lamp/by: found \"soon\", expected a day of the calendar as \"yyyy-mm-dd\", from "
    "1900 on\n";

}  // namespace

TEST_CASE("a decimal comma is told as such and the rest is read") {
  CHECK(said(job_with("\"cost\": 74,00")) ==
        "b:6:9: error: /jobs/lamp/cost: found 74,00, expected a point as decimal mark, as in 74.50\n" +
            later);
  CHECK(said(job_with("\"cost\": 74,50")) ==
        "b:6:9: error: /jobs/lamp/cost: found 74,50, expected a point as decimal mark, as in 74.50\n" +
            later);
}

TEST_CASE("a missing comma does not hide what stands after it") {
  CHECK(said(job_with("\"cost\": 74 \"note\": \"x\"")) ==
        "b:6:12: error: /jobs/lamp/note: found \"note\", expected a comma or }\n" + later);
  CHECK(said(job_with("\"cost\": 74 // dear\n\"note\": \"x\"")).find("\"soon\"") != std::string::npos);
}

TEST_CASE("a comma too many does not hide what stands after it") {
  CHECK(said(job_with("\"tags\": [\"brakes\",]")) ==
        "b:6:19: error: /jobs/lamp/tags: found ], expected another value, or no comma before ]\n" + later);
}

TEST_CASE("a wrong word does not hide what stands after it, and is told once") {
  CHECK(said(job_with("\"must\": ture")) ==
        "b:6:9: error: /jobs/lamp/must: found ture, expected a value: text and keys stand in double quotes; "
        "did "
        "you mean true?\n" +
            later);
  CHECK(said(job_with("\"note\": 'by the window'")).find("\"soon\"") != std::string::npos);
  CHECK(said(job_with("note: \"x\"")) ==
        "b:6:1: error: /jobs/lamp: found note, expected another key in double quotes\n" + later);
}

TEST_CASE("several syntax errors are told at once, in file order") {
  const std::string text = said(job_with("\"cost\": 74,00,\n\"must\": ture,\n\"tags\": [\"a\",]"));
  CHECK(text.find("74,00") < text.find("ture"));
  CHECK(text.find("ture") < text.find("found ]"));
  CHECK(text.find("found ]") < text.find("\"soon\""));
}

TEST_CASE("what can only be guessed is not read on") {
  CHECK(said(job_with("\"note\": \"by the window")).find("\"soon\"") == std::string::npos);
  CHECK(said(job_with("\"tags\": [\"a\"}")).find("\"soon\"") == std::string::npos);
}

TEST_CASE("a list of two numbers is no decimal comma") {
  CHECK(said(small_build("\"drive\": {\"speeds_kmh\": [74,50]},")).find("decimal mark") == std::string::npos);
}

TEST_CASE(
    "whatever is cut out of a build it is refused or read, never both, and errors stand in file order") {
  rc::check("any cut", [] {
    std::string text = job_with("\"cost\": 74, \"tags\": [\"a\", \"b\"]");
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    const auto length = *rc::gen::inRange<std::size_t>(1, 4);
    text.erase(at, length);
    const Reading reading = read(text, "b");
    RC_ASSERT(reading.build.has_value() == !has_errors(reading.diagnostics));
    int line = 0;
    for (const Diagnostic& one : reading.diagnostics) {
      RC_ASSERT(one.place.line >= line);
      line = one.place.line;
    }
  });
}
