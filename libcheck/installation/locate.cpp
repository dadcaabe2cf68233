// Places in the file.
#include <algorithm>

#include "installation/model.hpp"

namespace raceward::installation {
namespace {

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

}  // namespace

LineColumn locate(const Model& model, Offset offset) {
  const auto& starts = model.line_starts;
  const auto after = std::upper_bound(starts.begin(), starts.end(), offset);
  const Offset start = after == starts.begin() ? 0 : after[-1];
  return {static_cast<std::uint32_t>(std::max<std::ptrdiff_t>(after - starts.begin(), 1)),
          offset - start + 1};
}

Offset locate_attribute(const Model& model, Offset element, std::string_view attribute) {
  const std::string_view bytes = model.bytes;
  const auto ends_name = [](char c) { return c == '=' || c == '/' || c == '>' || is_blank(c); };
  std::size_t at = element;
  const auto skip_name = [&] {
    while (at < bytes.size() && !ends_name(bytes[at])) ++at;
  };
  const auto skip_blanks = [&] {
    while (at < bytes.size() && is_blank(bytes[at])) ++at;
  };
  skip_name();
  for (;;) {
    skip_blanks();
    const std::size_t name = at;
    skip_name();
    if (at == name) return element;
    const std::string_view found = bytes.substr(name, at - name);
    while (at < bytes.size() && (is_blank(bytes[at]) || bytes[at] == '=')) ++at;
    if (at >= bytes.size() || (bytes[at] != '"' && bytes[at] != '\'')) return element;
    if (found == attribute) return static_cast<Offset>(name);
    at = bytes.find(bytes[at], at + 1);
    if (at == std::string_view::npos) return element;
    ++at;
  }
}

}  // namespace raceward::installation
