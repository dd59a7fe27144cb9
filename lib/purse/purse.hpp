#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"

/// Several builds that share income and bench time. What each key of a purse file means is told in
/// PURSE-FILE.md beside this header.
namespace fettlefund::purse {

inline constexpr std::size_t most_builds = 20;

/// A build of the purse. Its money and bench are the purse's.
struct Member {
  build::Id id;
  std::string path;  ///< as it can be opened: the file's folder and what the purse says
  build::Build build;
};

struct Purse {
  std::string file;
  std::string name;
  std::vector<Member> members;  ///< in file order, at least one; all have the same currency, money and bench
};

struct Reading {
  std::optional<Purse> purse;                  ///< set when there is no error in it or in any of its builds
  std::vector<build::Diagnostic> diagnostics;  ///< of the purse, then of its builds; each with its own file
};

/// Reads the purse file at `path` and the builds that it names, and checks each as it would be checked alone
/// with the purse's money and bench. What is wrong with these points to the purse.
Reading read_file(const std::string& path);

/// Whether the file is to be read as a purse: its name ends with ".purse".
bool is_purse(std::string_view path);

}  // namespace fettlefund::purse
