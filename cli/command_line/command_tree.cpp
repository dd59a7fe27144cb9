#include "cli/command_line/command_tree.hpp"

#include <algorithm>

#include "cli/command_line/subcommands.hpp"

#include <CLI/CLI.hpp>

namespace fettlefund::cli {
namespace {

std::vector<std::string> choices_of(const std::string& name) {
  if (name == "--effort") return {"quick", "normal", "thorough"};
  if (name == "--settle") return {"mine", "theirs", "both"};
  if (name == "--colour") return {"auto", "always", "never"};
  return {};
}

OptionEntry option_entry(const CLI::Option& option) {
  OptionEntry entry;
  for (const std::string& name : option.get_snames()) entry.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) entry.names.push_back("--" + name);
  if (option.get_items_expected_max() > 0) {
    entry.value = option.get_type_name();
    entry.value.resize(std::min(entry.value.size(), entry.value.find(':')));  // without the range's own name
  }
  entry.choices = choices_of(entry.names.back());
  entry.what = option.get_description();
  return entry;
}

CommandEntry command_entry(const CLI::App& app) {
  CommandEntry entry{app.get_name(), app.get_description(), {}, {}, {}};
  for (const CLI::Option* option : app.get_options()) {
    if (option->get_positional()) {
      entry.operands.push_back(
          {option->get_name(true), option->get_description(), option->get_items_expected_max() > 1});
    } else if (!option->get_lnames().empty()) {
      entry.options.push_back(option_entry(*option));
    }
  }
  for (const CLI::App* action : app.get_subcommands({})) entry.actions.push_back(command_entry(*action));
  return entry;
}

}  // namespace

std::vector<CommandEntry> command_tree() {
  CLI::App app("", "fettlefund");
  app.set_help_flag("-h,--help", "print this help");
  Request request;
  Words words;
  add_commands(app, request, words);
  return command_entry(app).actions;
}

}  // namespace fettlefund::cli
