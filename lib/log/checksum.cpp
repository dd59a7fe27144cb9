#include "lib/log/checksum.hpp"

#include <boost/crc.hpp>
#include <fmt/format.h>

namespace fettlefund::log {

std::string checksum(std::string_view bytes) {
  boost::crc_32_type crc;
  crc.process_bytes(bytes.data(), bytes.size());
  return fmt::format("{:08x}", crc.checksum());
}

}  // namespace fettlefund::log
