#include <fstream>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include "cli/builds/new_workbook.hpp"
#include "cli/load.hpp"
#include "lib/form/writing/write_form.hpp"
#include "lib/report/files/atomic_file.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// The build file that a form amounts to, written where nothing stands yet.
int write_build_file(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.is_form && loaded.build) {
    console.err << fmt::format("fettlefund: {} is no form but a build file already\n", request.file);
    return bad_input;
  }
  if (!loaded.build) {
    console.err << fmt::format("fettlefund: {} is not written: put right {} first\n", request.form_to,
                               request.file);
    return bad_input;
  }
  if (!written(console, [&] { report::write_new_file(request.form_to, loaded.text); })) return bad_input;
  console.out << fmt::format("Wrote {}. The form and this file plan alike.\n", request.form_to);
  return done;
}

std::string text_of(const Request& request, const Loaded& loaded) {
  if (loaded.is_form) return loaded.text;
  std::ifstream stream(request.file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

int write_filled(const Request& request, const Console& console) {
  Request source = request;
  source.file = request.form_from;
  if (source.file == "-") {
    console.err << "fettlefund: --from needs a file\n";
    return bad_input;
  }
  const Loaded loaded = load(source, console);
  if (!loaded.build) return bad_input;
  std::vector<std::string> unheld;
  const bool whole = write_new_workbook(request.file, console, [&](const std::string& temporary) {
    unheld = form::write_form(text_of(source, loaded), *loaded.build, temporary, request.trade);
  });
  if (!whole) return bad_input;
  for (const std::string& one : unheld) console.err << fmt::format("warning: {}: {}\n", source.file, one);
  console.out << fmt::format("Wrote {}{}. It takes the place of {} in every command.\n", request.file,
                             unheld.empty() ? ", which holds all of it" : "", source.file);
  return done;
}

}  // namespace

int form_command(const Request& request, const Console& console) {
  if (!request.form_to.empty()) return write_build_file(request, console);
  if (!request.form_from.empty()) return write_filled(request, console);
  const bool whole = write_new_workbook(request.file, console, [&](const std::string& temporary) {
    form::write_blank_form(temporary, request.trade);
  });
  if (!whole) return bad_input;
  console.out << fmt::format("Wrote {}. Fill it in with a spreadsheet program, then: fettlefund check {}\n",
                             request.file, request.file);
  return done;
}

}  // namespace fettlefund::cli
