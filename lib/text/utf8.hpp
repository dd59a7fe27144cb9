#pragma once
#include <cstddef>
#include <string>
#include <string_view>

/// Characters of UTF-8 text. What is well formed is what The Unicode Standard says in its table 3-7: no
/// overlong forms, no surrogates, nothing beyond U+10FFFF.
namespace fettlefund::text {

/// How many bytes the first character of `text` (not empty) takes, 1 to 4; 0 if they are not well formed.
std::size_t character_length(std::string_view text);

/// The first byte of `text` that is not UTF-8, or its size if there is none.
std::size_t find_bad_utf8(std::string_view text);

/// Whether well-formed `text` begins with a control character (C0, DEL or C1), which could steer a terminal.
bool starts_with_control(std::string_view text);

/// Whether well-formed `text` holds U+FFFE or U+FFFF: they stand for no character, and no XML document can
/// hold them (Extensible Markup Language (XML) 1.0, 5th edition, 2008, production 2).
bool has_noncharacters(std::string_view text);

/// Characters of well-formed `text`.
std::size_t count_characters(std::string_view text);

/// The bytes of as many whole characters from the beginning as fit into `most` bytes. A byte that is not
/// UTF-8 counts as a character.
std::size_t whole_characters(std::string_view text, std::size_t most);

/// Well-formed `text` with '?' for control characters, if longer than `most` bytes (at least 3) then cut at a
/// character boundary to at most that, the last three being "...".
std::string shortened(std::string_view text, std::size_t most);

/// A character (0 to 0x10FFFF, no surrogate) in UTF-8.
std::string encoded(char32_t character);

}  // namespace fettlefund::text
