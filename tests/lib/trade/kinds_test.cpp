#include "lib/trade/kinds.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

#include "lib/build/read/read.hpp"
#include "lib/graph/cautions.hpp"
#include "lib/trade/data.hpp"
#include "lib/trade/document.hpp"
#include "lib/trade/read_kinds.hpp"
#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <sys/wait.h>
#include <unistd.h>

using namespace fettlefund;
using trade::Kind;
namespace fs = std::filesystem;

namespace {

fs::path source() { return FETTLEFUND_SOURCE_DIR; }

std::string told_of(const std::string& goods, const std::string& kinds) {
  std::string text;
  for (const auto& one : trade::read_knowledge({{"goods.json", goods}, {"tram.json", kinds}}).diagnostics)
    text += build::to_text(one) + "\n";
  return text;
}

const std::string goods =
    R"({"goods": {"sand": {"name": "Sand", "unit": "kg", "why": "Wheels slip on leaves."}}})";

std::string kind_with(const std::string& more) {
  return R"({"trade": "van", "kinds": {"sanding": {"words": ["grit"], "comes_off": [], "tools": [], "checks": [],
"cautions": [], "spoilt": [], "hours": {"low": 1, "likely": 2, "high": 3}, )" +
         more + "}}}";
}

bool renewing() { return std::getenv("FETTLEFUND_RENEW") != nullptr; }

/// The names of all kinds as the schema of the build file writes them.
std::string schema_of_kinds() {
  std::string text =
      "    \"work_kind\": {\n      \"description\": \"A kind of work, as `fettlefund work` lists them.\",\n"
      "      \"enum\": [\n";
  for (const Kind& kind : trade::kinds())
    text += "        \"" + kind.name + "\"" + (&kind == &trade::kinds().back() ? "\n" : ",\n");
  return text + "      ]\n    },\n";
}

}  // namespace

TEST_CASE("the shipped kinds of work read without a fault and there are more than eighty") {
  for (const auto& one : trade::read_knowledge(trade::data_files()).diagnostics)
    CHECK(build::to_text(one) == "");
  CHECK(trade::kinds().size() >= 80);
  for (const std::string& trade : trade::trades()) {
    const auto own = std::count_if(trade::kinds().begin(), trade::kinds().end(),
                                   [&](const Kind& kind) { return kind.trade == trade; });
    CHECK_MESSAGE(own >= 20, trade);
  }
}

TEST_CASE("each of the kinds of work has lines or says why none, tools, checks, cautions and words") {
  for (const Kind& kind : trade::kinds()) {
    CAPTURE(kind.name);
    CHECK(kind.lines.empty() != kind.none_because.empty());
    CHECK_FALSE(kind.tools.empty());
    CHECK(kind.checks.size() >= 2);
    CHECK_FALSE(kind.cautions.empty());
    CHECK_FALSE(kind.words.empty());
    CHECK(kind.hours.low > 0);
    for (const trade::Line& line : kind.lines) CHECK_MESSAGE(line.why.ends_with('.'), line.id);
  }
}

TEST_CASE("the cautions of the kinds of work are words of the one caution table") {
  std::set<std::string> known;
  for (const graph::TagCaution& entry : graph::caution_table())
    known.insert(entry.tags.begin(), entry.tags.end());
  for (const Kind& kind : trade::kinds())
    for (const std::string& caution : kind.cautions) CHECK_MESSAGE(known.contains(caution), kind.name);
}

// Care: the tool gives no torque, clearance or wear limit. Figures with such units stand nowhere in the
// files.
TEST_CASE("the kinds of work hold no torque, clearance or wear limit") {
  const std::set<char> figures = {'0', '1', '2', '3', '4', '5', '6', '7', '8', '9'};
  for (const Kind& kind : trade::kinds()) {
    std::vector<std::string> texts = kind.comes_off;
    texts.insert(texts.end(), kind.tools.begin(), kind.tools.end());
    texts.push_back(kind.second_person);
    for (const auto& remark : kind.checks) texts.push_back(remark.text);
    for (const auto& remark : kind.mind) texts.push_back(remark.text);
    for (const auto& line : kind.lines) texts.push_back(line.why);
    for (const std::string& text : texts)
      CHECK_MESSAGE(std::none_of(text.begin(), text.end(), [&](char c) { return figures.contains(c); }),
                    text);
  }
}

// With FETTLEFUND_RENEW set the document and the schema's names are written anew, to be reviewed as a change.
TEST_CASE("the document of the kinds of work is the one that stands beside them") {
  const fs::path path = source() / "lib" / "trade" / "KINDS.md";
  if (renewing()) std::ofstream(path, std::ios::binary) << trade::document();
  CHECK(build::testing::content(path) == trade::document());
}

TEST_CASE("the schema of the build file names the kinds of work") {
  const fs::path path = source() / "lib" / "build" / "build-file.schema.json";
  std::string text = build::testing::content(path);
  const std::size_t begin = text.find("    \"work_kind\": {"), end = text.find("    \"torque\": {");
  REQUIRE(begin < end);
  if (renewing())
    std::ofstream(path, std::ios::binary) << text.replace(begin, end - begin, schema_of_kinds());
  const std::string now = build::testing::content(path);
  CHECK(now.find(schema_of_kinds()) != std::string::npos);
}

TEST_CASE("the compiled-in files are the ones that are installed") {
  for (const auto& [name, text] : trade::data_files())
    CHECK(text == build::testing::content(source() / "lib" / "trade" / std::string(name)));
  CHECK(trade::data_schema() == build::testing::content(source() / "lib" / "trade" / "trade.schema.json"));
}

TEST_CASE("an independent validator accepts the files of the kinds of work and refuses spoilt ones") {
  using Json = nlohmann::json;
  const fs::path folder = fs::temp_directory_path() / ("fettlefund-trade-" + std::to_string(getpid()));
  fs::create_directories(folder);
  std::ofstream(folder / "schema.json") << trade::data_schema();
  std::ofstream samples(folder / "samples");
  std::string expected;
  for (const auto& [name, text] : trade::data_files()) {
    const Json whole = Json::parse(text, nullptr, true, true);
    samples << whole.dump() << "\n";
    expected += "1\n";
    Json spoilt = whole;
    spoilt["colour"] = 1;
    samples << spoilt.dump() << "\n";
    expected += "0\n";
    Json deep = whole;
    (deep.contains("goods") ? deep["goods"] : deep["kinds"]).begin().value()["colour"] = 1;
    samples << deep.dump() << "\n";
    expected += "0\n";
  }
  samples.close();
  const std::string where = folder.string();
  const std::string command = "'" + (source() / "tests/lib/build/schema_validate.py").string() + "' '" +
                              where + "/schema.json' '" + where + "/samples' > '" + where +
                              "/verdicts' 2>/dev/null";
  int status = 77;
  for (const char* python : {"python3 ", "/usr/bin/python3 "}) {
    status = WEXITSTATUS(std::system((python + command).c_str()));
    if (status == 0) break;
  }
  if (status != 0)
    MESSAGE("skipped: python3-jsonschema is not installed");
  else
    CHECK(build::testing::content(folder / "verdicts") == expected);
  fs::remove_all(folder);
}

TEST_CASE("a fault in a file of kinds of work is told with its place") {
  CHECK(told_of(goods, kind_with(R"("forgotten": [{"article": "sand", "amount": 1}])")) == "");
  CHECK(told_of(goods, kind_with(R"("forgotten": [{"article": "sandd", "amount": 1}])")) ==
        "tram.json:2:90: error: /kinds/sanding/forgotten/0: found an object, expected a goods word of "
        "goods.json; did you mean sand?\n");
  CHECK(told_of(goods, kind_with(R"("forgotten": [])")) ==
        "tram.json:1:39: error: /kinds/sanding: expected either lines, or \"none_because\" to say why there "
        "are none\n");
  CHECK(told_of(goods, kind_with(R"("forgotten": [], "none_because": "dry", "colours": 1)"))
            .find("expected a key of a kind of work: also, cautions, checks") != std::string::npos);
}

TEST_CASE("a job goes by its own tags, its kind and the cautions of its kind") {
  build::Job job;
  job.tags = {"Split-pin"};
  job.kind = "brake fluid";
  CHECK(trade::tags_of(job) == std::vector<std::string>{"brake fluid", "brakes", "hydraulic", "split pin"});
}
