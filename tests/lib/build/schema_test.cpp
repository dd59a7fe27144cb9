#include <array>
#include <cstdlib>
#include <set>

#include "lib/build/json/keys.hpp"
#include "lib/build/starter.hpp"
#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <sys/wait.h>
#include <unistd.h>

using namespace fettlefund::build;
namespace text = fettlefund::text;
using namespace fettlefund::build::testing;
using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

namespace {

Json parse(const std::string& text) { return Json::parse(text, nullptr, true, true); }

Json every_key() { return parse(content(golden() / "good" / "every-key.build")); }

/// A text and what the reader says of it.
struct Sample {
  std::string pointer;
  std::string text;
  bool reads = false;
  bool shape = false;  ///< changed in a way that concerns keys and JSON types only
};

Sample sample(const Json& json, const std::string& pointer, bool shape) {
  const std::string text = json.dump();
  return {pointer, text, read(text, "sample.build").build.has_value(), shape};
}

/// Values of every JSON type, sound and silly.
const std::array<Json, 12> others = {
    Json(nullptr), Json(-1),       Json(0),   Json(""),  Json(true),         Json::array(),
    Json(2.5),     Json::object(), Json("x"), Json(1e9), Json("2027-03-01"), Json::array({"x", "x"})};

bool same_type(const Json& a, const Json& b) {
  return a.type() == b.type() || (a.is_number() && b.is_number());
}

/// Whether a value of another JSON type is simply out of shape. An object that gives way to a text may be a
/// step, which may be either.
bool out_of_shape(const Json& a, const Json& b) {
  return !same_type(a, b) && !(a.is_object() && b.is_string());
}

/// Pointers to every value inside the document.
std::set<Json::json_pointer> pointers_into(const Json& json) {
  std::set<Json::json_pointer> pointers;
  const Json flat = json.flatten();
  for (const auto& [path, value] : flat.items())
    for (Json::json_pointer at(path); !at.empty(); at.pop_back()) pointers.insert(at);
  return pointers;
}

/// Every value of the document replaced by another, every key taken out, and every object given a key that
/// it does not have.
std::vector<Sample> changed_samples(const Json& good) {
  std::vector<Sample> samples;
  std::size_t turn = 0;
  for (const Json::json_pointer& at : pointers_into(good)) {
    const Json& other = others[turn++ % others.size()];
    Json changed = good;
    changed[at] = other;
    samples.push_back(sample(changed, at.to_string(), out_of_shape(good[at], other)));
    if (good[at.parent_pointer()].is_object()) {
      Json without = good;
      without[at.parent_pointer()].erase(at.back());
      samples.push_back(sample(without, at.to_string() + " taken out", false));
    }
    if (good[at].is_object()) {
      Json more = good;
      more[at]["colour"] = 1;
      samples.push_back(sample(more, at.to_string() + "/colour", true));
    }
  }
  return samples;
}

/// One verdict a sample, or nothing where no validator is installed.
std::optional<std::vector<bool>> validate(const std::vector<Sample>& samples) {
  const fs::path folder = fs::temp_directory_path() / ("fettlefund-schema-" + std::to_string(getpid()));
  fs::create_directories(folder);
  std::ofstream(folder / "schema.json") << schema();
  std::ofstream lines(folder / "samples");
  for (const Sample& one : samples) lines << one.text << "\n";
  lines.close();
  const std::string script = std::string(FETTLEFUND_SOURCE_DIR) + "/tests/lib/build/schema_validate.py";
  int status = 77;
  for (const char* python : {"python3", "/usr/bin/python3"}) {
    const std::string where = folder.string();
    const std::string command = std::string(python) + " '" + script + "' '" + where + "/schema.json' '" +
                                where + "/samples' > '" + where + "/verdicts' 2> '" + where + "/errors'";
    status = WEXITSTATUS(std::system(command.c_str()));
    if (status == 0) break;
  }
  std::optional<std::vector<bool>> verdicts;
  if (status == 0) verdicts.emplace();
  if (status == 0)
    for (const char c : content(folder / "verdicts"))
      if (c != '\n') verdicts->push_back(c == '1');
  INFO(content(folder / "errors"));
  CHECK((status == 0 || status == 77 || status == 127));
  fs::remove_all(folder);
  return verdicts;
}

}  // namespace

TEST_CASE("the schema is the installed file byte for byte") {
  CHECK(schema() == content(fs::path(FETTLEFUND_SOURCE_DIR) / "lib" / "build" / "build-file.schema.json"));
}

TEST_CASE("the schema knows exactly the keys that the reader knows") {
  const Json definitions = parse(std::string(schema()))["$defs"];
  for (const KeyTable& table : key_tables()) {
    CAPTURE(table.name);
    const Json& definition = definitions.at(std::string(table.name));
    CHECK(definition["additionalProperties"] == false);
    std::vector<std::string> keys, required;
    for (const Key& key : table.keys) {
      keys.emplace_back(key.name);
      if (key.required) required.emplace_back(key.name);
    }
    std::vector<std::string> schema_keys;
    for (const auto& [key, value] : definition["properties"].items()) schema_keys.push_back(key);
    CHECK(text::Names(schema_keys).all() == text::Names(keys).all());
    CHECK(text::Names(definition["required"].get<std::vector<std::string>>()).all() ==
          text::Names(required).all());
  }
}

TEST_CASE("every object of the schema with keys of its own is a part that the reader knows") {
  std::vector<std::string> parts;
  for (const KeyTable& table : key_tables()) parts.emplace_back(table.name);
  const text::Names known(parts);
  const auto whole = parse(std::string(schema()));
  for (const auto& definition : whole["$defs"].items())
    if (definition.value().contains("properties"))
      CHECK_MESSAGE(known.has(definition.key()), definition.key());
}

TEST_CASE("an independent validator accepts what reads and refuses what is out of shape") {
  const Json good = every_key();
  std::vector<Sample> samples = changed_samples(good);
  const Json evenings = parse(content(golden() / "good" / "evenings.build"));
  for (Sample& one : changed_samples(evenings)) samples.push_back(std::move(one));
  samples.push_back(sample(evenings, "sessions", false));
  REQUIRE(samples.back().reads);
  Json sent_for = evenings;
  sent_for["bench"]["days_after_payday"] = 7;
  samples.push_back(sample(sent_for, "sessions with days after payday", false));
  REQUIRE(samples.back().reads);
  samples.push_back(sample(good, "every key", false));
  samples.push_back(
      sample(parse(starter_build("Starter", "van", fettlefund::budgets::Date{20'000})), "starter", false));
  REQUIRE(samples[samples.size() - 2].reads);
  REQUIRE(samples.back().reads);
  const auto verdicts = validate(samples);
  if (!verdicts) {
    MESSAGE("skipped: python3-jsonschema is not installed");
    return;
  }
  REQUIRE(verdicts->size() == samples.size());
  std::size_t refused = 0, refused_by_both = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const bool valid = (*verdicts)[i];
    CAPTURE(samples[i].pointer);
    CAPTURE(samples[i].text);
    if (samples[i].reads) CHECK(valid);
    if (samples[i].shape) CHECK(valid == samples[i].reads);
    refused += samples[i].reads ? 0 : 1;
    refused_by_both += samples[i].reads || valid ? 0 : 1;
  }
  // The rest are what a schema cannot say: ids that must resolve, days in order, decimals of the currency.
  CHECK(refused_by_both * 10 >= refused * 8);
  MESSAGE(samples.size() << " samples, " << refused << " refused, " << refused_by_both
                         << " by the schema too");
}
