#pragma once
#include <string_view>

#include "lib/sheets/xlsx/xlsx.hpp"

/// What tells a form from other workbooks: a hidden sheet.
namespace fettlefund::form {

inline constexpr std::string_view marker_sheet = "Form";
inline constexpr std::string_view marker_word = "fettlefund form";
inline constexpr int form_version = 1;

bool has_marker(const sheets::StoredBook& book);
int marked_version(const sheets::StoredBook& book);  ///< 0 where it cannot be read

}  // namespace fettlefund::form
