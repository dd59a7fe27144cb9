#pragma once
#include <string>

#include "cli/commands.hpp"

namespace CLI {
class App;
}

namespace fettlefund::cli {

/// Words as typed, before they become values.
struct Words {
  std::string effort = "normal", colour = "auto";
};

/// Adds every command with its options. What is parsed goes into `request` and `words`, which outlive `app`.
void add_commands(CLI::App& app, Request& request, Words& words);

}  // namespace fettlefund::cli
