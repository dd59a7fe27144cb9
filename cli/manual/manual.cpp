#include "cli/manual/manual.hpp"

#include <algorithm>

#include "cli/command_line/command_tree.hpp"
#include "cli/command_line/examples.hpp"
#include "cli/staging/staging.hpp"
#include "cli/version.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Text that troff prints as it stands: hyphens as minus signs, no control line, no escape.
std::string troff(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else
      out += c;
  }
  if (!out.empty() && (out[0] == '.' || out[0] == '\'')) out = "\\&" + out;
  return out;
}

std::string upper(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  return text;
}

/// "Plan a build." as the name line wants it: "plan a build".
std::string name_line(std::string what) {
  if (!what.empty() && what[0] >= 'A' && what[0] <= 'Z') what[0] = static_cast<char>(what[0] - 'A' + 'a');
  while (!what.empty() && what.back() == '.') what.pop_back();
  return what;
}

std::string heading(const std::string& page) {
  const std::string version = version_text();
  return fmt::format(".TH {} 1 \"\" \"{}\" \"Fettlefund\"\n", troff(upper(page)),
                     version.substr(0, version.find(" (")));
}

std::string options_text(const CommandEntry& command) {
  std::string text;
  for (const OptionEntry& option : command.options) {
    std::string names;
    for (const std::string& name : option.names) names += (names.empty() ? "" : ", ") + troff(name);
    text +=
        fmt::format(".TP\n\\fB{}\\fR{}\n{}\n", names,
                    option.value.empty() ? "" : " \\fI" + troff(option.value) + "\\fR", troff(option.what));
  }
  return text;
}

std::string operands_text(const CommandEntry& command) {
  std::string text;
  for (const OperandEntry& operand : command.operands) {
    text += fmt::format(".TP\n\\fI{}\\fR\n{}\n", troff(operand.name), troff(operand.what));
  }
  return text;
}

std::string synopsis(const std::string& before, const CommandEntry& command) {
  std::string text = fmt::format(".B {} {}\n[\\fIOPTIONS\\fR]", before, troff(command.name));
  for (const OperandEntry& operand : command.operands) {
    text += fmt::format(" \\fI{}\\fR{}", troff(operand.name), operand.many ? " ..." : "");
  }
  return text + (command.actions.empty() ? "\n" : " [\\fIACTION\\fR ...]\n");
}

std::string example_lines(const std::string& command) {
  std::string text;
  for (const Example& example : examples()) {
    const bool own = example.command == command || example.command.starts_with(command + " ");
    if (!own) continue;
    text += fmt::format(".TP\n\\fBfettlefund {}\\fR\n{}\n", troff(std::string(example.line)),
                        troff(std::string(example.what)));
  }
  return text;
}

std::string action_text(const CommandEntry& command, const CommandEntry& action) {
  return fmt::format(".SS {}\n{}\n.PP\n{}{}{}", troff(action.name), troff(action.what),
                     synopsis("fettlefund " + command.name + " FILE", action), operands_text(action),
                     options_text(action));
}

std::string command_page(const CommandEntry& command) {
  const std::string page = "fettlefund-" + command.name;
  std::string text = heading(page);
  text += fmt::format(".SH NAME\n{} \\- {}\n", troff(page), troff(name_line(command.what)));
  text += ".SH SYNOPSIS\n" + synopsis("fettlefund", command);
  text += ".SH DESCRIPTION\n" + troff(command.what) + "\n" + operands_text(command);
  text += ".SH OPTIONS\n" + options_text(command);
  if (!command.actions.empty()) text += ".SH ACTIONS\n";
  for (const CommandEntry& action : command.actions) text += action_text(command, action);
  const std::string examples = example_lines(command.name);
  if (!examples.empty()) text += ".SH EXAMPLES\n" + examples;
  text += ".SH EXIT STATUS\n" + troff(exit_codes_text()) + "\n";
  return text + ".SH SEE ALSO\n.BR fettlefund (1)\n";
}

std::string program_page(const std::vector<CommandEntry>& commands) {
  std::string text = heading("fettlefund");
  text +=
      ".SH NAME\nfettlefund \\- plan a staged custom build within a budget\n.SH SYNOPSIS\n.B fettlefund\n"
      "\\fICOMMAND\\fR [\\fIOPTIONS\\fR] \\fIFILE\\fR\n.SH DESCRIPTION\n"
      "Fettlefund plans a staged custom build: what to fit, what has to come off first, what else to buy "
      "with it, "
      "and which payday pays for it. A build is described in a build file or in a form workbook.\n.SH "
      "COMMANDS\n";
  std::string also;
  for (const CommandEntry& command : commands) {
    text += fmt::format(".TP\n\\fBfettlefund {}\\fR\n{}\n", troff(command.name), troff(command.what));
    also += fmt::format("{}.BR {} (1)", also.empty() ? "" : ",\n", troff("fettlefund-" + command.name));
  }
  text +=
      ".SH FILES\n.TP\n\\fINAME\\fR.build\nthe build file, yours; it is never changed\n"
      ".TP\n\\fINAME\\fR.record\nwhat has been recorded beside it (\\fINAME\\fR.log in earlier versions); "
      "keep it with the build file\n";
  text += ".SH EXIT STATUS\n" + troff(exit_codes_text()) + "\n";
  return text + ".SH SEE ALSO\n" + also + "\n";
}

/// The help as it stands.
std::string staging_page() {
  std::string text =
      heading("fettlefund-staging") +
      ".SH NAME\nfettlefund\\-staging \\- solve a staging problem given as JSON\n.SH DESCRIPTION\n.EX\n";
  const std::string help = staging_help();
  for (std::size_t at = 0; at < help.size();) {
    const std::size_t end = help.find('\n', at);
    text += troff(help.substr(at, end - at)) + "\n";
    at = end + 1;
  }
  return text + ".EE\n.SH SEE ALSO\n.BR fettlefund (1)\n";
}

}  // namespace

std::vector<Page> manual_pages() {
  const std::vector<CommandEntry> commands = command_tree();
  std::vector<Page> pages{{"man/fettlefund.1", program_page(commands)}};
  for (const CommandEntry& command : commands) {
    pages.push_back({"man/fettlefund-" + command.name + ".1", command_page(command)});
  }
  pages.push_back({"man/fettlefund-staging.1", staging_page()});
  return pages;
}

}  // namespace fettlefund::cli
