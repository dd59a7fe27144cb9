#include "lib/log/read.hpp"

#include <algorithm>
#include <filesystem>

#include "lib/log/checksum.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;
using test::cents;
using test::day;

namespace {

std::vector<log::NewEntry> one_of_each() {
  return {
      {day("2027-01-02"), log::Bought{"tyre@1", 2, cents(10900), day("2027-01-20")}},
      {day("2027-01-03"), log::Bought{"split-pin@1#rule", 1, cents(240)}},
      {day("2027-01-04"), log::Paid{"tyre@1", cents(11250)}},
      {day("2027-01-05"), log::Fitted{"new-tyre", 95}},
      {day("2027-01-05"), log::Fitted{"brakes"}},
      {day("2027-01-06"), log::Counted{cents(-105)}},
      {day("2027-01-06"), log::AgreedPlan{{{"new-chain", day("2027-02-03")}, {"grips", day("2027-03-05")}}}},
      {day("2027-01-07"), log::Remark{"tyre@1", "dearer than thought\n\ttwo \\ lines, caf\xC3\xA9"}},
      {day("2027-01-07"), log::Undo{2}}};
}

/// Deposits, things that go, work that is begun, and what was brought by then.
std::vector<log::NewEntry> ledger() {
  return {{day("2027-01-08"),
           log::Bought{"grips@2", 1, cents(500), day("2027-01-20"), "shop", cents(1500), day("2027-02-01")},
           cents(30000)},
          {day("2027-01-09"), log::Balance{"grips@2", cents(1500)}},
          {day("2027-01-09"), log::Gone{"grips", 1, "sent-back", cents(2000)}},
          {day("2027-01-09"), log::Gone{"tyre", 2, "never-came"}},
          {day("2027-01-10"), log::Begun{"brakes", 60, 45}},
          {day("2027-01-10"), log::Begun{"new-chain", 30}},
          {day("2027-01-10"), log::Gone{"tyre", 1, "broken", {}, "tyre@1"}},
          {day("2027-01-11"), log::Arrives{"tyre@1", day("2027-01-30")}},
          {day("2027-01-11"), log::GivenUp{"grips"}},
          {day("2027-01-11"), log::Moved{cents(-500), "ferry"}}};
}

std::string told(const log::Reading& reading) {
  std::string all;
  for (const build::Diagnostic& one : reading.diagnostics) all += build::to_text(one) + "\n";
  return all;
}

/// A line with its right checksum.
std::string line(std::string text) {
  text += '\t';
  return text + log::checksum(text) + "\n";
}

std::string head() { return line("fettlefund-log\t1\tbuild=test build\tid=0123abcd\tcurrency=EUR"); }

std::string errors_of(const std::string& body) { return told(log::read(head() + body, "x.log")); }

/// As before lines had ids.
log::Log without_ids(log::Log log) {
  for (log::Entry& entry : log.entries) entry.id.clear();
  return log;
}

}  // namespace

TEST_CASE("the checksum is CRC-32 as published") {
  // "123456789" -> CBF43926: Ross N. Williams, "A Painless Guide to CRC Error Detection Algorithms", 1993.
  CHECK(log::checksum("123456789") == "cbf43926");
  CHECK(log::checksum("") == "00000000");
}

TEST_CASE("a log reads back as it was written, every kind of entry") {
  const log::Log before = test::log_of(one_of_each());
  const std::string text = test::text_of(before);
  const log::Reading reading = log::read(text, "test.log");
  CHECK(told(reading) == "");
  REQUIRE(reading.log);
  CHECK(test::text_of(without_ids(*reading.log)) == text);
  CHECK(reading.log->entries.size() == before.entries.size());
  CHECK(std::get<log::Remark>(reading.log->entries[7].event).text ==
        "dearer than thought\n\ttwo \\ lines, caf\xC3\xA9");
  CHECK(log::effective(*reading.log) ==
        std::vector<bool>{true, false, true, true, true, true, true, true, false});
}

TEST_CASE("a ledger reads back as it was written") {
  const std::string text = test::text_of(test::log_of(ledger()));
  const log::Reading reading = log::read(text, "test.log");
  CHECK(told(reading) == "");
  REQUIRE(reading.log);
  CHECK(test::text_of(without_ids(*reading.log)) == text);
  CHECK(text.find("\tfrom=shop\trest=15.00\trest-on=2027-02-01\tbrought=300.00\t") != std::string::npos);
}

TEST_CASE("a line keeps the id that it was written with, and those of lines that told the same") {
  log::Log before = test::log_of(one_of_each());
  before.entries[0].id = "0123456789abcdef";
  before.entries[0].also = {"00000000000000aa", "00000000000000bb"};
  const std::string text = test::text_of(before);
  CHECK(text.find("\tline=0123456789abcdef\talso=00000000000000aa,00000000000000bb\t") != std::string::npos);
  const log::Reading reading = log::read(text, "test.log");
  REQUIRE(reading.log);
  CHECK(reading.log->entries[0].id == "0123456789abcdef");
  CHECK(reading.log->entries[0].also == before.entries[0].also);
  before.entries[0].id = "0123";
  CHECK(told(log::read(test::text_of(before), "test.log")).find("expected sixteen hexadecimal digits") !=
        std::string::npos);
}

TEST_CASE("an entry stands in the file as its manual says") {
  const log::Log log = test::log_of(one_of_each());
  const std::string text = test::text_of(log);
  CHECK(text.substr(0, text.find('\n') - 8) ==
        "fettlefund-log\t1\tbuild=test build\tid=0123abcd\tcurrency=EUR\t");
  const std::string first = log::entry_line(log.entries[0], log.currency);
  CHECK(first.substr(0, first.size() - 9) ==
        "1\t2027-01-02\tbought\tkey=tyre@1\tpacks=2\tpaid=109.00\tarrives=2027-01-20\t");
}

TEST_CASE("a log cut short anywhere loses only its last line and says so") {
  const std::string text = test::text_of(test::log_of(one_of_each()));
  for (std::size_t size = 1; size < text.size(); ++size) {
    const log::Reading reading = log::read(std::string_view(text).substr(0, size), "x.log");
    CHECK_FALSE(build::has_errors(reading.diagnostics));
    const auto lines = static_cast<std::size_t>(
        std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(size), '\n'));
    const bool whole = text[size] == '\n';  // only the line break is missing: the entry counts
    const bool torn = text[size - 1] != '\n' && !whole;
    CHECK(reading.torn.has_value() == torn);
    CHECK(reading.newline_missing == whole);
    CHECK(reading.diagnostics.size() == (torn ? 1 : 0));
    const std::size_t entries = lines + (whole ? 1 : 0);
    CHECK(reading.log.has_value() == (entries > 0));
    if (reading.log) CHECK(reading.log->entries.size() == entries - 1);
  }
}

TEST_CASE("a last line that was changed is torn, a line before it that was changed is an error") {
  const std::string text = test::text_of(test::log_of(one_of_each()));
  std::string last = text;
  last[text.size() - 11] = '3';
  const log::Reading torn = log::read(last, "x.log");
  REQUIRE(torn.log);
  CHECK(torn.log->entries.size() == 8);
  CHECK(told(torn).starts_with("x.log:10:1: warning: found 9?2027-01-07?undo?entry=3?"));
  CHECK(told(torn).ends_with(
      "expected a whole line: writing it was interrupted, it does not count and is cut off when the next "
      "entry is written\n"));
  std::string middle = text;
  middle[text.find("109.00")] = '2';
  const log::Reading reading = log::read(middle, "x.log");
  CHECK_FALSE(reading.log);
  CHECK_FALSE(reading.torn);
  CHECK(
      told(reading) ==
      "x.log:2:1: error: found 1?2027-01-02?bought?key=tyre@1?packs=..., expected a line that ends with its "
      "own checksum: this one was changed or is damaged\n");
}

TEST_CASE("no single changed byte of a log is taken for what was written") {
  const std::string text = test::text_of(test::log_of(one_of_each()));
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string changed = text;
    changed[i] = static_cast<char>(changed[i] ^ (1 << (i % 7)));
    const log::Reading reading = log::read(changed, "x.log");
    const bool noticed = build::has_errors(reading.diagnostics) || reading.torn.has_value();
    const bool only_line_break = i + 1 == text.size();
    CHECK((noticed || only_line_break));
  }
}

TEST_CASE("every mistake points to its line and column, and all of them are told") {
  CHECK(errors_of(line("1\t2027-01-01\tboght\tkey=a@1") + line("3\t2027-01-01\tundo\tentry=1") +
                  line("3\t2027-02-30\tundo\tentry=1") + line("4\t2027-01-01\tcounted\tcash=1.234")) ==
        "x.log:2:14: error: found boght, expected one of agreed, arrives, balance, begun, bought, counted, "
        "fitted, "
        "given-up, gone, money, paid, remark, undo; "
        "did you mean bought?\n"
        "x.log:3:1: error: found 3, expected the number 2\n"
        "x.log:4:3: error: found 2027-02-30, expected a day like 2026-03-27\n"
        "x.log:5:22: error: found 1.234, expected an amount of EUR, at most 10^12 of its smallest coin\n");
  CHECK(errors_of(line("1\t2027-01-01\tbought\tkey=a@1\tpacks=0\tpaid=1.00")) ==
        "x.log:2:29: error: found 0, expected a whole number from 1 to 1000000\n");
  CHECK(errors_of(line("1\t2027-01-01\tbought\tkey=a@1\tpacks=1")) ==
        "x.log:2:36: error: expected a field paid=...\n");
  CHECK(errors_of(line("1\t2027-01-01\tfitted\tjob=a\tminuts=4")) ==
        "x.log:2:27: error: found minuts, expected one of the fields job, minutes, brought, purse-brought, "
        "by, line, also; "
        "did "
        "you mean "
        "minutes?\n");
  CHECK(errors_of(line("1\t2027-01-01\tfitted\tjob=a\tjob=b")) ==
        "x.log:2:27: error: found job=b, expected each field once\n");
  CHECK(errors_of(line("1\t2027-01-01\tremark\ttext=a\\x")) ==
        "x.log:2:21: error: found text=a\\x, expected after a backslash one of \\ t n r\n");
  CHECK(
      errors_of(line("1\t2027-01-01\tagreed\tjobs=a:2027-01-01,b")) ==
      "x.log:2:21: error: found a:2027-01-01,b, expected a list like job:2026-03-28,other-job:2026-04-25\n");
}

TEST_CASE("an undo names an earlier entry that counts and is no undo") {
  const std::string remark = line("1\t2027-01-01\tremark\ttext=a");
  CHECK(errors_of(line("1\t2027-01-01\tundo\tentry=1")) ==
        "x.log:2:19: error: found entry=1, expected an entry before it\n");
  CHECK(errors_of(remark + line("2\t2027-01-01\tundo\tentry=2")) ==
        "x.log:3:19: error: found entry=2, expected an entry from 1 to 1\n");
  CHECK(errors_of(remark + line("2\t2027-01-01\tundo\tentry=1") + line("3\t2027-01-01\tundo\tentry=1")) ==
        "x.log:4:19: error: found entry=1, expected an entry that is not undone already\n");
  CHECK(errors_of(remark + line("2\t2027-01-01\tundo\tentry=1") + line("3\t2027-01-01\tundo\tentry=2")) ==
        "x.log:4:19: error: found entry=2, expected an entry that is no undo: record again what entry 2 "
        "undid\n");
}

TEST_CASE("what is no log is refused by its first line") {
  CHECK(told(log::read(line("another-log\t1"), "x.log")) ==
        "x.log:1:1: error: found another-log, expected fettlefund-log\n");
  CHECK(told(log::read(line("fettlefund-log\t2"), "x.log")) ==
        "x.log:1:16: error: found 2, expected the format's version, 1\n");
  CHECK(told(log::read(line("fettlefund-log\t1\tbuild=a\tid=b\tcurrency=EUT"), "x.log")) ==
        "x.log:1:31: error: found EUT, expected an ISO 4217 code; did you mean EUR?\n");
}

TEST_CASE("hostile logs are refused within bounds") {
  CHECK(told(log::read(std::string(log::max_file_bytes + 1, '\n'), "x.log")) ==
        "x.log: error: found 16777217 bytes, expected at most 16777216 bytes\n");
  CHECK(log::read(std::string(1'000'000, '\n'), "x.log").diagnostics.size() == log::max_diagnostics + 1);
  const std::string bad = head() + line("1\t2027-01-01\tremark\ttext=\xFF");
  CHECK(told(log::read(bad, "x.log")) == "x.log:2:26: error: expected UTF-8\n");
  CHECK(errors_of(line("1\t2027-01-01\tremark\ttext=\x1B[31m")) ==
        "x.log:2:14: error: found remark, expected a remark without control characters\n");
  const std::string zeros(4096, '\0');
  CHECK(log::read(head() + zeros, "x.log").torn);
}

TEST_CASE("any text comes back from a remark") {
  CHECK(rc::check([](const std::string& raw) {
    std::string text;
    for (const char c : raw) text += c >= 0x20 && c < 0x7F ? c : "\n\t\r\\"[c & 3];
    RC_PRE(!text.empty());
    const log::Log log = test::log_of({{day("2027-01-01"), log::Remark{"", text}}});
    const log::Reading reading = log::read(test::text_of(log), "x.log");
    RC_ASSERT(reading.log.has_value());
    RC_ASSERT(std::get<log::Remark>(reading.log->entries[0].event).text == text);
  }));
}

TEST_CASE("reading no file, an empty file or a folder") {
  CHECK_FALSE(log::read_file("no-such-file.log").log);
  CHECK(log::read_file("no-such-file.log").diagnostics.empty());
  CHECK(log::read("", "x.log").diagnostics.empty());
  CHECK(told(log::read_file(".")) == ".: error: found no regular file, expected a log, or no such file\n");
}

TEST_CASE("the log of NAME build is NAME log, of any other file its name and log") {
  CHECK(log::path_for("a/bike.build") == "a/bike.record");
  CHECK(log::path_for("a/bike.xlsx") == "a/bike.record");
  CHECK(log::path_for("bike.json") == "bike.json.record");
  CHECK(log::path_for("bike") == "bike.record");
  CHECK(log::path_for("bike.log") == "bike.log.record");
  CHECK(log::older_path_for("a/bike.build") == "a/bike.log");
  CHECK(log::older_path_for("bike.json") == "bike.json.log");
}

TEST_CASE("a line keeps who recorded it, and a line without a name names nobody") {
  log::Log before = test::log_of(one_of_each());
  const std::string unnamed = test::text_of(before);
  CHECK(unnamed.find("by=") == std::string::npos);
  before.entries[0].by = "Anna B.";
  const std::string text = test::text_of(before);
  CHECK(text.find("\tby=Anna B.\t") != std::string::npos);
  const log::Reading reading = log::read(text, "test.log");
  CHECK(told(reading) == "");
  REQUIRE(reading.log);
  CHECK(reading.log->entries[0].by == "Anna B.");
  CHECK(reading.log->entries[1].by == "");
  // The name says nothing about what happened: the id of the line is the same.
  CHECK(reading.log->entries[0].id == log::read(unnamed, "test.log").log->entries[0].id);
}

TEST_CASE("a name that is blank, too long or of several lines is told") {
  for (const auto& [name, why] : {std::pair<std::string, std::string>{"  ", "a name that is not blank"},
                                  {std::string(61, 'a'), "a name of at most 60 characters"},
                                  {"Anna\\nBen", "a name on one line, without control characters"}}) {
    CHECK(errors_of(line("1\t2027-01-05\tcounted\tcash=1.00\tby=" + name)).find("expected " + why) !=
          std::string::npos);
  }
  CHECK(log::fault_of_name(std::string(60, 'a')) == "");
  CHECK(log::fault_of_name("") == "");
}
