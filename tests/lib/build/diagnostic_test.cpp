#include "lib/build/diagnostic.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::build;

namespace {

Diagnostic whole() {
  return {Severity::error, "a.build", {3, 7}, "/jobs/lamp", "\"wnat\"", "a key of a job", "want"};
}

}  // namespace

TEST_CASE("a diagnostic is written with all its parts") {
  CHECK(to_text(whole()) ==
        "a.build:3:7: error: /jobs/lamp: found \"wnat\", expected a key of a job; did you mean want?");
}

TEST_CASE("parts of a diagnostic that are empty are left out") {
  Diagnostic diagnostic = whole();
  diagnostic.nearest.clear();
  diagnostic.severity = Severity::warning;
  CHECK(to_text(diagnostic) == "a.build:3:7: warning: /jobs/lamp: found \"wnat\", expected a key of a job");
  diagnostic.found.clear();
  CHECK(to_text(diagnostic) == "a.build:3:7: warning: /jobs/lamp: expected a key of a job");
  diagnostic.pointer.clear();
  CHECK(to_text(diagnostic) == "a.build:3:7: warning: expected a key of a job");
  diagnostic.place = {};
  CHECK(to_text(diagnostic) == "a.build: warning: expected a key of a job");
  diagnostic.found = "2 more";
  diagnostic.expected.clear();
  CHECK(to_text(diagnostic) == "a.build: warning: found 2 more");
}

TEST_CASE("warnings alone are no errors") {
  Diagnostic warning = whole();
  warning.severity = Severity::warning;
  CHECK_FALSE(has_errors({}));
  CHECK_FALSE(has_errors({warning, warning}));
  CHECK(has_errors({warning, whole()}));
}
