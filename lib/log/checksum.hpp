#pragma once
#include <string>
#include <string_view>

namespace fettlefund::log {

/// CRC-32 of the bytes (ISO/IEC 3309 and ITU-T V.42: polynomial 0x04C11DB7, reflected, all ones before and
/// after), as eight lower-case hexadecimal digits. It finds torn and changed lines; it guards against nobody.
std::string checksum(std::string_view bytes);

}  // namespace fettlefund::log
