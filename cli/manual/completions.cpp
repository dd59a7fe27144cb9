#include <algorithm>

#include "cli/command_line/command_tree.hpp"
#include "cli/manual/manual.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Which ids of the build may stand where; nothing: files only.
std::string ids_of(const std::string& command, const std::string& action) {
  if (command == "why" || action == "fitted") return "jobs";
  if (action == "bought" || action == "paid") return "articles";
  return {};
}

std::string words(const std::vector<std::string>& all) { return fmt::format("{}", fmt::join(all, " ")); }

std::vector<std::string> option_names(const CommandEntry& command) {
  std::vector<std::string> names;
  for (const OptionEntry& option : command.options) {
    names.insert(names.end(), option.names.begin(), option.names.end());
  }
  return names;
}

std::vector<std::string> names_of(const std::vector<CommandEntry>& commands) {
  std::vector<std::string> names;
  for (const CommandEntry& command : commands) names.push_back(command.name);
  return names;
}

/// In a shell's single quotes.
std::string in_quotes(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string bash_case(const std::string& name, const CommandEntry& command, const std::string& ids) {
  std::string extra = words(names_of(command.actions));
  return fmt::format("    {})\n      options={}\n      actions={}\n      ids={}\n      ;;\n", in_quotes(name),
                     in_quotes(words(option_names(command))), in_quotes(extra), in_quotes(ids));
}

std::string bash_cases(const std::vector<CommandEntry>& commands) {
  std::string text;
  for (const CommandEntry& command : commands) {
    text += bash_case(command.name, command, ids_of(command.name, ""));
    for (const CommandEntry& action : command.actions) {
      text += bash_case(command.name + " " + action.name, action, ids_of(command.name, action.name));
    }
  }
  return text;
}

constexpr const char* bash_head = R"sh(# bash completion for fettlefund
_fettlefund() {
  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}
  local command= action= file= word options= actions= ids=
  for word in "${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
    case $word in
      -*) ;;
      *) if [ -z "$command" ]; then command=$word
         elif [ -z "$file" ]; then file=$word
         elif [ -z "$action" ]; then action=$word; fi ;;
    esac
  done
  if [ -z "$command" ]; then
    COMPREPLY=($(compgen -W )sh";

constexpr const char* bash_middle = R"sh( -- "$current"))
    return
  fi
  case $previous in
    --effort) COMPREPLY=($(compgen -W 'quick normal thorough' -- "$current")); return ;;
    --settle) COMPREPLY=($(compgen -W 'mine theirs both' -- "$current")); return ;;
    --colour) COMPREPLY=($(compgen -W 'auto always never' -- "$current")); return ;;
  esac
  [ "$command" = record ] && [ -n "$action" ] && command="record $action"
  case $command in
)sh";

constexpr const char* bash_tail = R"sh(  esac
  if [[ $current == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$current"))
  elif [ -n "$file" ] && [ -n "$actions" ]; then
    COMPREPLY=($(compgen -W "$actions" -- "$current"))
  elif [ -n "$file" ] && [ -n "$ids" ]; then
    COMPREPLY=($(compgen -W "$(fettlefund ids "$file" "$ids" 2>/dev/null | cut -f1)" -- "$current"))
  else
    compopt -o filenames 2>/dev/null
    COMPREPLY=($(compgen -f -- "$current"))
  fi
}
complete -F _fettlefund fettlefund
)sh";

std::string fish_option(const std::string& condition, const OptionEntry& option) {
  std::string line = "complete -c fettlefund -n " + in_quotes(condition);
  for (const std::string& name : option.names) {
    line += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  }
  if (!option.choices.empty())
    line += " -x -a " + in_quotes(words(option.choices));
  else if (!option.value.empty())
    line += " -r";
  return line + " -d " + in_quotes(option.what) + "\n";
}

std::string fish_script(const std::vector<CommandEntry>& commands) {
  std::string text = "# fish completion for fettlefund\n";
  for (const CommandEntry& command : commands) {
    const std::string seen = "__fish_seen_subcommand_from " + command.name;
    text += fmt::format("complete -c fettlefund -f -n __fish_use_subcommand -a {} -d {}\n", command.name,
                        in_quotes(command.what));
    for (const OptionEntry& option : command.options) text += fish_option(seen, option);
    for (const CommandEntry& action : command.actions) {
      text += fmt::format("complete -c fettlefund -n {} -a {} -d {}\n", in_quotes(seen), action.name,
                          in_quotes(action.what));
      for (const OptionEntry& option : action.options) {
        text += fish_option(seen + "; and __fish_seen_subcommand_from " + action.name, option);
      }
    }
    if (ids_of(command.name, "") == "jobs") {
      text += "complete -c fettlefund -n " + in_quotes(seen) +
              " -a '(fettlefund ids (commandline -opc)[3] jobs 2>/dev/null)'\n";
    }
  }
  return text;
}

/// In zsh's _arguments a colon or a bracket in a description needs a backslash.
std::string zsh_text(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_option(const std::string& name, const OptionEntry& option) {
  std::string spec = name + "[" + zsh_text(option.what) + "]";
  if (!option.choices.empty())
    spec += ":" + option.value + ":(" + words(option.choices) + ")";
  else if (!option.value.empty())
    spec += ":" + zsh_text(option.value) + ":_files";
  return " " + in_quotes(spec);
}

std::string zsh_script(const std::vector<CommandEntry>& commands) {
  std::string list, cases;
  for (const CommandEntry& command : commands) {
    list += " " + in_quotes(command.name + ":" + zsh_text(command.what));
    std::string specs;
    for (const OptionEntry& option : command.options) {
      for (const std::string& name : option.names) specs += zsh_option(name, option);
    }
    const std::string ids = ids_of(command.name, "");
    const std::string actions = words(names_of(command.actions));
    const std::string rest = !ids.empty()
                                 ? "2:id:($(fettlefund ids $words[2] " + ids + " 2>/dev/null | cut -f1))"
                             : !actions.empty() ? "2:action:(" + actions + ")"
                                                : "*:file:_files";
    cases += fmt::format("    {}) _arguments{} '1:build:_files' {} ;;\n", command.name, specs,
                         ids.empty() ? in_quotes(rest) : "\"" + rest + "\"");
  }
  return "#compdef fettlefund\n_fettlefund() {\n  local -a commands\n  commands=(" + list +
         ")\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n"
         "  shift words\n  (( CURRENT-- ))\n  case $words[1] in\n" +
         cases + "  esac\n}\n_fettlefund \"$@\"\n";
}

}  // namespace

std::vector<Page> completion_pages() {
  const std::vector<CommandEntry> commands = command_tree();
  return {{"completions/bash/fettlefund",
           bash_head + in_quotes(words(names_of(commands))) + bash_middle + bash_cases(commands) + bash_tail},
          {"completions/zsh/_fettlefund", zsh_script(commands)},
          {"completions/fish/fettlefund.fish", fish_script(commands)}};
}

}  // namespace fettlefund::cli
