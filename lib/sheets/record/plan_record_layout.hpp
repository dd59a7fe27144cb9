#pragma once

/// Where things stand on the hidden sheet: what its writer and its reader agree on.
namespace fettlefund::sheets::record_layout {

inline constexpr const char* format = "2";  ///< of this sheet and of the visible sheets' columns
inline constexpr const char* format_label = "format";
inline constexpr const char* build_label = "build";
inline constexpr const char* currency_label = "currency";
inline constexpr const char* plan_label = "plan";
inline constexpr const char* file_label = "build file";
inline constexpr const char* log_label = "log";
inline constexpr const char* entries_label = "log entries";
inline constexpr const char* rows_label = "sheet";

enum Column { sheet_name, key, row_number, marks, first_value };
inline constexpr int first_row = 9;

}  // namespace fettlefund::sheets::record_layout
