// A page of plain text, 100 columns wide.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace raceward::report {

/// Every text that goes in is made printable; lines break at blanks only, so that ids and places stay whole.
class Page {
 public:
  static constexpr std::size_t width = 100;

  void line(std::string_view text = {});
  /// A line across the page.
  void across(char c);
  /// A heading with a line under it and a blank one before.
  void heading(std::string_view text);
  /// One text at the left and one at the right edge; below each other where they do not fit.
  void two_ends(std::string_view left, std::string_view right, std::size_t right_indent = 4);
  /// Text from `indent` on, broken to the width; later lines start at `hanging`.
  void paragraph(std::string_view text, std::size_t indent, std::size_t hanging);
  /// A label at `indent` and a text beside it that starts `label_width` later and hangs there.
  void entry(std::string_view label, std::string_view text, std::size_t indent, std::size_t label_width);

  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  void plain_paragraph(std::string_view text, std::size_t indent, std::size_t hanging);

  std::string out_;
};

/// The text with its first letter as a capital and a full stop, as a sentence.
std::string sentence(std::string_view text);
/// "1 box", "2 boxes".
std::string counted(std::size_t count, std::string_view one, std::string_view many);

}  // namespace raceward::report
