#include "lib/report/files/atomic_file.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

using namespace fettlefund::report;
namespace fs = std::filesystem;

namespace {

/// An empty folder that is gone again at the end.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "fettlefund-test-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  ~Folder() { fs::remove_all(path_); }
  std::string file(const std::string& name) const { return (path_ / name).string(); }
  std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }

 private:
  fs::path path_;
};

std::string contents(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("a written file holds the text and nothing else is left beside it") {
  const Folder folder;
  write_file(folder.file("a"), "first");
  write_file(folder.file("a"), "second");
  CHECK(contents(folder.file("a")) == "second");
  CHECK(folder.entries() == 1);
}

TEST_CASE("a failed write leaves the earlier file whole and no litter") {
  const Folder folder;
  write_file(folder.file("a"), "earlier");
  const auto broken = [](const std::string& temporary) {
    std::ofstream(temporary) << "half";
    throw std::runtime_error("power is out");
  };
  CHECK_THROWS_WITH_AS(write_atomically(folder.file("a"), broken), "power is out", std::runtime_error);
  CHECK(contents(folder.file("a")) == "earlier");
  CHECK(folder.entries() == 1);
}

TEST_CASE("a missing folder, a folder and a device are refused in words") {
  const Folder folder;
  const std::string missing = folder.file("no/such");
  CHECK_THROWS_WITH_AS(write_file(missing, "x"),
                       ("cannot write " + missing + ": No such file or directory").c_str(),
                       std::runtime_error);
  fs::create_directory(folder.file("dir"));
  CHECK_THROWS_WITH_AS(
      write_file(folder.file("dir"), "x"),
      ("cannot write " + folder.file("dir") + ": it is there and is not a regular file").c_str(),
      std::runtime_error);
  CHECK_THROWS_AS(write_file("/dev/null", "x"), std::runtime_error);
}

TEST_CASE("what a writer says of the temporary file is told of the file that was asked for") {
  const Folder folder;
  const std::string path = folder.file("book");
  const auto fails = [](const std::string& temporary) {
    throw std::runtime_error("cannot write " + temporary + ": the ink is dry");
  };
  CHECK_THROWS_WITH_AS(write_atomically(path, fails), ("cannot write " + path + ": the ink is dry").c_str(),
                       std::runtime_error);
}

TEST_CASE("an existing file keeps its permissions and a link its target") {
  const Folder folder;
  write_file(folder.file("a"), "x");
  ::chmod(folder.file("a").c_str(), 0640);
  fs::create_symlink("a", folder.file("link"));
  write_file(folder.file("link"), "y");
  CHECK(fs::is_symlink(folder.file("link")));
  CHECK(contents(folder.file("a")) == "y");
  CHECK((fs::status(folder.file("a")).permissions() & fs::perms::all) == fs::perms(0640));
}

TEST_CASE("a new file is never written over an old one") {
  const Folder folder;
  write_new_file(folder.file("a"), "x");
  CHECK_THROWS_WITH_AS(write_new_file(folder.file("a"), "y"),
                       ("cannot write " + folder.file("a") + ": File exists").c_str(), std::runtime_error);
  CHECK(contents(folder.file("a")) == "x");
}
