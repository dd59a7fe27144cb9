#pragma once
#include <string>
#include <vector>

namespace fettlefund::cli {

/// An option as its help shows it.
struct OptionEntry {
  std::vector<std::string> names;    ///< with their dashes, the short one first: "-o", "--output"
  std::string value;                 ///< "FILE"; empty for a flag
  std::vector<std::string> choices;  ///< the words it takes, where they are few
  std::string what;
};

/// A word that stands without a name.
struct OperandEntry {
  std::string name;
  std::string what;
  bool many = false;
};

/// A command, or an action of one.
struct CommandEntry {
  std::string name;
  std::string what;
  std::vector<OptionEntry> options;
  std::vector<OperandEntry> operands;
  std::vector<CommandEntry> actions;
};

/// All commands in the order of the help, as the command line's own definitions have them.
std::vector<CommandEntry> command_tree();

}  // namespace fettlefund::cli
