#include "lib/report/files/atomic_file.hpp"

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <system_error>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace fettlefund::report {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const std::string& path, int code) {
  throw std::runtime_error("cannot write " + path + ": " + std::generic_category().message(code));
}

/// A descriptor that is closed on the way out.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  int number() const { return number_; }

 private:
  int number_;
};

/// A temporary file beside the target, gone again unless it was kept.
class Temporary {
 public:
  explicit Temporary(const std::string& target) : name_(target + ".XXXXXX") {
    const Descriptor made(::mkstemp(name_.data()));
    if (made.number() < 0) fail(target, errno);
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() {
    if (!kept_) ::unlink(name_.c_str());
  }
  const std::string& name() const { return name_; }
  void keep() { kept_ = true; }

 private:
  std::string name_;
  bool kept_ = false;
};

void sync_file(const std::string& path, const std::string& told_as) {
  const Descriptor open(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (open.number() < 0 || ::fsync(open.number()) != 0) fail(told_as, errno);
}

/// Makes the new name last through a power cut where the file system can; the file is whole either way.
void sync_folder(const fs::path& folder) {
  const Descriptor open(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (open.number() >= 0) ::fsync(open.number());
}

/// What the target's permissions are or, for a new file, what the process would give it.
::mode_t permissions_for(const std::string& path) {
  struct ::stat info {};
  if (::stat(path.c_str(), &info) == 0) return info.st_mode & 07777;
  const ::mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666 & ~mask;
}

void write_all(int descriptor, const std::string& path, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ::ssize_t wrote = ::write(descriptor, text.data() + done, text.size() - done);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote < 0) fail(path, errno);
    done += static_cast<std::size_t>(wrote);
  }
}

/// The file that is really written: where a link leads to.
std::string target_of(const std::string& path) {
  std::error_code error;
  if (fs::exists(path, error) && !fs::is_regular_file(path, error)) {
    throw std::runtime_error("cannot write " + path + ": it is there and is not a regular file");
  }
  if (!fs::is_symlink(path, error)) return path;
  const fs::path target = fs::weakly_canonical(path, error);
  return error ? path : target.string();
}

/// What goes wrong is told of the file that the user knows.
void fill(const std::string& temporary, const std::string& path,
          const std::function<void(const std::string&)>& write) {
  try {
    write(temporary);
  } catch (const std::runtime_error& error) {
    std::string what = error.what();
    const std::size_t at = what.find(temporary);
    if (at == std::string::npos) throw;
    throw std::runtime_error(what.replace(at, temporary.size(), path));
  }
}

}  // namespace

void write_atomically(const std::string& path, const std::function<void(const std::string&)>& write) {
  const std::string target = target_of(path);
  Temporary temporary(target);
  fill(temporary.name(), path, write);
  if (::chmod(temporary.name().c_str(), permissions_for(target)) != 0) fail(path, errno);
  sync_file(temporary.name(), path);
  if (::rename(temporary.name().c_str(), target.c_str()) != 0) fail(path, errno);
  temporary.keep();
  sync_folder(fs::path(target).parent_path());
}

void write_file(const std::string& path, const std::string& text) {
  write_atomically(path, [&](const std::string& temporary) {
    const Descriptor open(::open(temporary.c_str(), O_WRONLY | O_TRUNC | O_CLOEXEC));
    if (open.number() < 0) fail(path, errno);
    write_all(open.number(), path, text);
  });
}

void write_new_file(const std::string& path, const std::string& text) {
  const Descriptor open(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
  if (open.number() < 0) fail(path, errno);
  try {
    write_all(open.number(), path, text);
    if (::fsync(open.number()) != 0) fail(path, errno);
  } catch (...) {
    ::unlink(path.c_str());
    throw;
  }
}

}  // namespace fettlefund::report
