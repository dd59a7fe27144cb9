#include "lib/build/json/tree.hpp"

#include "lib/build/read/findings.hpp"
#include "lib/text/utf8.hpp"
#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <rapidcheck.h>

using namespace fettlefund::build;
namespace text = fettlefund::text;
using namespace fettlefund::build::testing;

namespace {

struct Parsed {
  Node root;
  std::vector<Diagnostic> diagnostics;
};

Parsed parse(std::string_view text) {
  Findings findings("t", text);
  Parsed parsed{parse_tree(text, findings), {}};
  parsed.diagnostics = findings.told(parsed.root);
  return parsed;
}

/// The tree as the JSON library would hold it.
nlohmann::json as_json(const Node& node) {
  if (node.kind == NodeKind::text) return node.text;
  if (node.kind == NodeKind::number) return nlohmann::json::parse(node.text);
  if (node.kind == NodeKind::truth) return node.truth;
  nlohmann::json json = nullptr;
  if (node.kind == NodeKind::object) json = nlohmann::json::object();
  if (node.kind == NodeKind::list) json = nlohmann::json::array();
  for (const Member& member : node.members) json[member.key] = as_json(member.value);
  for (const Node& item : node.items) json.push_back(as_json(item));
  return json;
}

/// Every span holds the text of its value, and the pointer to its start leads back to it.
void check_spans(const Node& root, const Node& node, std::string_view text, const std::string& pointer) {
  CAPTURE(pointer);
  CHECK(nlohmann::json::parse(text.substr(node.span.begin, node.span.end - node.span.begin), nullptr, true,
                              true) == as_json(node));
  CHECK(pointer_to(root, node.span.begin) == pointer);
  const Place place = place_of(text, node.span.begin);
  CHECK(node.span.place.line == place.line);
  CHECK(node.span.place.column == place.column);
  for (const Member& member : node.members) {
    CHECK(pointer_to(root, member.span.begin) == pointer + "/" + member.key);
    check_spans(root, member.value, text, pointer + "/" + member.key);
  }
  for (std::size_t i = 0; i < node.items.size(); ++i)
    check_spans(root, node.items[i], text, pointer + "/" + std::to_string(i));
}

rc::Gen<std::string> piece() {
  static const std::vector<std::string> pieces = {
      "{",           "}",      "[",       "]",  ",",  ":",   "\"a\"", "\"b\\n\"", "\"\\u12g4\"",
      "\"\\ud83d\"", "1",      "-2.5",    "01", ".5", "1e5", "true",  "nul",      " ",
      "\n",          "// c\n", "/* c */", "/",  "/*", "\"",  "\\",    "'"};
  return rc::gen::elementOf(pieces);
}

/// Sound for one is sound for the other, and then both hold the same.
void check_agreement(const std::string& text) {
  const Parsed parsed = parse(text);
  for (const Diagnostic& diagnostic : parsed.diagnostics) RC_ASSERT(!diagnostic.expected.empty());
  if (!parsed.diagnostics.empty() && parsed.diagnostics[0].expected.starts_with("each key")) return;
  const nlohmann::json json = nlohmann::json::parse(text, nullptr, false, true);
  RC_ASSERT(parsed.diagnostics.empty() == !json.is_discarded());
  if (parsed.diagnostics.empty()) RC_ASSERT(as_json(parsed.root) == json);
}

}  // namespace

TEST_CASE("every value of a tree knows its place, its text and its pointer") {
  const std::string text =
      "// first\n{\"a\": [1, -2.50, 1e2, \"x\\n\\u00e9\\\"\"],\r\n \"b\" : {\"c\":{}, \"d\":[], \"e\": "
      "[[true, false], "
      "null]} /* last */}";
  const Parsed parsed = parse(text);
  CHECK(parsed.diagnostics.empty());
  check_spans(parsed.root, parsed.root, text, "");
}

TEST_CASE("numbers keep the characters they are written with") {
  const Parsed parsed = parse("[12.50, 1E+2, -0, 0.10]");
  REQUIRE(parsed.root.items.size() == 4);
  CHECK(parsed.root.items[0].text == "12.50");
  CHECK(parsed.root.items[1].text == "1E+2");
  CHECK(parsed.root.items[2].text == "-0");
  CHECK(parsed.root.items[3].text == "0.10");
}

TEST_CASE("of duplicate keys the first stays and each other is told") {
  const Parsed parsed = parse("{\"a\": 1, \"b\": 2, \"a\": 3,\n\"\\u0061\": 4}");
  REQUIRE(parsed.root.members.size() == 2);
  CHECK(parsed.root.members[0].value.text == "1");
  REQUIRE(parsed.diagnostics.size() == 2);
  CHECK(
      to_text(parsed.diagnostics[0]) ==
      "t:1:18: error: found \"a\", expected each key once, and this one already stands in line 1, column 2");
  CHECK(parsed.diagnostics[1].place.line == 2);
}

TEST_CASE("the tree agrees with the JSON library on whatever is built of JSON pieces") {
  rc::check("pieces", [] {
    std::string text;
    const int count = *rc::gen::inRange(0, 12);
    for (int i = 0; i < count; ++i) text += *piece();
    check_agreement(text);
  });
}

TEST_CASE("the tree agrees with the JSON library on a sound document that is damaged anywhere") {
  const std::string sound = content(golden() / "good" / "every-key.build");
  rc::check("damage", [&] {
    std::string text = sound;
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    const auto length = *rc::gen::inRange<std::size_t>(0, 4);
    text.replace(at, length, *rc::gen::oneOf(rc::gen::just(std::string()), piece()));
    check_agreement(text);
  });
}

TEST_CASE("sound documents of any shape come through whole") {
  rc::check("any document", [] {
    nlohmann::json json = nlohmann::json::array();
    for (const auto& [key, number] : *rc::gen::arbitrary<std::map<std::string, int>>()) {
      if (text::find_bad_utf8(key) != key.size()) continue;
      json.push_back({{key, number}, {"list", {number, key, nullptr, {{key, true}}}}});
    }
    const std::string text = json.dump(*rc::gen::inRange(-1, 3));
    const Parsed parsed = parse(text);
    RC_ASSERT(parsed.diagnostics.empty());
    RC_ASSERT(as_json(parsed.root) == json);
  });
}
