#include "check/natural.hpp"

#include <cstddef>

namespace raceward::checking {

namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }

/// Takes the run of digits at `at`, without leading zeros.
std::string_view take_number(std::string_view text, std::size_t& at) {
  while (at < text.size() && text[at] == '0') ++at;
  const std::size_t first = at;
  while (at < text.size() && digit(text[at])) ++at;
  return text.substr(first, at - first);
}

}  // namespace

bool natural_less(std::string_view a, std::string_view b) {
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (digit(a[i]) && digit(b[j])) {
      const std::string_view left = take_number(a, i);
      const std::string_view right = take_number(b, j);
      if (left.size() != right.size()) return left.size() < right.size();
      if (left != right) return left < right;
      continue;
    }
    if (a[i] != b[j]) return static_cast<unsigned char>(a[i]) < static_cast<unsigned char>(b[j]);
    ++i;
    ++j;
  }
  const std::size_t left = a.size() - i, right = b.size() - j;
  return left != right ? left < right : a < b;
}

}  // namespace raceward::checking
