#pragma once
#include <string_view>
#include <utility>
#include <vector>

namespace fettlefund::trade {

/// The files of knowledge as they stand beside this header: name and text, the goods words first.
const std::vector<std::pair<std::string_view, std::string_view>>& data_files();

/// The JSON Schema (draft 2020-12) of these files; the same bytes as the installed file.
std::string_view data_schema();

/// The starter of a trade, with {{name}} and {{day N}} to be filled in; empty: no such trade.
std::string_view starter_file(std::string_view trade);

}  // namespace fettlefund::trade
