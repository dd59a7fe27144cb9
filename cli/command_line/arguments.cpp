#include "cli/command_line/arguments.hpp"

#include <algorithm>

#include "cli/command_line/examples.hpp"
#include "cli/command_line/subcommands.hpp"
#include "cli/version.hpp"
#include "lib/text/nearest.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

constexpr const char* about =
    "Fettlefund plans a staged custom build: what to fit, what to buy with it, and which payday pays for it.";

/// Every command, and every action of one, closes its help with examples of its own.
void add_footers(CLI::App& app, const std::string& name) {
  for (CLI::App* command : app.get_subcommands({})) {
    const std::string own = name.empty() ? command->get_name() : name + " " + command->get_name();
    const std::string text = examples_text(own);
    command->footer(text.empty() ? text : text.substr(0, text.size() - 1));
    add_footers(*command, own);
  }
}

void set_up(CLI::App& app, Request& request, Words& words) {
  app.set_version_flag("--version", version_text(), "print the version");
  app.set_help_flag("-h,--help", "print this help");
  app.footer(examples_text("") + "\n'fettlefund COMMAND --help' tells more of one command.\n\n" +
             exit_codes_text());
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  app.get_formatter()->label("Subcommands", "Commands");
  app.get_formatter()->label("REQUIRED", "");
  app.require_subcommand(1);
  add_commands(app, request, words);
  add_footers(app, "");
}

std::vector<std::string> option_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  for (const CLI::App* action : app.get_subcommands({})) {
    for (std::string& name : option_names(*action)) names.push_back(std::move(name));
  }
  return names;
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
  const std::string nearest = text::nearest_name(word, text::Names(known));
  return nearest.empty() ? "" : fmt::format("; did you mean '{}'?", nearest);
}

/// The command that the words name, or nullptr.
const CLI::App* command_of(const CLI::App& app, const std::string& word) {
  for (const CLI::App* command : app.get_subcommands({})) {
    if (command->get_name() == word) return command;
  }
  return nullptr;
}

std::string unknown_option(const CLI::App& command, const std::vector<std::string>& args) {
  const std::vector<std::string> known = option_names(command);
  for (const std::string& arg : args) {
    if (arg == "--") break;
    if (!arg.starts_with("--")) continue;
    const std::string name = arg.substr(0, arg.find('='));
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    return fmt::format("unknown option '{}'{}", name, did_you_mean(name, known));
  }
  return {};
}

/// For a command with actions: which one is missing or unknown, after the build file. Empty: neither.
std::string unknown_action(const CLI::App& command, const std::vector<std::string>& rest) {
  std::vector<std::string> names;
  for (const CLI::App* action : command.get_subcommands({})) names.push_back(action->get_name());
  const bool other = std::any_of(rest.begin(), rest.end(), [](const std::string& word) {
    return word == "--from" || word.starts_with("--merge") || word.starts_with("--settle");
  });
  if (names.empty() || other || !command.get_subcommands().empty()) return {};
  std::vector<std::string> words;
  std::copy_if(rest.begin(), rest.end(), std::back_inserter(words),
               [](const std::string& word) { return !word.starts_with("-"); });
  if (words.size() < 2)
    return fmt::format("after the build file one of: {}, or --from FILE.xlsx", fmt::join(names, ", "));
  if (std::find(names.begin(), names.end(), words[1]) != names.end()) return {};
  return fmt::format("unknown action '{}'{}", words[1], did_you_mean(words[1], names));
}

/// The usage error in words, with the nearest command or option where a word is unknown.
std::string usage_error(const CLI::App& app, const std::vector<std::string>& args, const std::string& what) {
  const auto word =
      std::find_if(args.begin(), args.end(), [](const auto& arg) { return !arg.starts_with("-"); });
  const CLI::App* command = word == args.end() ? nullptr : command_of(app, *word);
  if (command) {
    if (std::string unknown = unknown_option(*command, args); !unknown.empty()) return unknown;
    std::string unknown = unknown_action(*command, {word + 1, args.end()});
    return unknown.empty() ? what : unknown;
  }
  if (std::string unknown = unknown_option(app, args); !unknown.empty()) return unknown;
  if (word == args.end()) return "a command is missing";
  std::vector<std::string> names;
  for (const CLI::App* known : app.get_subcommands({})) names.push_back(known->get_name());
  return fmt::format("unknown command '{}'{}", *word, did_you_mean(*word, names));
}

/// One action, or a workbook that tells everything.
void check_record(const CLI::App& app, const RecordRequest& record) {
  const CLI::App* command = app.get_subcommands().front();
  if (command->get_name() != "record") return;
  const bool action = !command->get_subcommands().empty(), workbook = !record.workbook.empty();
  const bool other = !record.other.empty();
  if (action && workbook) throw CLI::ValidationError("either an action or --from, not both");
  if (other && (action || workbook)) throw CLI::ValidationError("--merge stands alone");
  if (action || workbook || other) return;
  if (command->count("--from") > 0) throw CLI::ValidationError("--from needs the name of a workbook");
  if (command->count("--merge") > 0) throw CLI::ValidationError("--merge needs the name of a record");
  throw CLI::ValidationError("what is to be recorded is missing");
}

Request finished(const CLI::App& app, Request request, const Words& words) {
  request.command = app.get_subcommands().front()->get_name();
  request.effort = budgets::find_effort(words.effort).value_or(budgets::Effort::normal);
  request.colour = words.colour == "always"  ? Colour::always
                   : words.colour == "never" ? Colour::never
                                             : Colour::automatic;
  const auto actions = app.get_subcommands().front()->get_subcommands();
  if (!actions.empty()) request.record.action = actions.front()->get_name();
  return request;
}

/// The innermost command or action that the words name, and the words before its own name in a usage line.
struct Innermost {
  const CLI::App* app;
  std::string before;
};

Innermost innermost(const CLI::App& app) {
  Innermost found{&app, ""};
  std::string before = "fettlefund";
  while (!found.app->get_subcommands().empty()) {
    const CLI::App* next = found.app->get_subcommands().front();
    found = {next, before};
    before += " " + next->get_name() + (next->get_name() == "record" ? " FILE" : "");
  }
  return found;
}

std::string help_of(const CLI::App& app) {
  const Innermost found = innermost(app);
  return found.app == &app ? app.help() : found.app->help(found.before);
}

/// The usage line of the command concerned and where its help is.
std::string usage_hint(const CLI::App& app) {
  const Innermost found = innermost(app);
  if (found.app == &app) return "Try 'fettlefund --help'.\n";
  const std::string name = found.before + " " + found.app->get_name();
  const std::string help = found.app->help(found.before);
  const auto usage = help.find("Usage: ");
  return fmt::format("{}\nTry '{} --help'.\n", help.substr(usage, help.find('\n', usage) - usage), name);
}

}  // namespace

Arguments read_arguments(const std::vector<std::string>& args) {
  CLI::App app(about, "fettlefund");
  Request request;
  Words words;
  set_up(app, request, words);
  try {
    app.parse(std::vector<std::string>(args.rbegin(), args.rend()));
    check_record(app, request.record);
    return {finished(app, std::move(request), words), "", done};
  } catch (const CLI::CallForHelp&) {
    return {std::nullopt, help_of(app), done};
  } catch (const CLI::CallForVersion& version) {
    return {std::nullopt, std::string(version.what()) + "\n", done};
  } catch (const CLI::ParseError& error) {
    return {std::nullopt,
            fmt::format("fettlefund: {}\n{}", usage_error(app, args, error.what()), usage_hint(app)),
            bad_input};
  }
}

}  // namespace fettlefund::cli
