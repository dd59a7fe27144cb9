#include "lib/report/files/csv.hpp"

#include "budgets/values/money.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;

namespace {

/// A plain reader of RFC 4180 files, so that the writer is not checked with its own code.
std::vector<std::vector<std::string>> records_of(const std::string& file) {
  std::vector<std::vector<std::string>> records;
  std::vector<std::string> record(1);
  bool quoted = false;
  for (std::size_t at = 0; at < file.size(); ++at) {
    const char c = file[at];
    if (quoted && c == '"' && file.compare(at, 2, "\"\"") == 0) {
      record.back() += file[++at];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && c == ',') {
      record.emplace_back();
    } else if (!quoted && file.compare(at, 2, "\r\n") == 0) {
      records.push_back(std::exchange(record, std::vector<std::string>(1)));
      ++at;
    } else {
      record.back() += c;
    }
  }
  CHECK(record == std::vector<std::string>{""});  // the last line is ended as well
  return records;
}

}  // namespace

TEST_CASE("the shopping list of two stages is exactly this") {
  const auto fixture = test::small_outcome();
  CHECK(
      report::shopping_csv(fixture.outcome) ==
      "stage,payday,supplier,kind,what,packs,pack,unit,price,amount,currency,for stage,bench "
      "date,arrives,order until,needed for,why,key\r\n"
      "1,2026-01-30,Quay (invented),part,Impeller,3,1,piece,19.99,59.97,EUR,1,2026-02-07,2026-02-02,,Renew "
      "the pump,,impeller@1\r\n"
      "1,2026-01-30,Quay (invented),delivery,delivery,,,,,4.90,EUR,,,,,,,delivery:quay@1\r\n"
      "1,2026-01-30,,fee,Renew the pump,,,,,20.00,EUR,,,,,,,fee:pump@1\r\n"
      "1,2026-01-30,,unforeseen,for the unforeseen,,,,,4.25,EUR,,,,,,,\r\n"
      "1,2026-01-30,,easily forgotten,Silicone grease,,2,piece,,,EUR,1,2026-02-07,,,Renew the pump,rubber "
      "runs dry at the first start,grease@Renew the pump@1\r\n"
      "2,2026-02-27,Quay (invented),part,Cover,1,1,piece,150.00,150.00,EUR,2,2026-03-07,2026-03-02,,Re-cover "
      "the seat,,cover@2\r\n"
      "2,2026-02-27,,hire,Heavy stapler,,,,,12.00,EUR,,,,,,,hire:stapler@2\r\n"
      "2,2026-02-27,,unforeseen,for the unforeseen,,,,,8.10,EUR,,,,,,,\r\n");
}

TEST_CASE("the amounts of a shopping list add up to what the plan spends") {
  const auto fixture = test::long_outcome();
  budgets::Money sum;
  const auto records = records_of(report::shopping_csv(fixture.outcome));
  REQUIRE(records.size() > 40);
  for (std::size_t row = 1; row < records.size(); ++row) {
    REQUIRE(records[row].size() == 18);
    if (records[row][9].empty()) continue;
    const auto amount = budgets::read_money(records[row][9], fixture.build->currency).amount;
    REQUIRE(amount);
    sum += *amount;
  }
  CHECK(sum == fixture.outcome.spent);
}

TEST_CASE("a text that looks like a formula gets an apostrophe and loses it again") {
  for (const char* text : {"=1+1", "+49", "-x", "@cmd", "'quoted", "  =1", "\t=1",
                           "\xEF\xBC\x9D"
                           "1",
                           "\r\n-1", "|cmd", " |cmd", "\ttext", "\rtext",
                           "\xEF\xBD\x9C"
                           "1"}) {
    CAPTURE(text);
    CHECK(report::harmless(text).starts_with("'"));
    CHECK(report::restored(report::harmless(text)) == text);
  }
  CHECK(report::harmless("=1+1") == "'=1+1");
  CHECK(report::harmless("bolt M8;=1+1") == "bolt M8;'=1+1");
  CHECK(report::harmless("1-2 and a@b, don't") == "1-2 and a@b, don't");
  CHECK(report::harmless("") == "");
}

TEST_CASE("every text survives being made harmless and no cell of it begins like a formula") {
  const bool held = rc::check("harmless", [](const std::vector<unsigned char>& picks) {
    static const std::vector<std::string> pieces = {"=", "+",  "-",  "@", "'",  ";", "\t",          " ",
                                                    "|", "\r", "\n", "a", "\"", ",", "\xEF\xBC\x8B"};
    std::string text;
    for (const unsigned char pick : picks) text += pieces[pick % pieces.size()];
    const std::string safe = report::harmless(text);
    RC_ASSERT(report::restored(safe) == text);
    for (std::size_t at = 0; at < safe.size(); ++at) {
      const bool begins = at == 0 || std::string(";\t\r\n").find(safe[at - 1]) != std::string::npos;
      const std::size_t first = safe.find_first_not_of(" \t\r\n", at);
      if (!begins || first == std::string::npos) continue;
      RC_ASSERT(std::string("=+-@|").find(safe[first]) == std::string::npos);
    }
    RC_ASSERT(records_of("x," + report::csv_field(safe) + "\r\n")[0][1] == safe);
  });
  CHECK(held);
}

TEST_CASE("a formula in a part name stays a text in the shopping list") {
  auto fixture = test::small_outcome();
  fixture.outcome.stages[0].orders[0].lines[0].name = "=HYPERLINK(\"x\", 1)";
  const auto records = records_of(report::shopping_csv(fixture.outcome));
  CHECK(records[1][4] == "'=HYPERLINK(\"x\", 1)");
}
