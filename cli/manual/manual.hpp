#pragma once
#include <string>
#include <vector>

namespace fettlefund::cli {

/// A text file made from the same words as the help.
struct Page {
  std::string path;  ///< below the folder for what is generated: "man/fettlefund-plan.1"
  std::string text;
};

/// Manual pages in man(7) macros: fettlefund.1, fettlefund-COMMAND.1 for each command, and
/// fettlefund-staging.1.
std::vector<Page> manual_pages();

/// Completions of commands, options, files and the ids of the build named on the line, for bash, zsh and
/// fish.
std::vector<Page> completion_pages();

}  // namespace fettlefund::cli
