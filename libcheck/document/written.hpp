// Elements as they stand in the file, noted by the strict pass and read by the builder.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "document/vocabulary.hpp"

namespace raceward::document {

/// Texts have word_padding readable bytes behind them.
struct WrittenAttribute {
  const char* name_at = nullptr;   ///< in the file
  const char* value_at = nullptr;  ///< in the file, or where references and line ends were replaced
  std::uint32_t value_size = 0;
  std::uint16_t name_size = 0;  ///< of a longer name, which is none of ours, only the beginning is kept
  std::uint8_t number = 0;      ///< 1 + its position among the attributes of the element; 0: none of them

  [[nodiscard]] std::string_view name() const { return {name_at, name_size}; }
  [[nodiscard]] std::string_view value() const { return {value_at, value_size}; }
};

struct WrittenElement {
  const char* name_at = nullptr;  ///< in the file
  std::uint32_t name_size = 0;
  Element element = Element::unknown;
  std::uint32_t first_attribute = 0, attribute_count = 0;  ///< in Written::attributes
  std::uint32_t span = 1;  ///< elements from this one to its end: itself and all within it

  [[nodiscard]] std::string_view name() const { return {name_at, name_size}; }
};

/// The root's start tag, or some children of the root with all within them: elements in the order of their
/// start tags. Those within an element begin right behind it, and each is followed by the next after `span`.
struct Written {
  std::vector<WrittenElement> elements;
  std::vector<WrittenAttribute> attributes;

  void clear() {
    elements.clear();
    attributes.clear();
  }
};

}  // namespace raceward::document
