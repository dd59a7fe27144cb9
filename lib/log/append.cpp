#include "lib/log/append.hpp"

#include <cerrno>
#include <chrono>
#include <filesystem>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "lib/log/checksum.hpp"
#include "lib/log/line.hpp"
#include "lib/log/read.hpp"
#include "lib/log/undo.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace fettlefund::log {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const std::string& path, int code) {
  throw std::runtime_error(fmt::format("cannot write {}: {}", path, std::generic_category().message(code)));
}

/// The log's file, open and locked. Closing unlocks it.
class LockedFile {
 public:
  LockedFile(const std::string& path, int patience_ms) : path_(path) {
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::milliseconds(patience_ms);
    while (!try_to_lock()) {
      if (std::chrono::steady_clock::now() >= give_up) {
        throw std::runtime_error(fmt::format("another fettlefund is writing {}; try again", path));
      }
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
  }
  LockedFile(const LockedFile&) = delete;
  LockedFile& operator=(const LockedFile&) = delete;
  ~LockedFile() { close(); }

  std::string read() const {
    struct ::stat info {};
    if (::fstat(number_, &info) != 0) fail(path_, errno);
    if (!S_ISREG(info.st_mode)) throw std::runtime_error(path_ + " is not a regular file");
    const auto size = static_cast<std::size_t>(info.st_size);
    std::string text(std::min(size, max_file_bytes + 1), '\0');
    for (std::size_t done = 0; done < text.size();) {
      const ::ssize_t got =
          ::pread(number_, text.data() + done, text.size() - done, static_cast<::off_t>(done));
      if (got < 0 && errno == EINTR) continue;
      if (got <= 0) fail(path_, got < 0 ? errno : EIO);
      done += static_cast<std::size_t>(got);
    }
    return text;
  }

  /// Replaces everything from byte `begin` on by `text` and syncs. If that fails the file ends at `begin`.
  void write(std::size_t begin, const std::string& text) const {
    if (::ftruncate(number_, static_cast<::off_t>(begin)) != 0) fail(path_, errno);
    for (std::size_t done = 0; done < text.size();) {
      const ::ssize_t wrote =
          ::pwrite(number_, text.data() + done, text.size() - done, static_cast<::off_t>(begin + done));
      if (wrote < 0 && errno == EINTR) continue;
      if (wrote < 0) take_back(begin, errno);
      done += static_cast<std::size_t>(wrote);
    }
    if (::fsync(number_) != 0) take_back(begin, errno);
  }

  void remove() const { ::unlink(path_.c_str()); }

  /// Puts another file in its place. If that fails it stays as it is.
  void replace(const std::string& text) const {
    const std::string beside = path_ + ".new";
    const int number = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (number < 0) fail(beside, errno);
    int code = 0;
    for (std::size_t done = 0; done < text.size() && code == 0;) {
      const ::ssize_t wrote = ::write(number, text.data() + done, text.size() - done);
      if (wrote < 0 && errno != EINTR) code = errno;
      if (wrote > 0) done += static_cast<std::size_t>(wrote);
    }
    if (code == 0 && ::fsync(number) != 0) code = errno;
    if (::close(number) != 0 && code == 0) code = errno;
    if (code == 0 && ::rename(beside.c_str(), path_.c_str()) != 0) code = errno;
    if (code != 0) {
      ::unlink(beside.c_str());
      fail(path_, code);
    }
    sync_folder();
  }

  /// Makes the name of a new file last.
  void sync_folder() const {
    const fs::path folder = fs::path(path_).parent_path();
    const int open = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (open < 0) fail(path_, errno);
    const int result = ::fsync(open), code = errno;
    ::close(open);
    if (result != 0 && code != EINVAL && code != ENOTSUP) fail(path_, code);
  }

 private:
  void close() {
    if (number_ >= 0) ::close(number_);
    number_ = -1;
  }

  [[noreturn]] void take_back(std::size_t begin, int code) const {
    if (::ftruncate(number_, static_cast<::off_t>(begin)) == 0) ::fsync(number_);
    fail(path_, code);
  }

  /// False if another has the lock, or if the file that was locked is no longer the one at the path.
  bool try_to_lock() {
    close();
    number_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NONBLOCK, 0666);
    if (number_ < 0) fail(path_, errno);
    if (::flock(number_, LOCK_EX | LOCK_NB) != 0) {
      if (errno != EWOULDBLOCK && errno != EINTR) fail(path_, errno);
      return false;
    }
    struct ::stat mine {
    }, there{};
    return ::fstat(number_, &mine) == 0 && ::stat(path_.c_str(), &there) == 0 &&
           mine.st_dev == there.st_dev && mine.st_ino == there.st_ino;
  }

  std::string path_;
  int number_ = -1;
};

Log begun(const std::string& path, const Subject& subject, Date day) {
  Log log;
  log.file = path;
  log.build_name = subject.build_name;
  log.currency = subject.currency;
  log.id = checksum(
      fmt::format("{}\t{}\t{}", subject.build_name, subject.currency.code, budgets::write_date(day)));
  return log;
}

build::Diagnostic refusal(const std::string& path, std::string found, std::string expected) {
  return {build::Severity::error, path, {}, {}, std::move(found), std::move(expected), {}};
}

/// The faults of the batch if it is appended to the log.
std::vector<build::Diagnostic> faults_of(const Log& log, const Subject& subject,
                                         const std::vector<NewEntry>& batch) {
  std::vector<build::Diagnostic> faults;
  if (log.currency.code != subject.currency.code) {
    faults.push_back(refusal(log.file, fmt::format("amounts in {}", log.currency.code),
                             fmt::format("{}, as the build has", subject.currency.code)));
  }
  if (log.entries.size() + batch.size() > max_entries) {
    faults.push_back(refusal(log.file, fmt::format("{} entries", log.entries.size() + batch.size()),
                             fmt::format("at most {}", max_entries)));
  }
  UndoTracker undone;
  for (const Entry& entry : log.entries) undone.add(entry.event);
  for (const NewEntry& fresh : batch) {
    std::string why = fault_of(fresh.event);
    if (why.empty()) why = fault_of_name(fresh.by);
    const auto* undo = std::get_if<Undo>(&fresh.event);
    if (undo && why.empty()) why = undone.fault(undo->entry);
    if (!why.empty()) faults.push_back(refusal(log.file, in_words(fresh.event, log.currency), why));
    if (!undo || why.empty()) undone.add(fresh.event);
  }
  return faults;
}

/// Lines of the batch, numbered on from the log's.
std::string lines_of(const Log& log, const std::string& salt, const std::vector<NewEntry>& batch,
                     std::vector<Entry>& entries) {
  std::string lines;
  auto number = static_cast<std::int64_t>(log.entries.size());
  std::string last = log.entries.empty() ? log.id : log.entries.back().id;
  for (const NewEntry& fresh : batch) {
    entries.push_back(
        {++number, fresh.date, fresh.event, fresh.brought, {}, {}, fresh.by, fresh.purse_brought});
    last = entries.back().id = line_id(last, salt, entries.back(), log.currency);
    lines += entry_line(entries.back(), log.currency);
  }
  return lines;
}

}  // namespace

Appended append(const std::string& path, const Subject& subject, const std::vector<NewEntry>& batch,
                int patience_ms) {
  if (batch.empty()) return {};
  const LockedFile file(path, patience_ms);
  const std::string before = file.read();
  Reading reading = read(before, path);
  Appended done{{}, std::move(reading.diagnostics)};
  if (build::has_errors(done.diagnostics)) return done;
  const bool fresh = !reading.log;
  const Log log = fresh ? begun(path, subject, batch.front().date) : std::move(*reading.log);
  for (build::Diagnostic& fault : faults_of(log, subject, batch)) {
    done.diagnostics.push_back(std::move(fault));
  }
  std::string lines;
  if (reading.newline_missing) lines += '\n';
  if (fresh) lines += header_line(log);
  lines += lines_of(log, subject.salt, batch, done.entries);
  const std::size_t begin = reading.torn ? reading.torn->begin : before.size();
  if (begin + lines.size() > max_file_bytes) {
    done.diagnostics.push_back(refusal(path, fmt::format("{} bytes", begin + lines.size()),
                                       fmt::format("at most {} bytes", max_file_bytes)));
  }
  if (build::has_errors(done.diagnostics)) {
    if (before.empty()) file.remove();
    done.entries.clear();
    return done;
  }
  file.write(begin, lines);
  if (fresh) file.sync_folder();
  return done;
}

bool replace(const std::string& path, const std::string& before, const Log& log, int patience_ms) {
  const LockedFile file(path, patience_ms);
  if (file.read() != before) return false;
  std::string text = header_line(log);
  for (const Entry& entry : log.entries) text += entry_line(entry, log.currency);
  if (text.size() > max_file_bytes || log.entries.size() > max_entries)
    throw std::runtime_error(fmt::format("{} would be too large: at most {} entries and {} bytes", path,
                                         max_entries, max_file_bytes));
  file.replace(text);
  return true;
}

}  // namespace fettlefund::log
