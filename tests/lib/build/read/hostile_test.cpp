#include <ctime>
#include <string>

#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;

// What somebody could put into a file to make the reader fall over. Each is answered by diagnostics, within
// bounds of time and memory that are loose enough for slow machines.
namespace {

// Sanitizers multiply both.
#if defined(FETTLEFUND_SANITIZED)
constexpr int slack = 15;
#else
constexpr int slack = 1;
#endif
constexpr double most_seconds =
    60 * slack;  // against what grows with the square of the text: that takes hours
constexpr long most_kib = 200 * 1024 * slack;

long peak_kib() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

/// Processor time, which other work on the machine does not lengthen.
double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Reads within the bounds and expects at least one error; the diagnostics are short whatever the text.
Reading survives(const std::string& text) {
  const long before = peak_kib();
  const double start = processor_seconds();
  const Reading reading = read(text, "hostile.build");
  CHECK(processor_seconds() - start < most_seconds);
  CHECK(peak_kib() - before < most_kib);
  CHECK_FALSE(reading.build.has_value());
  CHECK(has_errors(reading.diagnostics));
  CHECK(reading.diagnostics.size() <= max_diagnostics + 1);
  CHECK(told(reading).size() < 200'000);
  return reading;
}

std::string repeated(const std::string& piece, std::size_t bytes) {
  std::string text;
  text.reserve(bytes + piece.size());
  while (text.size() + piece.size() <= bytes) text += piece;
  return text;
}

constexpr std::size_t nearly_all = max_file_bytes / (slack > 1 ? 4 : 1) - 1000;  // a quarter under sanitizers

/// `count` members, numbered, as `"<id>": value`.
std::string numbered(const std::string& id, int count, const std::string& value) {
  std::string text;
  for (int i = 0; i < count; ++i) text += (i == 0 ? "\"" : ",\"") + id + std::to_string(i) + "\":" + value;
  return text;
}

}  // namespace

TEST_CASE("two hundred thousand open brackets are refused at the sixty-fifth") {
  const Reading lists = survives(std::string(200'000, '['));
  CHECK(lists.diagnostics.at(0).place.column == 65);
  CHECK(lists.diagnostics.at(0).expected == "at most 64 brackets inside each other");
  survives(repeated("{\"a\":", 1'000'000));
  survives(repeated("[{\"a\":", 1'000'000));
}

TEST_CASE("a file of a hundred megabytes is refused by its size without being read") {
  const std::filesystem::path path = std::filesystem::temp_directory_path() / "fettlefund-large.build";
  std::ofstream(path) << "{";
  std::filesystem::resize_file(path, 100'000'000);
  const long before = peak_kib();
  const Reading reading = read_file(path.string());
  CHECK(peak_kib() - before < 4096 * slack);
  CHECK(reading.diagnostics.at(0).found == "100000000 bytes");
  CHECK(reading.diagnostics.at(0).expected == "at most 8388608 bytes");
  std::filesystem::remove(path);
  survives(std::string(max_file_bytes + 1, ' '));
}

TEST_CASE("a million jobs are refused") {
  const Reading million = survives("{\"jobs\":{" + numbered("j", 1'000'000, "{}") + "}}");
  CHECK(million.diagnostics.at(0).expected == "at most 8388608 bytes");
  const Reading fitting = survives("{\"jobs\":{" + numbered("j", 600'000, "{}") + "}}");
  CHECK(fitting.diagnostics.at(0).expected == "at most 500000 values in one build file");
}

TEST_CASE("more entries than a build may have are refused") {
  const Reading reading = survives("{\"jobs\":{" + numbered("j", max_entries + 1, "{}") + "}}");
  CHECK(reading.diagnostics.at(0).expected ==
        "at most 20000 suppliers, articles, jobs and the like together");
}

TEST_CASE("of very many wrong things two hundred are told and the rest counted") {
  const Reading reading =
      survives(small_build("\"removals\":{" + numbered("r", 19'000, "{\"nmae\":1}") + "},"));
  REQUIRE(reading.diagnostics.size() == max_diagnostics + 1);
  CHECK(reading.diagnostics.back().found == "75800 more things wrong from here on");
  CHECK(reading.diagnostics.front().place.line == 5);
}

TEST_CASE("nineteen thousand ids that nearly resolve are told in time") {
  survives(small_build(
      "\"removals\":{" +
      numbered("a-removal-with-a-long-id-", 10'000,
               "{\"name\":\"x\",\"hours_off\":0,\"hours_on\":0,\"needs\":[\"a-removal-with-a-logn-id-\"]}") +
      "},"));
}

TEST_CASE("texts, comments, blanks and numbers of eight megabytes are answered") {
  survives("\"" + std::string(nearly_all, 'x') + "\"");
  survives("\"" + std::string(nearly_all, 'x'));
  survives("/*" + std::string(nearly_all, '*'));
  survives("//" + std::string(nearly_all, 'x'));
  survives(std::string(nearly_all, '\n') + "]");
  survives("[" + std::string(nearly_all, '1') + "]");
  survives("[1e" + std::string(nearly_all, '9') + "]");
  survives("{\"" + std::string(nearly_all, 'k') + "\": }");
  survives("\"" + repeated("\\u0041", nearly_all) + "\"");
  survives("\"" + repeated("\\ud83d", nearly_all) + "\"");
}

TEST_CASE("lists and objects of millions of values are answered") {
  survives("[" + repeated("1,", nearly_all));
  survives("[" + repeated("[],", nearly_all));
  survives("[" + repeated("{},", nearly_all));
  survives("{" + repeated("\"a\":1,", nearly_all));
  survives("{" + repeated("\"\":[],", nearly_all));
}

TEST_CASE("hundreds of thousands of duplicate and unknown keys are told") {
  const Reading duplicates =
      survives("{" + repeated("\"jobs\":1,", 3'600'000 / (slack > 1 ? 4 : 1)) + "\"a\":1}");
  CHECK(duplicates.diagnostics.size() == max_diagnostics + 1);
  const Reading unknown = survives(small_build("", "," + numbered("k", 400'000 / (slack > 1 ? 4 : 1), "1")));
  CHECK(unknown.diagnostics.size() == max_diagnostics + 1);
  CHECK(unknown.diagnostics.at(0).pointer == "/jobs/lamp/k0");
}

TEST_CASE("hundreds of thousands of items in one list are read in time") {
  std::string tags = "\"t0\"";
  for (int i = 1; i < 400'000; ++i) tags += ",\"t" + std::to_string(i) + "\"";
  const double start = processor_seconds();
  const Reading reading = read(small_build("", ",\"tags\":[" + tags + "]"), "tags.build");
  CHECK(processor_seconds() - start < most_seconds);
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->jobs[0].tags.size() == 400'000);
}

TEST_CASE("the largest build that may be written is read in time") {
  const std::string text = small_build(
      "\"removals\":{" +
      numbered("r", max_entries - 30, R"({"name":"x","hours_off":0.5,"hours_on":0.5,"needs":["r1"]})") +
      "},");
  const double start = processor_seconds();
  const Reading reading = read(text, "large.build");
  CHECK(processor_seconds() - start < most_seconds);
  REQUIRE(reading.build.has_value());
  CHECK(reading.build->removals.size() == max_entries - 30);
}

TEST_CASE("bytes that are no UTF-8 are refused where they stand") {
  const Reading reading = survives(small_build("\"about\": \"line\",\n\"x\": \"\xff\","));
  CHECK(reading.diagnostics.at(0).found == "the byte FF");
  CHECK(reading.diagnostics.at(0).place.line == 6);
  CHECK(reading.diagnostics.at(0).place.column == 7);
  survives(std::string(nearly_all, ' ') + "\x80");
}

TEST_CASE("huge numbers are refused where they stand, in every field that takes a number") {
  for (const std::string number :
       {"1e400", "-1e400", "1e-400", "1e99", "123456789012345678901234567890123456789012",
        "9223372036854775808", "0.1234567890123456789012345"}) {
    for (const std::string key : {"want", "hours", "cost"}) {
      CAPTURE(number);
      CAPTURE(key);
      std::string text = small_build("", ",\n\"cost\": 1");
      const std::string old =
          key == "cost" ? "\"cost\": 1" : "\"" + key + "\": " + (key == "want" ? "3" : "1");
      text.replace(text.find(old), old.size(), "\n\"" + key + "\": " + number);
      const Reading reading = survives(text);
      CHECK(reading.diagnostics.at(0).place.column == static_cast<int>(key.size()) + 5);
      CHECK(reading.diagnostics.at(0).pointer == "/jobs/lamp/" + key);
    }
  }
}
