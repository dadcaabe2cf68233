// Collects what is wrong with one file.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "raceward/engine.hpp"

namespace raceward::document {

/// Line and column (from 1, in bytes) of an offset, from the offsets of line starts. O(log lines).
Place place_of(const std::string& file, const std::vector<std::uint32_t>& line_starts, std::uint32_t offset);

/// Faults by offset. A file that is nothing but faults stays cheap: beyond `most` of them they are only
/// counted.
class Faults {
 public:
  explicit Faults(std::size_t most = 1000) : most_(most) {}

  void add(std::uint32_t offset, std::string message) {
    if (full())
      ++unlisted_;
    else
      list_.push_back({offset, std::move(message)});
  }
  /// Counts a fault without words: where full(), or where more of its kind say nothing new.
  void count() { ++unlisted_; }
  void allow(std::size_t most) { most_ = most; }
  /// Takes over what another has collected, up to the most.
  void append(Faults&& other);
  [[nodiscard]] bool full() const { return list_.size() >= most_; }
  [[nodiscard]] bool empty() const { return list_.empty(); }
  [[nodiscard]] std::size_t size() const { return list_.size(); }
  /// Sorted by place; how many were only counted comes last.
  [[nodiscard]] std::vector<Problem> problems(const std::string& file,
                                              const std::vector<std::uint32_t>& line_starts) &&;

 private:
  struct Fault {
    std::uint32_t offset = 0;
    std::string message;
  };
  std::size_t most_;
  std::vector<Fault> list_;
  std::uint64_t unlisted_ = 0;
};

}  // namespace raceward::document
