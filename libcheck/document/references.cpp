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

}  // namespace

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
