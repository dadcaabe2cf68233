#include "document/faults.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace raceward::document {

Place place_of(const std::string& file, const std::vector<std::uint32_t>& line_starts, std::uint32_t offset) {
  const auto after = std::upper_bound(line_starts.begin(), line_starts.end(), offset);
  const std::uint32_t start = after == line_starts.begin() ? 0 : after[-1];
  const auto line = static_cast<std::uint32_t>(std::max<std::ptrdiff_t>(after - line_starts.begin(), 1));
  return {file, line, offset - start + 1};
}

void Faults::append(Faults&& other) {
  for (Fault& fault : other.list_) add(fault.offset, std::move(fault.message));
  unlisted_ += other.unlisted_;
}

std::vector<Problem> Faults::problems(const std::string& file,
                                      const std::vector<std::uint32_t>& line_starts) && {
  std::stable_sort(list_.begin(), list_.end(),
                   [](const Fault& a, const Fault& b) { return a.offset < b.offset; });
  std::vector<Problem> out;
  out.reserve(list_.size() + 1);
  for (Fault& fault : list_)
    out.push_back({place_of(file, line_starts, fault.offset), std::move(fault.message)});
  if (unlisted_ > 0) {
    out.push_back({{file, 0, 0},
                   unlisted_ == 1 ? std::string("1 more fault is not listed")
                                  : fmt::format("{} more faults are not listed", unlisted_)});
  }
  return out;
}

}  // namespace raceward::document
