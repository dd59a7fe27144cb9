#include "lib/build/fingerprint.hpp"

#include <fmt/format.h>

namespace fettlefund::build {

void Fingerprint::add(std::string_view text) {
  const auto take = [this](char c) { state_ = (state_ ^ static_cast<unsigned char>(c)) * 0x100000001B3u; };
  for (const char c : text) take(c);
  take('\0');
}

std::string Fingerprint::write() const { return fmt::format("{:016x}", state_); }

std::string fingerprint(std::string_view text) {
  Fingerprint print;
  print.add(text);
  return print.write();
}

}  // namespace fettlefund::build
