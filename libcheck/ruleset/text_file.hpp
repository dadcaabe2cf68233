// A file of a ruleset with its lines, and the list of its faults.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/fault.hpp"
#include "raceward/engine.hpp"

namespace raceward::ruleset {

/// Bytes of one file and the name that problems call it by.
class TextFile {
 public:
  TextFile(std::string name, std::string bytes);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const std::string& bytes() const { return bytes_; }
  /// Line and column of a byte. O(log lines).
  [[nodiscard]] Place at(std::size_t offset) const;
  [[nodiscard]] std::size_t line_count() const { return starts_.size(); }
  /// A line without its end; `line` counts from 0.
  [[nodiscard]] std::string_view line(std::size_t line) const;
  [[nodiscard]] std::size_t line_start(std::size_t line) const { return starts_[line]; }

 private:
  std::string name_;
  std::string bytes_;
  std::vector<std::size_t> starts_;
};

/// Faults of all files of one ruleset. A file that is nothing but faults stays readable: after `most` they
/// end.
class Problems {
 public:
  static constexpr std::size_t most = 200;

  /// The same fault of the same place is kept once.
  void add(Place place, std::string message);
  void add(const TextFile& file, std::size_t offset, std::string message) {
    add(file.at(offset), std::move(message));
  }
  [[nodiscard]] bool empty() const { return list_.empty(); }
  [[nodiscard]] std::size_t size() const { return list_.size(); }
  [[nodiscard]] bool full() const { return list_.size() > most; }
  /// By file, line and column.
  [[nodiscard]] std::vector<Problem> sorted() &&;

 private:
  std::vector<Problem> list_;
};

/// Reports bytes that no ruleset file may hold: too much of them, NUL and control characters, broken UTF-8.
/// Answers false where the file should not be read further.
bool plain_text(const TextFile& file, Problems& problems);

/// True for names as rulesets write them: small letters, digits, single hyphens between.
bool is_word(std::string_view text);

std::string_view trimmed(std::string_view text);

using quantity::quoted;

/// "; did you mean \"x\"?" for the known name nearest to what was written; empty where none is near: more
/// than a third of what was written apart, or more than `most` slips of the hand.
std::string suggestion(std::string_view written, const std::vector<std::string_view>& known,
                       std::size_t most = SIZE_MAX);

}  // namespace raceward::ruleset
