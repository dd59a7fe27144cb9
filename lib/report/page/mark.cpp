#include "lib/report/page/mark.hpp"

#include "lib/build/fingerprint.hpp"

namespace fettlefund::report {
namespace {

std::string mark_of(std::string_view page) {
  return "<!-- as written: " + build::fingerprint(page) + " -->\n";
}

}  // namespace

std::string marked(std::string page) { return page + mark_of(page); }

bool as_marked(std::string_view page) {
  const std::size_t size = mark_of({}).size();
  if (page.size() < size) return false;
  const std::string_view before = page.substr(0, page.size() - size);
  return page.substr(before.size()) == mark_of(before);
}

}  // namespace fettlefund::report
