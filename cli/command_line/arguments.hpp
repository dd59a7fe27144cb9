#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace fettlefund::cli {

/// A command line read, or what to say instead: help or the version (code 0) or a usage error (code 2).
struct Arguments {
  std::optional<Request> request;
  std::string text;
  int code = 0;
};

Arguments read_arguments(const std::vector<std::string>& args);

}  // namespace fettlefund::cli
