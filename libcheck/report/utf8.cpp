#include "report/utf8.hpp"

namespace raceward::report {

namespace {

bool continuation(char c) { return (static_cast<unsigned char>(c) & 0xc0) == 0x80; }

struct Decoded {
  char32_t code = 0;
  std::size_t size = 0;  // 0: not valid
};

/// The first character. Refuses overlong forms, surrogates and what lies beyond U+10FFFF.
Decoded decode(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  if (lead < 0x80) return {lead, 1};
  const std::size_t size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || text.size() < size) return {};
  char32_t code = lead & (0x7fu >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if (!continuation(text[i])) return {};
    code = code << 6 | (static_cast<unsigned char>(text[i]) & 0x3f);
  }
  constexpr char32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  if (code < least[size] || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return {};
  return {code, size};
}

bool moves_or_hides(char32_t c) {
  return c < 0x20 || (c >= 0x7f && c < 0xa0) || (c >= 0x202a && c <= 0x202e) ||
         (c >= 0x2066 && c <= 0x2069) || c == 0x2028 || c == 0x2029;
}

}  // namespace

std::string valid_utf8(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const Decoded d = decode(text);
    out.append(d.size != 0 ? text.substr(0, d.size) : "\xef\xbf\xbd");
    text.remove_prefix(d.size != 0 ? d.size : 1);
  }
  return out;
}

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const Decoded d = decode(text);
    if (d.code == '\n' || d.code == '\t' || d.code == '\r') {
      out += ' ';
    } else if (d.size == 0 || moves_or_hides(d.code)) {
      out += '?';
    } else {
      out.append(text.substr(0, d.size));
    }
    text.remove_prefix(d.size != 0 ? d.size : 1);
  }
  return out;
}

std::size_t width_of(std::string_view text) {
  std::size_t width = 0;
  for (const char c : text) width += continuation(c) ? 0 : 1;
  return width;
}

}  // namespace raceward::report
