#include "cli/replacing.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include "cli/load.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/page/mark.hpp"
#include "lib/sheets/read_back/settle.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostNamed = 20;

std::string place_of(const std::string& sheet, const std::string& cell) { return sheet + " " + cell; }

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// A file with something in it.
bool stands(const std::string& path) {
  std::error_code error;
  return fs::is_regular_file(path, error) && fs::file_size(path, error) > 0 && !error;
}

}  // namespace

Typed typed_in_workbook(const std::string& path, const build::Build& build, const log::Log& log) {
  Typed typed;
  if (!stands(path)) return typed;
  sheets::Readback back;
  try {
    back = sheets::read_workbook(path);
  } catch (const sheets::Unreadable& fault) {
    typed.unreadable = fault.what();
    return typed;
  }
  const sheets::Settled settled = sheets::settle(back, build, log, planning::last_date);
  for (const sheets::Proposed& one : settled.proposed)
    typed.unrecorded.push_back(
        fmt::format("{}: {}", place_of(one.sheet, one.cell), log::in_words(one.entry.event, build.currency)));
  typed.for_the_eye = back.ticks_for_the_eye;
  for (const sheets::Remarkable& one : settled.remarkable) {
    if (one.cell.empty()) continue;
    if (one.error)
      typed.unrecorded.push_back(fmt::format("{}: {}", place_of(one.sheet, one.cell), one.text));
    else
      ++typed.for_the_eye;
  }
  typed.remedy = fmt::format("--from {}", path);
  return typed;
}

bool may_replace(const Request& request, const Console& console, const std::string& path,
                 const Typed& typed) {
  if (request.replace || (typed.unrecorded.empty() && typed.unreadable.empty())) return true;
  std::ostream& err = console.err;
  if (!typed.unreadable.empty()) {
    err << fmt::format(
        "fettlefund: {} is there, and what is typed in it cannot be read: {}; write to another file with -o, "
        "or give --replace, which keeps it beside the new one\n",
        path, typed.unreadable);
    return false;
  }
  for (std::size_t i = 0; i < typed.unrecorded.size() && i < kMostNamed; ++i)
    err << fmt::format("{}: {}\n", path, typed.unrecorded[i]);
  if (typed.unrecorded.size() > kMostNamed)
    err << fmt::format("{}: and {} more\n", path, typed.unrecorded.size() - kMostNamed);
  err << fmt::format(
      "fettlefund: {} holds {} that {} typed and not recorded and would be lost; record {} first with\n"
      "  fettlefund record {} {}\n"
      "or give --replace, which keeps the old file beside the new one\n",
      path, counted(typed.unrecorded.size(), "thing"), typed.unrecorded.size() == 1 ? "is" : "are",
      typed.unrecorded.size() == 1 ? "it" : "them", request.file, typed.remedy);
  return false;
}

bool write_page(const Console& console, const std::string& path, const std::string& page) {
  std::string kept;
  const bool whole = written(console, [&] {
    const bool as_written = !stands(path) || report::as_marked(text_of(path));
    report::write_atomically(path, [&](const std::string& temporary) {
      report::write_file(temporary, page);
      if (!as_written) kept = keep_beside(path);
    });
  });
  if (!kept.empty())
    console.out << fmt::format("{} is not as it was written; that page is kept in {}.\n", path, kept);
  return whole;
}

std::string keep_beside(const std::string& path) {
  const fs::path from(path);
  std::error_code error;
  for (int n = 1; n < 10'000; ++n) {
    const fs::path to =
        from.parent_path() / fmt::format("{}.old-{}{}", from.stem().string(), n, from.extension().string());
    if (fs::copy_file(from, to, fs::copy_options::none, error)) return to.string();
    if (error != std::errc::file_exists) break;
  }
  throw std::runtime_error("cannot write a copy of " + path + ": " + error.message());
}

}  // namespace fettlefund::cli
