#include "ruleset/text_file.hpp"

#include <algorithm>
#include <tuple>

namespace raceward::ruleset {
namespace {

constexpr std::size_t largest_file = std::size_t{16} << 20;

/// Length of the UTF-8 sequence at `at`, or 0 where it is none (overlong, surrogate, out of range, cut
/// short).
std::size_t sequence_length(std::string_view s, std::size_t at) {
  const auto byte = [&](std::size_t i) { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0u; };
  const auto follows = [&](std::size_t i) { return (byte(i) & 0xc0u) == 0x80u; };
  const unsigned first = byte(at), second = byte(at + 1);
  if (first < 0x80) return 1;
  if (first >= 0xc2 && first <= 0xdf) return follows(at + 1) ? 2 : 0;
  if (first >= 0xe0 && first <= 0xef) {
    if ((first == 0xe0 && second < 0xa0) || (first == 0xed && second > 0x9f)) return 0;
    return follows(at + 1) && follows(at + 2) ? 3 : 0;
  }
  if (first >= 0xf0 && first <= 0xf4) {
    if ((first == 0xf0 && second < 0x90) || (first == 0xf4 && second > 0x8f)) return 0;
    return follows(at + 1) && follows(at + 2) && follows(at + 3) ? 4 : 0;
  }
  return 0;
}

/// Edit distance, a swap of neighbours counting one; stops mattering above `limit`.
std::size_t distance(std::string_view a, std::string_view b, std::size_t limit) {
  if (a.size() > b.size() + limit || b.size() > a.size() + limit) return limit + 1;
  std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(above);
    above.swap(row);
  }
  return above[b.size()];
}

/// "emt" and "EMT", "set screw connector" and "set-screw-connector".
bool same_but_for_case(std::string_view a, std::string_view b) {
  const auto plain = [](char c) {
    if (c >= 'A' && c <= 'Z') return static_cast<char>(c - 'A' + 'a');
    return c == ' ' || c == '_' ? '-' : c;
  };
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [&](char x, char y) { return plain(x) == plain(y); });
}

}  // namespace

TextFile::TextFile(std::string name, std::string bytes) : name_(std::move(name)), bytes_(std::move(bytes)) {
  starts_.push_back(0);
  for (std::size_t at = bytes_.find('\n'); at != std::string::npos; at = bytes_.find('\n', at + 1)) {
    if (at + 1 < bytes_.size()) starts_.push_back(at + 1);
  }
}

Place TextFile::at(std::size_t offset) const {
  const auto after = std::upper_bound(starts_.begin(), starts_.end(), offset);
  const auto line = static_cast<std::size_t>(after - starts_.begin()) - 1;
  return {name_, static_cast<std::uint32_t>(line + 1),
          static_cast<std::uint32_t>(offset - starts_[line] + 1)};
}

std::string_view TextFile::line(std::size_t line) const {
  const std::size_t end = line + 1 < starts_.size() ? starts_[line + 1] : bytes_.size();
  std::string_view text = std::string_view{bytes_}.substr(starts_[line], end - starts_[line]);
  while (!text.empty() && (text.back() == '\n' || text.back() == '\r')) text.remove_suffix(1);
  return text;
}

void Problems::add(Place place, std::string message) {
  if (full()) return;
  // Every row of a table repeats the faults of its head.
  for (const Problem& p : list_) {
    if (p.place.line == place.line && p.place.column == place.column && p.place.file == place.file &&
        p.message == message)
      return;
  }
  if (list_.size() == most) {
    // Behind everything else of the file, whatever is sorted later.
    list_.push_back({{place.file, UINT32_MAX, 0}, "more faults follow; mend these first"});
    return;
  }
  list_.push_back({std::move(place), std::move(message)});
}

std::vector<Problem> Problems::sorted() && {
  std::stable_sort(list_.begin(), list_.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.place.file, a.place.line, a.place.column) <
           std::tie(b.place.file, b.place.line, b.place.column);
  });
  for (Problem& problem : list_) {
    if (problem.place.line == UINT32_MAX) problem.place.line = 0;
  }
  return std::move(list_);
}

bool plain_text(const TextFile& file, Problems& problems) {
  const std::string_view s = file.bytes();
  if (s.size() > largest_file) {
    problems.add(file, 0, "the file is larger than 16 MiB; a ruleset file is a few kilobytes");
    return false;
  }
  for (std::size_t at = 0; at < s.size();) {
    const auto c = static_cast<unsigned char>(s[at]);
    if (c < 0x20 && c != '\t' && c != '\n' && c != '\r') {
      problems.add(file, at, "the file holds a control character; ruleset files are plain UTF-8 text");
      return false;
    }
    const std::size_t length = sequence_length(s, at);
    if (length == 0) {
      problems.add(file, at, "the file is not valid UTF-8 here; save it as UTF-8");
      return false;
    }
    at += length;
  }
  return true;
}

bool is_word(std::string_view text) {
  bool hyphen_may_follow = false;
  for (const char c : text) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (!plain && !(c == '-' && hyphen_may_follow)) return false;
    hyphen_may_follow = plain;
  }
  return hyphen_may_follow;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view space = " \t\r\n";
  const auto first = text.find_first_not_of(space);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(space) - first + 1);
}

std::string suggestion(std::string_view written, const std::vector<std::string_view>& known,
                       std::size_t most) {
  if (written.size() > 64) return {};
  for (const std::string_view name : known) {
    if (name != written && same_but_for_case(name, written)) return "; did you mean " + quoted(name) + "?";
  }
  const std::size_t limit = std::min(std::max<std::size_t>(written.size() / 3, 1), most);
  std::size_t best = limit + 1;
  std::string_view nearest;
  for (const std::string_view name : known) {
    const std::size_t d = distance(written, name, limit);
    if (d < best) {
      best = d;
      nearest = name;
    }
  }
  return nearest.empty() ? std::string{} : "; did you mean " + quoted(nearest) + "?";
}

}  // namespace raceward::ruleset
