#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>

struct zip;

namespace fettlefund::sheets {

/// Why a file cannot be read as a workbook, in words, without the file's name.
struct Unreadable : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Limits that hostile files meet before memory does.
inline constexpr std::size_t most_file_bytes = 16u << 20;
inline constexpr std::size_t most_part_bytes = 16u << 20;  ///< unpacked
inline constexpr std::size_t most_all_bytes = 64u << 20;   ///< unpacked, as the parts say
inline constexpr std::size_t most_parts = 1000;

/// The parts of a zip archive. Sizes and counts are looked at before anything is unpacked, and the checksum
/// of each part is checked when it is read.
class Archive {
 public:
  /// Throws Unreadable where the bytes are no archive, pass a limit, or hold two parts of one name (upper and
  /// lower case are alike).
  explicit Archive(std::string bytes);
  ~Archive();
  Archive(const Archive&) = delete;
  Archive& operator=(const Archive&) = delete;

  /// The unpacked part, or nothing if there is none. Throws Unreadable where it is damaged or encrypted.
  std::optional<std::string> part(const std::string& name) const;

 private:
  void index();

  std::string bytes_;
  zip* archive_ = nullptr;
  std::map<std::string, std::size_t> parts_;  ///< name in lower case -> index
};

/// The bytes of a file; of one larger than `most_file_bytes` only its beginning, longer than that limit,
/// which Archive then refuses. Throws Unreadable where it cannot be read.
std::string file_bytes(const std::string& path);

}  // namespace fettlefund::sheets
