#include "lib/log/read.hpp"

#include <filesystem>
#include <fstream>
#include <set>

#include "lib/log/line.hpp"
#include "lib/log/undo.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::log {
namespace {

namespace fs = std::filesystem;

class Reader {
 public:
  Reader(std::string_view text, const std::string& file) : text_(text) { log_.file = file; }

  Reading read() {
    if (text_.size() > max_file_bytes) {
      error(0, 0,
            {0, fmt::format("{} bytes", text_.size()), fmt::format("at most {} bytes", max_file_bytes), ""});
      return finish();
    }
    int number = 0;
    for (std::size_t begin = 0; begin < text_.size() && !full();) {
      const std::size_t end = text_.find('\n', begin);
      const bool last = end == std::string_view::npos || end + 1 == text_.size();
      read_line(text_.substr(begin, end - begin), begin, ++number, last);
      if (end == std::string_view::npos) {
        reading_.newline_missing = !reading_.torn;
        break;
      }
      begin = end + 1;
    }
    return finish();
  }

 private:
  bool full() const { return reading_.diagnostics.size() >= max_diagnostics; }

  void add(build::Severity severity, int line, std::size_t column, const Fault& fault) {
    reading_.diagnostics.push_back({severity,
                                    log_.file,
                                    {line, static_cast<int>(column)},
                                    {},
                                    fault.found,
                                    fault.expected,
                                    fault.nearest});
  }
  void error(int line, std::size_t column, const Fault& fault) {
    add(build::Severity::error, line, column, fault);
    bad_ = true;
  }

  void read_line(std::string_view line, std::size_t begin, int number, bool last) {
    const bool short_enough = line.size() <= max_line_bytes;
    const auto fields = short_enough ? sound_fields(line) : std::nullopt;
    if (!fields && last) return tear(line, begin, number);
    if (!fields) {
      error(number, 1,
            {0, text::shortened(line.substr(0, 4 * shown_bytes), shown_bytes),
             short_enough ? "a line that ends with its own checksum: this one was changed or is damaged"
                          : fmt::format("a line of at most {} bytes", max_line_bytes),
             ""});
      ++next_;
      return;
    }
    read_sound(line, *fields, number);
  }

  void tear(std::string_view line, std::size_t begin, int number) {
    reading_.torn = Torn{begin, number};
    add(build::Severity::warning, number, 1,
        {0, text::shortened(line.substr(0, 4 * shown_bytes), shown_bytes),
         "a whole line: writing it was interrupted, it does not count and is cut off when the next entry is "
         "written",
         ""});
  }

  void read_sound(std::string_view line, const std::vector<Field>& fields, int number) {
    std::optional<Fault> fault;
    if (text::find_bad_utf8(line) != line.size()) {
      fault = Fault{text::find_bad_utf8(line), "", "UTF-8", ""};
    } else if (number == 1) {
      fault = read_header(fields, log_);
      has_header_ = !fault;
      last_id_ = log_.id;
      if (fault) stop_ = true;
    } else if (!stop_) {
      fault = read_next(fields);
    }
    if (fault) error(number, fault->at + 1, *fault);
  }

  std::optional<Fault> read_next(const std::vector<Field>& fields) {
    const std::int64_t number = next_++;
    if (log_.entries.size() >= max_entries) {
      stop_ = true;
      return Fault{0, "", fmt::format("at most {} entries", max_entries), ""};
    }
    Entry entry;
    if (auto fault = read_entry(fields, number, log_.currency, entry)) return fault;
    if (const auto* undo = std::get_if<Undo>(&entry.event); undo && !bad_) {
      const std::string why = undone_.fault(undo->entry);
      if (!why.empty()) return undo_fault(fields, why);
    }
    if (!bad_) undone_.add(entry.event);
    if (entry.id.empty()) entry.id = line_id(last_id_, "", entry, log_.currency);
    if (!ids_.insert(entry.id).second)
      return Fault{fields.front().at, entry.id, "a line id that no line before it has", ""};
    for (const std::string& also : entry.also) ids_.insert(also);
    last_id_ = entry.id;
    log_.entries.push_back(std::move(entry));
    return std::nullopt;
  }

  static Fault undo_fault(const std::vector<Field>& fields, const std::string& why) {
    for (const Field& field : fields) {
      if (field.text.starts_with("entry=")) return {field.at, std::string(field.text), why, ""};
    }
    return {fields.back().at, std::string(fields.back().text), why, ""};
  }

  Reading finish() {
    if (full())
      add(build::Severity::error, 0, 0, {0, "", "fewer mistakes: there are more than are told here", ""});
    if (!bad_ && has_header_) reading_.log = std::move(log_);
    return std::move(reading_);
  }

  std::string_view text_;
  Log log_;
  Reading reading_;
  UndoTracker undone_;
  std::set<std::string> ids_;
  std::string last_id_;  ///< of the line before; the log's before the first entry
  std::int64_t next_ = 1;
  bool has_header_ = false, bad_ = false, stop_ = false;
};

Reading refused(const std::string& path, const std::string& found, const std::string& expected) {
  Reading reading;
  reading.diagnostics.push_back({build::Severity::error, path, {}, {}, found, expected, {}});
  return reading;
}

}  // namespace

Reading read(std::string_view text, const std::string& file) { return Reader(text, file).read(); }

Reading read_file(const std::string& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) return {};
  if (!fs::is_regular_file(status)) return refused(path, "no regular file", "a log, or no such file");
  const std::uintmax_t size = fs::file_size(path, error);
  if (error || size > max_file_bytes) {
    return refused(path, fmt::format("{} bytes", size), fmt::format("at most {} bytes", max_file_bytes));
  }
  std::ifstream stream(path, std::ios::binary);
  std::string text(static_cast<std::size_t>(size), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(size));
  if (!stream) return refused(path, "a file that cannot be read", "one that this user may read");
  return read(text, path);
}

}  // namespace fettlefund::log
