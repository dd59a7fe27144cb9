#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/log/entry.hpp"

/// Entries as lines: fields separated by tabs, the last one the checksum of all before it.
namespace fettlefund::log {

/// How much of a text a fault shows.
inline constexpr std::size_t shown_bytes = 40;

/// Something wrong with a line: where in it (byte, from 0), what stands there, what was expected.
struct Fault {
  std::size_t at = 0;
  std::string found, expected, nearest;
};

/// A field of a line and the byte where it starts.
struct Field {
  std::string_view text;
  std::size_t at = 0;
};

std::string header_line(const Log& log);  ///< with the line break
std::string entry_line(const Entry& entry, const budgets::Currency& currency);

/// The id of an entry that stands after the line with id `last` (of the first: the log's id), by its content
/// and that place. An undo is told by the number it names.
std::string line_id(const std::string& last, const std::string& salt, const Entry& entry,
                    const budgets::Currency& currency);

/// The fields before the checksum, or nothing if the checksum is missing or not that of the line.
std::optional<std::vector<Field>> sound_fields(std::string_view line);

/// Fills build_name, id and currency. A fault, or nothing.
std::optional<Fault> read_header(const std::vector<Field>& fields, Log& log);

/// The entry whose number has to be `number`; its id is empty where the line has none. A fault, or nothing.
std::optional<Fault> read_entry(const std::vector<Field>& fields, std::int64_t number,
                                const budgets::Currency& currency, Entry& entry);

}  // namespace fettlefund::log
