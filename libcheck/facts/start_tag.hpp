// Attributes of an element where it stands in the file, which was read before and is well-formed.
#pragma once

#include <string>
#include <string_view>

#include "installation/model.hpp"

namespace raceward::facts {

/// Steps through the attributes of one start tag.
class StartTag {
 public:
  StartTag(const installation::Model& model, installation::Offset element);

  /// The next attribute; false where there is none.
  bool next();
  [[nodiscard]] std::string_view name() const { return name_; }
  /// As written between its quotes, references and all.
  [[nodiscard]] std::string_view raw() const { return raw_; }
  /// With references replaced and white space made blanks.
  [[nodiscard]] std::string_view value();

 private:
  std::string_view bytes_;
  std::size_t at_;
  std::string_view name_, raw_;
  std::string decoded_;
};

/// Adds a text as the value of an attribute.
void append_escaped(std::string& out, std::string_view text);

}  // namespace raceward::facts
