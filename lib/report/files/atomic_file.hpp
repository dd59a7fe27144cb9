#pragma once
#include <functional>
#include <string>

namespace fettlefund::report {

/// Writes a file whole or not at all. `write` fills a new file of the same folder whose name it is given;
/// that file is then synced and renamed to `path`. On any failure the temporary file is removed, what stood
/// at `path` stays as it was, and the exception goes on; failures of the file system are std::runtime_error
/// "cannot write PATH: REASON"; one of `write` that names the new file names `path` instead. A symbolic link
/// at `path` is followed. An existing file keeps its permissions.
void write_atomically(const std::string& path,
                      const std::function<void(const std::string& temporary)>& write);

/// The same for a text.
void write_file(const std::string& path, const std::string& text);

/// Writes `text` to a file that must not exist yet; std::runtime_error where it does or cannot be written.
void write_new_file(const std::string& path, const std::string& text);

}  // namespace fettlefund::report
