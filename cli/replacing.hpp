#pragma once
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "lib/log/entry.hpp"

/// Files that a person types into are not written over before what is typed there is known elsewhere.
namespace fettlefund::cli {

/// What stands in a file that is about to be replaced and would be lost with it.
struct Typed {
  std::vector<std::string> unrecorded;  ///< "Shopping I7: seat@1: 1 pack for 12.00", a line each
  int for_the_eye = 0;                  ///< typed things that nobody records: ticks of steps, tried figures
  std::string unreadable;               ///< why it cannot be told what is typed there; empty: it can
  std::string remedy;                   ///< the command that records it; empty: there is none
  bool nothing() const { return unrecorded.empty() && for_the_eye == 0 && unreadable.empty(); }
};

/// Of the workbook at `path`, for that build and its log. Nothing where there is no file, or an empty one.
Typed typed_in_workbook(const std::string& path, const build::Build& build, const log::Log& log);

/// Whether the file may be replaced: nothing unrecorded is in it, or the request asks for it (--replace). If
/// not, says on `err` what would be lost, and how to record it.
bool may_replace(const Request& request, const Console& console, const std::string& path, const Typed& typed);

/// Writes a page of `report::marked`. One that stands there already and was changed since it was written, or
/// is none, is kept beside it, which `out` then says.
bool write_page(const Console& console, const std::string& path, const std::string& page);

/// Keeps the file at `path` under the first free name "NAME.old-N.EXT" beside it, and returns that. Throws
/// std::runtime_error "cannot write PATH: REASON".
std::string keep_beside(const std::string& path);

}  // namespace fettlefund::cli
