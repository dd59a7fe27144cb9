#pragma once
#include <cstdint>
#include <string>
#include <string_view>

namespace fettlefund::build {

/// FNV-1a, 64 bits (Fowler, Noll and Vo; "The FNV Non-Cryptographic Hash Algorithm", from memory). It tells
/// texts apart; it guards against nobody.
class Fingerprint {
 public:
  /// Adds the text and an end after it, so that "ab", "c" and "a", "bc" differ.
  void add(std::string_view text);
  std::string write() const;  ///< sixteen hexadecimal digits

 private:
  std::uint64_t state_ = 0xCBF29CE484222325u;
};

std::string fingerprint(std::string_view text);

}  // namespace fettlefund::build
