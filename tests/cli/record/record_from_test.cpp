#include <set>
#include <sstream>

#include "tests/cli/support/handed_workbook.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;
using test::RecordPlace;
using test::TypedWorkbook;
namespace fs = std::filesystem;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
/// Stage 1 buys the seat (150.00 and 5.00 for delivery), stage 2 the lamp (60.00).
std::string pair_of_jobs(const std::string& name = "test build") {
  BuildText text;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5, "lead_days": 2})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]})";
  std::string all = text.text();
  all.replace(all.find("test build"), 10, name);
  return all;
}

struct Handed : RecordPlace {
  Handed() { put("bike.build", pair_of_jobs()); }

  TypedWorkbook workbook(const std::string& day = "") { return test::handed_workbook(day); }
  int from(const TypedWorkbook& book, const std::string& on = "2027-01-02", bool dry = false) {
    book.save("typed.xlsx");
    std::vector<std::string> words = {"record", "bike.build", "--from", "typed.xlsx", "--on", on};
    if (dry) words.push_back("--dry-run");
    return run(words);
  }
};

sheets::Value x() { return std::string("x"); }
sheets::Money cents(std::int64_t minor) { return sheets::Money::of_minor(minor); }

}  // namespace

TEST_CASE("what was typed into a workbook is recorded with days and amounts") {
  Handed place;
  TypedWorkbook book = place.workbook();
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  book.save("typed.xlsx");
  CHECK(place.contents("bike.xlsx") == place.contents("typed.xlsx"));
  book.type("Shopping", "seat@1", "Paid", cents(14250));
  book.type("Shopping", "seat@1", "Bought on", budgets::make_date(2027, 1, 1));
  book.type("Shopping", "delivery:post@1", "Tick", x());
  book.type("Jobs", "job:light@2", "Your remark", std::string("mind the bulb"));
  CHECK(place.from(book, "2027-01-02", true) == 0);
  CHECK(place.out.ends_with("Would be recorded in bike.record; nothing was written.\n"));
  CHECK_FALSE(fs::exists("bike.record"));
  CHECK(place.from(book) == 0);
  CHECK(place.out ==
        "   1  2027-01-01  bought seat@1, 1 pack, 142.50 EUR, arrives 2027-01-03\n"
        "   2  2027-01-02  bought delivery:post@1, 1 pack, 5.00 EUR\n"
        "   3  2027-01-02  remark about light: mind the bulb\n"
        "Recorded in bike.record.\n");
  CHECK(place.err == "");
}

TEST_CASE("handed back twice nothing is recorded twice, and a corrected amount becomes a correction") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  book.type("Shopping", "besides:1", "Stage", std::int64_t{1});
  book.type("Shopping", "besides:1", "Paid", cents(300));
  CHECK(place.from(book) == 0);
  CHECK(place.from(book) == 0);
  CHECK(place.out ==
        "2 things told by typed.xlsx are recorded already.\nNothing new to record in typed.xlsx.\n");
  book.type("Shopping", "seat@1", "Paid", cents(14900));
  CHECK(place.from(book, "2027-01-03") == 0);
  CHECK(place.out.find("   3  2027-01-03  paid for seat@1: 149.00 EUR\n") != std::string::npos);
  CHECK(place.from(book, "2027-01-03") == 0);
  CHECK(place.out.find("Nothing new to record") != std::string::npos);
}

TEST_CASE("a later workbook that plans the same line again records another purchase") {
  Handed place;
  place.run({"record", "bike.build", "bought", "lamp@2", "--on", "2027-01-01"});
  place.run({"record", "bike.build", "undo", "1", "--on", "2027-01-01"});
  place.run({"record", "bike.build", "bought", "lamp@2", "--on", "2027-01-01", "--paid", "58"});
  place.run({"record", "bike.build", "fitted", "light", "--on", "2027-01-01"});
  place.run({"record", "bike.build", "undo", "4", "--on", "2027-01-01"});
  place.run({"record", "bike.build", "undo", "3", "--on", "2027-01-01"});
  TypedWorkbook book = place.workbook("2027-01-01");
  book.type("Shopping", "lamp@2", "Paid", cents(5900));
  CHECK(place.from(book) == 0);
  CHECK(place.out.find("bought lamp@2, 1 pack, 59.00 EUR") != std::string::npos);
  CHECK(place.err == "");
}

TEST_CASE("errors of a workbook are all told with sheet and cell and nothing is recorded") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", std::string("maybe"));
  book.type("Shopping", "lamp@2", "Paid", std::string("1.234"));
  book.type("Jobs", "job:sit@1", "Tick", x());
  book.type("Jobs", "job:sit@1", "Done on", budgets::make_date(2027, 1, 5));
  CHECK(place.from(book) == 2);
  CHECK(place.err ==
        "typed.xlsx: Shopping A6: error: found 'maybe', expected an x or nothing\n"
        "typed.xlsx: Shopping I9: error: found '1.234', expected an amount of EUR like 129.95\n"
        "typed.xlsx: Jobs F5: error: 2027-01-05 is after 2027-01-02, the day of this recording; has it "
        "happened? Then give --on\n"
        "fettlefund: nothing of typed.xlsx is recorded: put right 3 errors first\n");
  CHECK_FALSE(fs::exists("bike.record"));
}

TEST_CASE("packs at a price that come to more than the log can hold are an error at the price") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  book.type("Shopping", "seat@1", "Packs", std::int64_t{2});
  book.type("Shopping", "seat@1", "Price", cents(log::most_minor / 2 + 1));
  CHECK(place.from(book) == 2);
  CHECK(place.err ==
        "typed.xlsx: Shopping G6: error: the amount is too large\n"
        "fettlefund: nothing of typed.xlsx is recorded: put right 1 error first\n");
  book.type("Shopping", "seat@1", "Price", cents(log::most_minor / 2));
  CHECK(place.from(book) == 0);
}

TEST_CASE("a workbook of another build is refused line by line") {
  Handed place;
  place.put("bike.build", pair_of_jobs("another build"));
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  place.put("bike.build", pair_of_jobs());
  CHECK(place.from(book) == 2);
  CHECK(
      place.err ==
      "typed.xlsx: error: the workbook is of the build 'another build', not of 'test build'\n"
      "typed.xlsx: Shopping A6: error: not taken: the workbook is of the build 'another build', not of 'test "
      "build'\n"
      "fettlefund: nothing of typed.xlsx is recorded: put right 2 errors first\n");
}

TEST_CASE("a workbook of an older plan is told as such, and so is each line that fits no more") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  book.type("Shopping", "lamp@2", "Tick", x());
  std::string changed = pair_of_jobs();
  while (changed.find("\"lamp\"") != std::string::npos)
    changed.replace(changed.find("\"lamp\""), 6, "\"lamps\"");
  place.put("bike.build", changed);
  CHECK(place.from(book) == 2);
  CHECK(place.err.find("typed.xlsx: warning: the workbook is of an older plan: the build file has changed") !=
        std::string::npos);
  CHECK(
      place.err.find("typed.xlsx: Shopping A9: error: 'lamp' is not an article of the build any more; did it "
                     "become 'lamps'?") != std::string::npos);
}

TEST_CASE("what the log has otherwise is told and stays") {
  Handed place;
  TypedWorkbook book = place.workbook();
  place.run({"record", "bike.build", "bought", "seat@1", "--packs", "2", "--on", "2027-01-01"});
  place.run({"record", "bike.build", "fitted", "sit", "--on", "2027-01-01", "--hours", "3"});
  book.type("Shopping", "seat@1", "Tick", x());
  book.type("Shopping", "seat@1", "Bought on", budgets::make_date(2027, 1, 2));
  CHECK(place.from(book) == 0);
  CHECK(place.err.find("warning: 1 packs here, 2 in entry 1 of the log; that stays") != std::string::npos);
  CHECK(place.err.find("warning: bought on 2027-01-02 here, on 2027-01-01 in entry 1") != std::string::npos);
  book.type("Jobs", "job:sit@1", "Tick", x());
  CHECK(place.from(book) == 0);
  book.type("Jobs", "job:sit@1", "Hours taken", sheets::Minutes{60});
  CHECK(place.from(book) == 2);
  CHECK(place.err.find(
            "Jobs A5: error: sit is recorded otherwise: fitted sit, took 3 h on 2027-01-01; undo that "
            "entry first") != std::string::npos);
}

TEST_CASE("what is no workbook is refused with the reason") {
  Handed place;
  place.put("no.xlsx", "PK no zip at all");
  CHECK(place.run({"record", "bike.build", "--from", "no.xlsx"}) == 2);
  CHECK(place.err.starts_with(
      "fettlefund: cannot take anything from no.xlsx: it is no xlsx workbook, or damaged"));
  CHECK(place.run({"record", "bike.build", "--from", "missing.xlsx"}) == 2);
  CHECK(place.err == "fettlefund: cannot take anything from missing.xlsx: it cannot be opened\n");
  CHECK(place.run({"record", "bike.build", "--from", "no.xlsx", "list"}) == 2);
  CHECK(place.err ==
        "fettlefund: either an action or --from, not both\n"
        "Usage: fettlefund record FILE list [OPTIONS]\nTry 'fettlefund record FILE list --help'.\n");
}

TEST_CASE("a workbook that was planned with another log is refused") {
  Handed place;
  place.run({"record", "bike.build", "remark", "begun", "--on", "2027-01-01"});
  TypedWorkbook book = place.workbook("2027-01-01");
  book.type("Shopping", "seat@1", "Tick", x());
  fs::rename("bike.record", "first.log");
  CHECK(place.from(book) == 2);
  CHECK(
      place.err.find("error: the workbook was planned with another log than the one beside the build file") !=
      std::string::npos);
  place.run({"record", "bike.build", "remark", "begun anew, later", "--on", "2027-01-02"});
  CHECK(place.from(book) == 2);
  fs::rename("first.log", "bike.record");
  CHECK(place.from(book) == 0);
}

TEST_CASE("what was undone since is recorded again from the workbook, and once") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  book.type("Jobs", "job:sit@1", "Your remark", std::string("well done"));
  CHECK(place.from(book) == 0);
  CHECK(place.run({"record", "bike.build", "undo", "1", "--on", "2027-01-02"}) == 0);
  CHECK(place.from(book) == 0);
  CHECK(place.out.find("   4  2027-01-02  bought seat@1") != std::string::npos);
  CHECK(place.out.find("1 thing told by typed.xlsx is recorded already.") != std::string::npos);
  CHECK(place.from(book) == 0);
  CHECK(place.out.find("Nothing new to record") != std::string::npos);
}

TEST_CASE("a workbook in which something typed is not recorded is not replaced, and its cells are named") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Paid", cents(14250));
  book.type("Jobs", "job:sit@1", "Tick", x());
  book.type("Shopping", "lamp@2", "Tick", std::string("maybe"));
  book.save("bike.xlsx");
  const std::string before = place.contents("bike.xlsx");
  CHECK(place.run({"sheet", "bike.build"}) == 2);
  CHECK(place.out == "");
  CHECK(place.err ==
        "bike.xlsx: Shopping I6: bought seat@1, 1 pack, 142.50 EUR\n"
        "bike.xlsx: Jobs A5: fitted sit\n"
        "bike.xlsx: Shopping A9: found 'maybe', expected an x or nothing\n"
        "fettlefund: bike.xlsx holds 3 things that are typed and not recorded and would be lost; record them "
        "first with\n"
        "  fettlefund record bike.build --from bike.xlsx\n"
        "or give --replace, which keeps the old file beside the new one\n");
  CHECK(place.contents("bike.xlsx") == before);
}

TEST_CASE("a workbook is replaced on demand and the old one stays beside it") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Paid", cents(14250));
  for (const char* kept : {"bike.old-1.xlsx", "bike.old-2.xlsx"}) {
    book.save("bike.xlsx");
    const std::string before = place.contents("bike.xlsx");
    CHECK(place.run({"sheet", "bike.build", "--replace"}) == 0);
    CHECK(place.out.starts_with(std::string("What was typed in the earlier workbook is kept in ") + kept +
                                ".\nWrote bike.xlsx.\n"));
    CHECK(place.contents(kept) == before);
    CHECK(place.contents("bike.xlsx") != before);
  }
}

TEST_CASE("what is recorded from a workbook does not keep the next one from being written") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Paid", cents(14250));
  book.save("bike.xlsx");
  CHECK(place.run({"record", "bike.build", "--from", "bike.xlsx"}) == 0);
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  CHECK(place.out.starts_with("As of 2027-01-02 (last entry of the record)\nWrote bike.xlsx.\n"));
  CHECK_FALSE(fs::exists("bike.old-1.xlsx"));
}

TEST_CASE("what nobody records stays in a copy beside the new workbook") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Price", cents(14000));
  book.save("bike.xlsx");
  const std::string before = place.contents("bike.xlsx");
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  CHECK(place.contents("bike.old-1.xlsx") == before);
}

TEST_CASE("a file that is no workbook of the build is not replaced either") {
  Handed place;
  place.put("bike.xlsx", "somebody's own notes");
  CHECK(place.run({"sheet", "bike.build"}) == 2);
  CHECK(place.err.starts_with("fettlefund: bike.xlsx is there, and what is typed in it cannot be read: "));
  CHECK(place.contents("bike.xlsx") == "somebody's own notes");
  place.put("bike.xlsx", "");
  CHECK(place.run({"sheet", "bike.build"}) == 0);
}

namespace {

/// The log's purchases and remarks without numbers, in no order.
std::multiset<std::string> recorded(Handed& place) {
  place.run({"record", "bike.build", "list"});
  std::multiset<std::string> lines;
  std::istringstream in(place.out);
  for (std::string line; std::getline(in, line);) lines.insert(line.substr(4));
  return lines;
}

}  // namespace

TEST_CASE("two copies handed back in any order and number come to the same") {
  std::vector<std::multiset<std::string>> results;
  for (const std::string order : {"ab", "ba", "abab", "bbaab"}) {
    Handed place;
    TypedWorkbook a = place.workbook(), b = place.workbook();
    a.type("Shopping", "besides:1", "Stage", std::int64_t{1});
    a.type("Shopping", "besides:1", "Article", std::string("bolts"));
    a.type("Shopping", "besides:1", "Paid", cents(300));
    for (auto* copy : {&a, &b}) {
      copy->type("Shopping", "besides:2", "Stage", std::int64_t{1});
      copy->type("Shopping", "besides:2", "Article", std::string("rags"));
      copy->type("Shopping", "besides:2", "Paid", cents(150));
    }
    b.type("Shopping", "besides:1", "Stage", std::int64_t{1});
    b.type("Shopping", "besides:1", "Article", std::string("paint"));
    b.type("Shopping", "besides:1", "Paid", cents(700));
    a.type("Shopping", "seat@1", "Tick", x());
    for (const char copy : order) CHECK(place.from(copy == 'a' ? a : b) == 0);
    results.push_back(recorded(place));
  }
  CHECK(results.front().size() == 7);
  for (const auto& result : results) CHECK(result == results.front());
}

TEST_CASE("two typed amounts of one line that differ are put to the user until decided") {
  Handed place;
  TypedWorkbook a = place.workbook(), b = place.workbook();
  a.type("Shopping", "seat@1", "Paid", cents(14250));
  b.type("Shopping", "seat@1", "Paid", cents(14900));
  CHECK(place.from(a) == 0);
  CHECK(place.from(b) == 2);
  CHECK(place.err.find(
            "typed.xlsx: Shopping I6: error: 149.00 paid here, 142.50 in entry 1 of the log; which is "
            "right? record BUILD paid seat@1 AMOUNT decides it") != std::string::npos);
  CHECK(place.run({"record", "bike.build", "paid", "seat@1", "149"}) == 0);
  CHECK(place.from(b) == 0);
  CHECK(place.from(a) == 0);
  CHECK(place.err.find("warning: 142.50 paid here, 149.00 by the log; that stays") != std::string::npos);
  CHECK(place.out.find("Nothing new to record") != std::string::npos);
}

TEST_CASE("what was recorded and is unticked again is told") {
  Handed place;
  TypedWorkbook book = place.workbook();
  book.type("Shopping", "seat@1", "Tick", x());
  CHECK(place.from(book) == 0);
  book.cell("Shopping", "seat@1", "Tick").value = std::monostate{};
  CHECK(place.from(book) == 0);
  CHECK(place.err.find(
            "typed.xlsx: warning: recorded as bought, but neither ticked nor paid here: seat@1; that "
            "stays (undo takes an entry back)") != std::string::npos);
}

TEST_CASE("a line besides the plan is dated by the stage it names, unless that is still to come") {
  Handed place;
  TypedWorkbook book = place.workbook();
  for (const int stage : {1, 2}) {
    const std::string key = "besides:" + std::to_string(stage);
    book.type("Shopping", key, "Stage", std::int64_t{stage});
    book.type("Shopping", key, "Paid", cents(300));
  }
  CHECK(place.from(book) == 0);
  CHECK(place.out.find("   1  2027-01-01  bought besides:") != std::string::npos);
  CHECK(place.out.find("   2  2027-01-02  bought besides:") != std::string::npos);
  CHECK(place.err.find("warning: the payday of stage 2 is 2027-02-01; it is taken as paid on 2027-01-02") !=
        std::string::npos);
}
