#include "document/references.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/characters.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

constexpr std::size_t longest_reference = 64;

// What stands between & and ;, or nothing where no ; follows a name or number.
std::string_view inside(std::string_view text) {
  std::size_t n = 1;
  const std::size_t end = std::min(text.size(), longest_reference);
  while (n < end && (continues_name(text[n]) || text[n] == '#')) ++n;
  return n < end && text[n] == ';' ? text.substr(1, n - 1) : std::string_view{};
}

constexpr int digit_value(char c) {
  if (is_digit(c)) return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return 99;
}

// Of the inside of a reference that is right.
std::uint32_t code_of(std::string_view name) {
  if (name[0] == '#') {
    const bool hexadecimal = name[1] == 'x';
    std::uint32_t code = 0;
    for (const char c : name.substr(hexadecimal ? 2 : 1))
      code = code * (hexadecimal ? 16U : 10U) + static_cast<std::uint32_t>(digit_value(c));
    return code;
  }
  switch (name[0]) {
    case 'l':
      return '<';
    case 'g':
      return '>';
    case 'q':
      return '"';
    default:
      return name == "amp" ? '&' : '\'';
  }
}

// No reference is shorter than the character that it stands for.
char* encode(std::uint32_t code, char* to) {
  const auto put = [&](std::uint32_t byte) { *to++ = static_cast<char>(byte); };
  const auto more = [&](unsigned shift) { put(0x80U | (code >> shift & 0x3fU)); };
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xc0U | code >> 6);
    more(0);
  } else if (code < 0x10000) {
    put(0xe0U | code >> 12);
    more(6);
    more(0);
  } else {
    put(0xf0U | code >> 18);
    more(12);
    more(6);
    more(0);
  }
  return to;
}

}  // namespace

std::size_t normalize(std::string_view value, char* room) {
  char* to = room;
  for (std::size_t i = 0; i < value.size();) {
    const char c = value[i];
    if (c == '&' && fault_of_reference(value.substr(i)) == ReferenceFault::none) {
      const std::string_view name = inside(value.substr(i));
      to = encode(code_of(name), to);
      i += name.size() + 2;
      continue;
    }
    if (c == '\r' && i + 1 < value.size() && value[i + 1] == '\n') ++i;
    *to++ = is_blank(c) ? ' ' : c;
    ++i;
  }
  return static_cast<std::size_t>(to - room);
}

ReferenceFault fault_of_reference(std::string_view text) {
  std::string_view name = inside(text);
  if (name.empty()) return ReferenceFault::bare;
  if (name[0] != '#') {
    const bool known = name == "lt" || name == "gt" || name == "amp" || name == "quot" || name == "apos";
    return known ? ReferenceFault::none : ReferenceFault::unknown;
  }
  const bool hexadecimal = name.size() > 1 && name[1] == 'x';
  name.remove_prefix(hexadecimal ? 2 : 1);
  const std::uint32_t base = hexadecimal ? 16 : 10;
  std::uint32_t code = 0;
  for (const char c : name) {
    const int digit = digit_value(c);
    if (digit >= static_cast<int>(base)) return ReferenceFault::number;
    code = std::min<std::uint32_t>(code * base + static_cast<std::uint32_t>(digit), 0x110000);
  }
  if (name.empty()) return ReferenceFault::number;
  return is_xml_character(code) ? ReferenceFault::none : ReferenceFault::character;
}

std::string explain(ReferenceFault fault, std::string_view text) {
  const std::string whole = quantity::quoted(text.substr(0, inside(text).size() + 2));
  switch (fault) {
    case ReferenceFault::none:
      break;
    case ReferenceFault::bare:
      return "an & that begins no reference is written &amp;";
    case ReferenceFault::unknown:
      return fmt::format("unknown entity {}; known are &lt; &gt; &amp; &quot; and &apos;", whole);
    case ReferenceFault::number:
      return fmt::format("{} is no character's number", whole);
    case ReferenceFault::character:
      return fmt::format("{} is a character that XML does not allow", whole);
  }
  return {};
}

}  // namespace raceward::document
