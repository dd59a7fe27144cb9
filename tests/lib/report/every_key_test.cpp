#include <algorithm>
#include <array>
#include <fstream>
#include <set>
#include <sstream>

#include "lib/drive/drive.hpp"
#include "lib/report/json/json.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/text/drive.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "tests/lib/build/support.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

// Every key of the build file reaches every output that it belongs to: keys.txt says which, and what to look
// for; where a key reaches none of an output it says why.

using namespace fettlefund;
using Json = nlohmann::json;

namespace {

/// Key of the schema, then what to look for in text, JSON, page and workbook, then a reason.
using Row = std::array<std::string, 6>;

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

Row row_of(const std::string& line) {
  Row row;
  std::istringstream in(line);
  std::string part;
  for (std::size_t i = 0; i < row.size() && std::getline(in, part, '|'); ++i) row[i] = trimmed(part);
  for (std::size_t i = 2; i < 5; ++i) {
    if (row[i] == "=") row[i] = row[1];
  }
  return row;
}

std::vector<Row> table() {
  std::ifstream in(build::testing::golden() / "told" / "keys.txt");
  std::vector<Row> rows;
  for (std::string line; std::getline(in, line);) {
    if (!line.empty() && line[0] != '#') rows.push_back(row_of(line));
  }
  return rows;
}

/// Keys that the schema knows, as "/jobs/*/note": those that hold values, not those that hold keys only.
class SchemaKeys {
 public:
  SchemaKeys()
      : schema_(Json::parse(build::testing::content(std::string(FETTLEFUND_SOURCE_DIR) +
                                                    "/lib/build/build-file.schema.json"))) {
    walk(schema_, "");
  }

  std::set<std::string> keys() const {
    std::set<std::string> last;
    for (const std::string& key : all_) {
      const auto next = all_.upper_bound(key + "/");
      const bool holds_keys = next != all_.end() && next->starts_with(key + "/");
      if (!holds_keys || plain_.contains(key)) last.insert(key);
    }
    return last;
  }

 private:
  const Json& resolved(const Json& node) const {
    if (!node.contains("$ref")) return node;
    return resolved(schema_.at(Json::json_pointer(node.at("$ref").get<std::string>().substr(1))));
  }

  void walk(const Json& unresolved, const std::string& path) {
    const Json& node = resolved(unresolved);
    if (node.contains("properties")) {
      for (const auto& [name, value] : node.at("properties").items()) {
        all_.insert(path + "/" + name);
        walk(value, path + "/" + name);
      }
    }
    for (const char* inner : {"additionalProperties", "items"}) {
      if (node.contains(inner) && node.at(inner).is_object()) walk(node.at(inner), path + "/*");
    }
    for (const char* either : {"oneOf", "anyOf", "allOf"}) {
      if (node.contains(either)) choose(node.at(either), path);
    }
  }

  /// A value that may be plain or hold keys is looked for both ways.
  void choose(const Json& choices, const std::string& path) {
    for (const Json& one : choices) {
      const std::string type = resolved(one).value("type", "");
      if (!path.ends_with("*") && type != "object" && type != "array" && !type.empty()) plain_.insert(path);
      walk(one, path);
    }
  }

  Json schema_;
  std::set<std::string> all_, plain_;
};

/// Runs of blanks and line breaks are one blank.
std::string flat(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && c != '\n') {
      out += c;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  return out;
}

/// What a page shows: without its tags.
std::string shown(const std::string& html) {
  std::string out;
  bool tag = false;
  for (const char c : html) {
    if (c == '<') tag = true;
    if (!tag) out += c;
    if (c == '>') tag = false;
  }
  return flat(out);
}

struct Cell {
  const budgets::Currency& currency;
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(const std::string& text) const { return text; }
  std::string operator()(budgets::Money amount) const { return budgets::write_money(amount, currency); }
  std::string operator()(budgets::Date day) const { return budgets::write_date(day); }
  std::string operator()(std::int64_t number) const { return std::to_string(number); }
  std::string operator()(sheets::Minutes minutes) const { return sheets::write_hours(minutes.count); }
  std::string operator()(sheets::BasisPoints points) const {
    return fmt::format("{:.2f} percent", static_cast<double>(points.count) / 100);
  }
  std::string operator()(sheets::Decimal decimal) const {
    double value = static_cast<double>(decimal.units);
    for (int i = 0; i < decimal.digits; ++i) value /= 10;
    return fmt::format("{:.{}f}", value, decimal.digits);
  }
};

/// The cells of the sheets that people see, row by row, with " ~ " between them.
std::string workbook(const planning::Outcome& outcome) {
  std::string all;
  for (const sheets::Sheet& sheet : sheets::make_book(outcome).sheets) {
    if (sheet.hidden) continue;
    for (const auto& [place, cell] : sheet.cells)
      all += std::visit(Cell{outcome.build->currency}, cell.value) + " ~ ";
  }
  return flat(all);
}

/// What the four outputs say, without the words of the lines that the table is about.
std::array<std::string, 4> outputs(const build::Build& build) {
  planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  const auto& outcome = std::get<planning::Outcome>(planning);
  const planning::DriveReport drive = planning::drive_report(build);
  report::TextOptions options;
  options.steps = true;
  return {flat(report::text(outcome, options) + report::drive_text(build, drive)),
          flat(report::json(outcome) + report::drive_json(build, drive)), shown(report::stage_cards(outcome)),
          workbook(outcome)};
}

}  // namespace

TEST_CASE("the table of keys names every key of the schema once and no other") {
  std::set<std::string> named;
  for (const Row& row : table()) CHECK_MESSAGE(named.insert(row[0]).second, row[0]);
  const std::set<std::string> known = SchemaKeys().keys();
  for (const std::string& key : known) CHECK_MESSAGE(named.contains(key), "not in keys.txt: " << key);
  for (const std::string& key : named) CHECK_MESSAGE(known.contains(key), "not in the schema: " << key);
}

TEST_CASE("every key of the build file reaches every output that it belongs to") {
  build::Reading reading = build::read_file((build::testing::golden() / "told" / "told.build").string());
  REQUIRE(reading.build.has_value());
  const std::array<std::string, 4> all = outputs(*reading.build);
  const std::string names[] = {"text", "JSON", "page", "workbook"};
  for (const Row& row : table()) {
    bool somewhere_not = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const std::string& wanted = row[i + 1];
      if (wanted.empty()) somewhere_not = true;
      CHECK_MESSAGE(all[i].find(wanted) != std::string::npos, row[0] << " in " << names[i] << ": " << wanted);
    }
    CHECK_MESSAGE((!somewhere_not || !row[5].empty()), "no reason for " << row[0]);
  }
}
