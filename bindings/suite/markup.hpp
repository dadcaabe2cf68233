// What of a document's text is no element.
#pragma once

#include <array>
#include <string_view>
#include <utility>

namespace raceward::suite {

/// The end of the comment, instruction or character data that begins at a "<"; `at` where none does, and npos
/// where it has no end.
inline std::size_t past_aside(std::string_view text, std::size_t at) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 3> asides = {
      {{"<!--", "-->"}, {"<?", "?>"}, {"<![CDATA[", "]]>"}}};
  for (const auto& [begin, end] : asides) {
    if (!text.substr(at).starts_with(begin)) continue;
    const std::size_t last = text.find(end, at + begin.size());
    return last == std::string_view::npos ? last : last + end.size();
  }
  return at;
}

}  // namespace raceward::suite
