#include "wrap.hpp"

#include <algorithm>

namespace raceward::command {

namespace {
constexpr std::size_t width = 100;
}

std::string wrapped(std::string_view text, std::size_t indent, std::string_view label) {
  std::string out;
  std::string line(label.substr(0, indent));
  line.resize(indent, ' ');
  bool fresh = true;
  while (!text.empty()) {
    const std::size_t size = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, size);
    text.remove_prefix(std::min(size + 1, text.size()));
    if (!fresh && line.size() + 1 + word.size() > width) {
      out.append(line).append("\n");
      line.assign(indent, ' ');
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  return out.append(line).append("\n");
}

}  // namespace raceward::command
