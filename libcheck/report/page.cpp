#include "report/page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/utf8.hpp"

namespace raceward::report {

void Page::line(std::string_view text) { out_.append(printable(text)).append("\n"); }

void Page::across(char c) { out_.append(width, c).append("\n"); }

void Page::heading(std::string_view text) {
  line();
  line(text);
  across('=');
}

void Page::two_ends(std::string_view left, std::string_view right, std::size_t right_indent) {
  const std::string l = printable(left), r = printable(right);
  const std::size_t used = width_of(l) + width_of(r);
  out_.append(l);
  if (used + 2 <= width) {
    out_.append(width - used, ' ');
  } else {
    out_.append("\n").append(right_indent, ' ');
  }
  out_.append(r).append("\n");
}

void Page::paragraph(std::string_view text, std::size_t indent, std::size_t hanging) {
  const std::string clean = printable(text);
  std::string_view rest = clean;
  std::string line(indent, ' ');
  bool fresh = true;
  std::size_t column = indent;
  while (!rest.empty()) {
    const std::size_t size = std::min(rest.find(' '), rest.size());
    const std::string_view word = rest.substr(0, size);
    rest.remove_prefix(std::min(size + 1, rest.size()));
    if (word.empty()) continue;
    const std::size_t wide = width_of(word);
    if (!fresh && column + 1 + wide > width) {
      out_.append(line).append("\n");
      line.assign(hanging, ' ');
      column = hanging;
      fresh = true;
    }
    if (!fresh) line += ' ';
    column += wide + (fresh ? 0 : 1);
    line += word;
    fresh = false;
  }
  out_.append(line).append("\n");
}

void Page::entry(std::string_view label, std::string_view text, std::size_t indent, std::size_t label_width) {
  const std::size_t start = indent + label_width;
  const std::size_t at = out_.size();
  paragraph(text, start, start);
  out_.replace(at + indent, std::min(label.size(), label_width), label.substr(0, label_width));
}

std::string sentence(std::string_view text) {
  std::string out(text);
  if (out.empty()) return out;
  if (out.front() >= 'a' && out.front() <= 'z') out.front() = static_cast<char>(out.front() - 'a' + 'A');
  if (out.back() != '.' && out.back() != '!' && out.back() != '?') out += '.';
  return out;
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

}  // namespace raceward::report
