#include "report/page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/utf8.hpp"

namespace raceward::report {

namespace {

/// Nearly all texts: printable ASCII with single blanks between words. They go to the page as they are.
bool is_plain(std::string_view text) {
  char former = ' ';
  for (const char c : text) {
    if (c < ' ' || c > '~' || (c == ' ' && former == ' ')) return false;
    former = c;
  }
  return former != ' ' || text.empty();
}

}  // namespace

void Page::line(std::string_view text) {
  if (is_plain(text)) {
    out_.append(text).append("\n");
  } else {
    out_.append(printable(text)).append("\n");
  }
}

void Page::plain_paragraph(std::string_view rest, std::size_t indent, std::size_t hanging) {
  while (indent + rest.size() > width) {
    const std::size_t room = indent < width ? width - indent : 0;
    std::size_t cut = rest.rfind(' ', room);
    if (cut == std::string_view::npos) cut = rest.find(' ');
    if (cut == std::string_view::npos) break;
    out_.append(indent, ' ').append(rest.substr(0, cut)).append("\n");
    rest.remove_prefix(cut + 1);
    indent = hanging;
  }
  out_.append(indent, ' ').append(rest).append("\n");
}

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
  if (is_plain(text)) return plain_paragraph(text, indent, hanging);
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
