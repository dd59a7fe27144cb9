#include "lib/log/append.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "lib/log/read.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace fettlefund;
using test::cents;
using test::day;
namespace fs = std::filesystem;

namespace {

class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "fettlefund-log-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }
  std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

std::string contents(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void put(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

log::NewEntry remark(const std::string& text) { return {day("2027-01-05"), log::Remark{"", text}}; }

log::Appended append(const std::string& path, const std::vector<log::NewEntry>& batch,
                     int patience_ms = 2000) {
  return log::append(path, {"test build", test::euro()}, batch, patience_ms);
}

std::string told(const std::vector<build::Diagnostic>& diagnostics) {
  std::string all;
  for (const build::Diagnostic& one : diagnostics) all += build::to_text(one) + "\n";
  return all;
}

}  // namespace

TEST_CASE("the first entry begins the log and later ones are numbered on") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  CHECK(append(path, {remark("one"), remark("two")}).entries.back().number == 2);
  const std::string before = contents(path);
  CHECK(append(path, {remark("three")}).entries.front().number == 3);
  CHECK(contents(path).substr(0, before.size()) == before);
  const log::Reading reading = log::read_file(path);
  REQUIRE(reading.log);
  CHECK(reading.log->build_name == "test build");
  CHECK(reading.log->id.size() == 8);
  CHECK(reading.log->entries.size() == 3);
}

TEST_CASE("a torn end is cut off by the next entry and told") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one")});
  const std::string whole = contents(path);
  put(path, whole + "2\t2027-01-0");
  const log::Appended appended = append(path, {remark("two")});
  CHECK(told(appended.diagnostics).find("a.log:3:1: warning: found 2?2027-01-0, expected a whole line") !=
        std::string::npos);
  CHECK(appended.entries.front().number == 2);
  CHECK(log::read_file(path).diagnostics.empty());
  CHECK(contents(path).substr(0, whole.size()) == whole);
}

TEST_CASE("cut short at any byte a log goes on with every whole line and the next entry") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one"), remark("two"), remark("three")});
  const std::string whole = contents(path);
  for (std::size_t size = 0; size <= whole.size(); ++size) {
    put(path, whole.substr(0, size));
    const log::Reading before = log::read_file(path);
    const std::size_t entries = before.log ? before.log->entries.size() : 0;
    const log::Appended appended = append(path, {remark("more")});
    REQUIRE(appended.entries.size() == 1);
    CHECK(appended.entries.front().number == static_cast<std::int64_t>(entries) + 1);
    const log::Reading after = log::read_file(path);
    CHECK(after.diagnostics.empty());
    REQUIRE(after.log);
    REQUIRE(after.log->entries.size() == entries + 1);
    for (std::size_t i = 0; i < entries; ++i) CHECK(after.log->entries[i].id == before.log->entries[i].id);
  }
}

TEST_CASE("a log is replaced whole, and only while it is as it was read") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one"), remark("two")});
  const std::string before = contents(path);
  log::Log other = *log::read_file(path).log;
  other.entries.pop_back();
  CHECK_FALSE(log::replace(path, before + "x", other));
  CHECK(contents(path) == before);
  CHECK(log::replace(path, before, other));
  CHECK(log::read_file(path).log->entries.size() == 1);
  CHECK_FALSE(fs::exists(path + ".new"));
  CHECK(append(path, {remark("three")}).entries.front().number == 2);
}

TEST_CASE("two people who write the same at one place write two lines, one person the same one") {
  const Folder folder;
  const auto id = [&](const std::string& name, const std::string& salt) {
    return log::append(folder.file(name), {"test build", test::euro(), salt}, {remark("one")})
        .entries.front()
        .id;
  };
  CHECK(id("a", "ann") != id("b", "bob"));
  CHECK(id("c", "") == id("d", ""));
}

TEST_CASE("a torn first line is begun again and a missing line break is put in") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  put(path, "fettlefund-l");
  CHECK(append(path, {remark("one")}).entries.size() == 1);
  const std::string whole = contents(path);
  CHECK(log::read_file(path).diagnostics.empty());
  put(path, whole.substr(0, whole.size() - 1));
  CHECK(append(path, {remark("two")}).entries.front().number == 2);
  CHECK(contents(path).substr(0, whole.size()) == whole);
}

TEST_CASE("a log with an error stays as it is") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one"), remark("two")});
  std::string broken = contents(path);
  broken[broken.find("one")] = 'O';
  put(path, broken);
  const log::Appended appended = append(path, {remark("three")});
  CHECK(appended.entries.empty());
  CHECK(build::has_errors(appended.diagnostics));
  CHECK(contents(path) == broken);
}

TEST_CASE("a batch with one bad entry is not written at all") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  CHECK(told(append(path, {remark("one"), {day("2027-01-05"), log::Undo{7}}}).diagnostics) ==
        path + ": error: found undid entry 7, expected an entry from 1 to 1\n");
  CHECK_FALSE(fs::exists(path));
  append(path, {remark("one")});
  const std::string before = contents(path);
  CHECK(build::has_errors(append(path, {remark("two"), remark("")}).diagnostics));
  CHECK(build::has_errors(append(path, {{day("2027-01-05"), log::Bought{"a b", 1, cents(5)}}}).diagnostics));
  CHECK(contents(path) == before);
}

TEST_CASE("a log in another currency is refused") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one")});
  const budgets::Currency yen = budgets::find_currency("JPY").value();
  CHECK(told(log::append(path, {"test build", yen}, {remark("two")}).diagnostics) ==
        path + ": error: found amounts in EUR, expected JPY, as the build has\n");
}

TEST_CASE("a log that another writer holds is told by name and left alone") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  append(path, {remark("one")});
  const std::string before = contents(path);
  const int held = ::open(path.c_str(), O_RDWR);
  REQUIRE(::flock(held, LOCK_EX) == 0);
  std::string what;
  try {
    append(path, {remark("two")}, 0);
  } catch (const std::runtime_error& error) {
    what = error.what();
  }
  CHECK(what == "another fettlefund is writing " + path + "; try again");
  CHECK(contents(path) == before);
  ::close(held);
  CHECK(append(path, {remark("two")}, 0).entries.front().number == 2);
}

TEST_CASE("what cannot be written is told with its reason") {
  const Folder folder;
  CHECK_THROWS_WITH(append(folder.file("none/a.log"), {remark("one")}),
                    ("cannot write " + folder.file("none/a.log") + ": No such file or directory").c_str());
  fs::create_directory(folder.file("d.log"));
  CHECK_THROWS_AS(append(folder.file("d.log"), {remark("one")}), std::runtime_error);
}

TEST_CASE("two processes that write at once lose nothing and mix nothing") {
  const Folder folder;
  const std::string path = folder.file("a.log");
  constexpr int writers = 2, each = 40;
  std::vector<::pid_t> children;
  for (int w = 0; w < writers; ++w) {
    const ::pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      const std::string name = std::to_string(w);
      for (int i = 0; i < each; ++i) append(path, {remark(name), remark(name)}, 60'000);
      ::_exit(0);
    }
    children.push_back(child);
  }
  for (const ::pid_t child : children) {
    int status = 1;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(status == 0);
  }
  const log::Reading reading = log::read_file(path);
  CHECK(told(reading.diagnostics) == "");
  REQUIRE(reading.log);
  REQUIRE(reading.log->entries.size() == static_cast<std::size_t>(2 * writers * each));
  std::vector<int> counted(writers, 0);
  for (std::size_t i = 0; i < reading.log->entries.size(); i += 2) {
    const auto& first = std::get<log::Remark>(reading.log->entries[i].event);
    CHECK(first.text == std::get<log::Remark>(reading.log->entries[i + 1].event).text);
    ++counted[static_cast<std::size_t>(std::stoi(first.text))];
  }
  CHECK(counted == std::vector<int>(writers, each));
}
