// Texts that stand nowhere else: values with references replaced.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

namespace raceward::installation {

/// Room for texts, kept until the owner goes; it never moves.
class Texts {
 public:
  /// Room for n bytes, with `padding` readable bytes behind them.
  char* room(std::size_t n) {
    const std::size_t needed = n + padding;
    if (needed > left_) {
      left_ = needed > chunk ? needed : chunk;
      chunks_.push_back(std::make_unique<char[]>(left_));
      next_ = chunks_.back().get();
    }
    char* const found = next_;
    next_ += needed;
    left_ -= needed;
    return found;
  }

  static constexpr std::size_t padding = 16;

 private:
  static constexpr std::size_t chunk = std::size_t{16} << 10;
  std::vector<std::unique_ptr<char[]>> chunks_;
  char* next_ = nullptr;
  std::size_t left_ = 0;
};

}  // namespace raceward::installation
