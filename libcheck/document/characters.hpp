// UTF-8, and the characters that XML allows.
#pragma once

#include <cstddef>
#include <cstdint>

namespace raceward::document {

constexpr bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xc0U) == 0x80U; }

/// A decoded character; size 0 where the bytes are no UTF-8.
struct Character {
  std::uint32_t code = 0;
  std::size_t size = 0;
};

/// The character at `at`, which is before `end`. Overlong forms, surrogates and what lies beyond U+10FFFF are
/// none.
constexpr Character decode(const char* at, const char* end) {
  const auto lead = static_cast<unsigned char>(*at);
  if (lead < 0x80) return {lead, 1};
  if (lead < 0xc2 || lead > 0xf4) return {};
  const std::size_t size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (static_cast<std::size_t>(end - at) < size) return {};
  std::uint32_t code = lead & (0x7fU >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if (!is_continuation(at[i])) return {};
    code = code << 6 | (static_cast<unsigned char>(at[i]) & 0x3fU);
  }
  constexpr std::uint32_t smallest[] = {0x80, 0x800, 0x10000};
  if (code < smallest[size - 2] || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return {};
  return {code, size};
}

/// Char of XML 1.0.
constexpr bool is_xml_character(std::uint32_t code) {
  if (code < 0x20) return code == 0x9 || code == 0xa || code == 0xd;
  return code < 0xd800 || (code >= 0xe000 && code <= 0xfffd) || (code >= 0x10000 && code <= 0x10ffff);
}

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
/// Bytes of XML names, as far as one can tell without a table of Unicode: all that is not ASCII counts as
/// one.
constexpr bool begins_name(char c) {
  return is_letter(c) || c == '_' || c == ':' || static_cast<unsigned char>(c) >= 0x80;
}
constexpr bool continues_name(char c) { return begins_name(c) || is_digit(c) || c == '-' || c == '.'; }

}  // namespace raceward::document
