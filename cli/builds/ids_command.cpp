#include <ostream>

#include "cli/commands.hpp"
#include "cli/load.hpp"
#include "cli/reply.hpp"

namespace fettlefund::cli {
namespace {

template <class Entries>
void print(const Console& console, const Entries& entries) {
  for (const auto& entry : entries) console.out << entry.id << '\t' << entry.name << '\n';
}

}  // namespace

int ids_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const build::Build& build = *loaded.build;
  const std::string& kind = request.ids;
  if (kind.empty() || kind == "jobs") print(console, build.jobs);
  if (kind.empty() || kind == "removals") print(console, build.removals);
  if (kind.empty() || kind == "articles") print(console, build.articles);
  if (kind.empty() || kind == "suppliers") print(console, build.suppliers);
  if (kind.empty() || kind == "fitted") print(console, build.fitted);
  return done;
}

}  // namespace fettlefund::cli
