#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/model.hpp"

/// Forms written to files.
namespace fettlefund::form {

/// Writes an empty form, with examples, to exactly `path`. `trade`: whose kinds of work are offered first;
/// may be empty. Throws std::runtime_error where it cannot.
void write_blank_form(const std::string& path, std::string_view trade = {});

/// Writes a form that holds the build of this text, in which the reader of builds finds no error. Answers, a
/// line each, what the form cannot hold and what it changes. Throws std::runtime_error where the file cannot
/// be written or a text is too long for a cell.
/// `trade`: whose kinds of work are offered first; may be empty.
std::vector<std::string> write_form(std::string_view text, const build::Build& build, const std::string& path,
                                    std::string_view trade = {});

}  // namespace fettlefund::form
