#include "lib/report/page/stage_cards.hpp"

#include <set>

#include "lib/report/page/html.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;

bool has(const std::string& page, const std::string& words) { return page.find(words) != std::string::npos; }

std::size_t count(const std::string& page, const std::string& words) {
  std::size_t found = 0;
  for (std::size_t at = page.find(words); at != std::string::npos; at = page.find(words, at + 1)) ++found;
  return found;
}

test::BuildText forks() {
  test::BuildText text;
  text.articles =
      R"("oil": {"name": "fork oil", "kind": "consumable", "unit": "ml", "pack": 1000, "offers": [{"supplier": "shop", "price": 14}]},
         "driver": {"name": "seal driver", "kind": "tool", "hire": 6},
         "wrench": {"name": "torque wrench", "kind": "tool", "range": ["5 Nm", "100 Nm"]})";
  text.more = R"(, "on_hand": [{"article": "wrench"}])";
  text.removals =
      R"("wheel": {"name": "front wheel", "hours_off": 0.5, "hours_on": 0.5, "tags": ["raised vehicle"],
      "torques": [{"on": "spindle", "value": "58 Nm", "source": "notes, sheet 9, invented"}]})";
  text.jobs =
      R"("springs": {"name": "fork springs", "want": 5, "hours": 2, "removals": ["wheel"], "helper": true,
      "uses": [{"article": "oil", "amount": 520}], "tools": ["driver"], "tags": ["spring under load"],
      "manual": "Chapter 6, invented", "note": "Mind the left leg", "checks": [{"what": "Legs move alike"}]})";
  return text;
}

}  // namespace

TEST_CASE(
    "a card tells parts with amounts and source, tools, steps with torque, what is left over and money") {
  const build::Build build = forks().read();
  const std::string page = report::stage_cards(test::planned(build));
  CHECK(
      has(page,
          "520 ml <strong>fork oil</strong> <span class=\"soft\">(Corner Shop, arrives 2027-01-01)</span>"));
  CHECK(has(page, "seal driver <span class=\"soft\">(hired)</span>"));
  CHECK(has(page, "<li>480 ml fork oil</li>"));
  CHECK(has(page, "<strong>front wheel</strong>, 1 h, for fork springs"));
  CHECK(has(page,
            "Tighten spindle, <span class=\"torque\">58.0 N m (42.8 lbf ft)</span> <span "
            "class=\"soft\">(notes, sheet 9, invented)</span>"));
  CHECK(has(page, "<strong>two people</strong>"));
  CHECK(has(page, "manual: Chapter 6, invented; note: Mind the left leg"));
  CHECK(has(page, "<tr class=\"total\"><th scope=\"row\">spent</th><td>20.00</td></tr>"));
  CHECK(has(page,
            "Next</h2>\n<p>On 2027-01-01 (stage 1): pay 20.00 EUR and order 1 thing from Corner Shop; 180.00 "
            "EUR is left.</p>"));
}

TEST_CASE("a caution stands in short at its step and in full once") {
  const build::Build build = forks().read();
  const std::string page = report::stage_cards(test::planned(build));
  CHECK(count(page,
              "<strong>Mind:</strong> raised machine: rated stands on firm ground, never a jack alone") == 1);
  CHECK(count(page, "Raised machine: never under or beside it on a jack alone.") == 1);
  CHECK(count(page, "INDG434") == 1);
}

TEST_CASE("the page loads nothing and has the bytes of the run before") {
  const build::Build build = forks().read();
  const auto outcome = test::planned(build);
  const std::string page = report::stage_cards(outcome);
  CHECK(page == report::stage_cards(outcome));
  CHECK_FALSE(has(page, "src="));
  CHECK(count(page, "href=\"") == count(page, "href=\"#"));
  CHECK(count(page, "<article class=\"card\"") == outcome.stages.size());
  CHECK(has(page, "default-src 'none'"));
}

TEST_CASE("texts of the build stay texts") {
  CHECK(report::html_text("<b>&\"'") == "&lt;b&gt;&amp;&quot;&#39;");
  CHECK(report::html_text("a\nb\x01") == "a b?");
  test::BuildText text = forks();
  text.jobs =
      R"("x": {"name": "<script>alert(1)</script>", "want": 5, "hours": 1, "note": "\" onclick=\"go[]",
  "steps" : ["</style><img src=x>"], "cautions" : ["<!--"]
})";
  const build::Build build = text.read();
  const std::string page = report::stage_cards(test::planned(build));
  CHECK(count(page, "<script") == 1);
  CHECK(count(page, "</style>") == 1);
  CHECK_FALSE(has(page, "<img"));
  CHECK_FALSE(has(page.substr(0, page.rfind("<!-- as written: ")), "<!--"));
  CHECK_FALSE(has(page, "\" onclick"));
}

TEST_CASE("a reason that ends in a full stop gets no second one") {
  test::BuildText text = forks();
  text.jobs = R"("x": {"name": "wheel job", "want": 5, "hours": 1, "tags": ["own"]})";
  text.more +=
      R"(, "rules": [{"id": "own-a", "tag": "own", "article": "thing-a", "name": "thing a", "why": "It dries out."},
      {"id": "own-b", "tag": "own", "article": "thing-b", "name": "thing b", "why": "It is lost"}])";
  const build::Build build = text.read();
  const std::string page = report::stage_cards(test::planned(build));
  CHECK(has(page, "It dries out.</span>"));
  CHECK(has(page, "It is lost.</span>"));
}

TEST_CASE("every box to tick has a key of its own") {
  test::BuildText text = forks();
  text.jobs = R"("wheel": {"name": "the same id as the removal", "want": 5, "hours": 1, "removals": ["wheel"],
      "steps": ["Grease it", "Turn it", "Grease it"], "tags": ["wheel"]})";
  const build::Build build = text.read();
  const std::string page = report::stage_cards(test::planned(build));
  std::set<std::string> keys;
  std::size_t boxes = 0;
  for (std::size_t at = page.find("data-key=\""); at != std::string::npos;
       at = page.find("data-key=\"", at + 1)) {
    keys.insert(page.substr(at, page.find('"', at + 10) - at));
    ++boxes;
  }
  // the script speaks of the attribute, too, in brackets
  CHECK(keys.size() == boxes);
  CHECK(boxes > 6);
}
