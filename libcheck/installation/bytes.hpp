// The bytes of a file, for as long as its installation lives.
#pragma once

#include <cstddef>
#include <cstring>
#include <memory>
#include <string>
#include <string_view>
#include <utility>

namespace raceward::installation {

/// Bytes that stay where they are, with `padding` zeros behind them: taken over from a string, or from a
/// block that a file was read into.
class Bytes {
 public:
  static constexpr std::size_t padding = 16;

  Bytes() = default;
  /// Copies where the string has no room for the padding.
  explicit Bytes(std::string text)
      : text_(std::make_unique<std::string>(std::move(text))), size_(text_->size()) {
    text_->append(padding, '\0');
    data_ = text_->data();
  }
  /// REQUIRES: room for size + padding in the block.
  Bytes(std::unique_ptr<char[]> block, std::size_t size)
      : block_(std::move(block)), data_(block_.get()), size_(size) {
    std::memset(block_.get() + size, 0, padding);
  }

  [[nodiscard]] const char* data() const { return data_; }
  [[nodiscard]] std::size_t size() const { return size_; }
  operator std::string_view() const { return {data_, size_}; }

 private:
  std::unique_ptr<std::string> text_;  // moved, its bytes stay
  std::unique_ptr<char[]> block_;
  const char* data_ = nullptr;
  std::size_t size_ = 0;
};

}  // namespace raceward::installation
