#include "cli/manual/manual.hpp"

#include <algorithm>

#include "cli/command_line/command_tree.hpp"
#include "cli/command_line/examples.hpp"
#include "tests/cli/support/ran.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

std::string text_of(const std::vector<cli::Page>& pages, const std::string& path) {
  const auto page =
      std::find_if(pages.begin(), pages.end(), [&](const auto& one) { return one.path == path; });
  return page == pages.end() ? "" : page->text;
}

}  // namespace

TEST_CASE("every command has a manual page that names each of its options") {
  const auto pages = cli::manual_pages();
  const auto commands = cli::command_tree();
  CHECK(pages.size() == commands.size() + 2);  // fettlefund.1 and fettlefund-staging.1
  for (const cli::CommandEntry& command : commands) {
    const std::string text = text_of(pages, "man/fettlefund-" + command.name + ".1");
    CAPTURE(command.name);
    CHECK(text.starts_with(".TH FETTLEFUND\\-"));
    for (const cli::OptionEntry& option : command.options) {
      std::string name = option.names.back().substr(2);
      for (std::size_t at = name.find('-'); at != std::string::npos; at = name.find('-', at + 2))
        name.insert(at, "\\");
      CHECK(text.find("\\-\\-" + name) != std::string::npos);
    }
  }
}

TEST_CASE("no line of a manual page is taken for a request by accident") {
  for (const cli::Page& page : cli::manual_pages()) {
    CAPTURE(page.path);
    CHECK(page.text.find("\n'") == std::string::npos);
    CHECK(page.text.find("\n.f") == std::string::npos);
  }
}

TEST_CASE("completions of all three shells know every command") {
  const auto pages = cli::completion_pages();
  REQUIRE(pages.size() == 3);
  for (const cli::CommandEntry& command : cli::command_tree()) {
    for (const cli::Page& page : pages) CHECK(page.text.find(command.name) != std::string::npos);
  }
}

TEST_CASE("every example names a command and every command has an example") {
  const auto commands = cli::command_tree();
  for (const cli::CommandEntry& command : commands) {
    CAPTURE(command.name);
    CHECK(!cli::examples_text(command.name).empty());
  }
  for (const cli::Example& example : cli::examples()) {
    const std::string_view name = example.command.substr(0, example.command.find(' '));
    CHECK(std::any_of(commands.begin(), commands.end(), [&](const auto& one) { return one.name == name; }));
    CHECK(example.line.starts_with(name));
  }
}

TEST_CASE("ids prints what a completion needs") {
  const auto ran = test::run({"ids", "-", "suppliers"}, test::golden_text("why/skiff.build"));
  CHECK(ran.code == 0);
  CHECK(ran.out.find('\t') != std::string::npos);
  CHECK(test::run({"ids", "-", "wheels"}, "").code == 2);
}
