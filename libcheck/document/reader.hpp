// Reads the attributes of elements into Fields, reporting every fault at the attribute's own place.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/fields.hpp"
#include "document/vocabulary.hpp"
#include "document/written.hpp"

namespace raceward::document {

class Reader {
 public:
  /// `bytes` are the file, within which names stand.
  Reader(const char* bytes, Faults& faults);

  /// What the elements given to the other functions stand in.
  void of(const Written& written) { attributes_of_ = written.attributes.data(); }
  /// Takes the prefix from the root's name and checks name and namespace. False where the document is not
  /// ours.
  bool root(const WrittenElement& root);
  /// What stands before the names of elements, with its colon; empty where nothing does.
  [[nodiscard]] const std::string& prefix() const { return prefix_; }
  [[nodiscard]] bool has_prefix(const WrittenElement& element) const {
    return element.name().starts_with(prefix_);
  }
  /// Of an element that the vocabulary knows.
  void attributes(const WrittenElement& written, Fields& fields);

  [[nodiscard]] installation::Offset offset(const char* at) const {
    return static_cast<installation::Offset>(at - bytes_);
  }
  /// How often each element and attribute was met.
  [[nodiscard]] std::vector<installation::Usage> usage() const;

 private:
  struct Count {
    std::uint32_t count = 0;
    installation::Offset first = 0;
  };
  void value(std::string_view name, std::string_view text, const AttributeRow& row, unsigned position,
             Fields& fields);
  void quantity(std::string_view name, std::string_view text, const Form& form, unsigned position,
                Fields& fields);
  void position_in_space(std::string_view name, std::string_view text, const Form& form, unsigned position,
                         Fields& fields);
  void insulations(std::string_view name, std::string_view text, const Form& form, unsigned position,
                   Fields& fields);
  bool within(std::string_view name, std::string_view text, const Form& form, std::int64_t count);
  void unknown_attribute(const WrittenAttribute& attribute, const ElementRow& row);
  [[nodiscard]] std::span<const WrittenAttribute> attributes_of(const WrittenElement& element) const {
    return {attributes_of_ + element.first_attribute, element.attribute_count};
  }
  void missing(const ElementRow& row, const Fields& fields);
  bool only_counted();
  void wrong(std::string_view name, std::string_view text, std::string_view what);

  const char* bytes_;
  Faults& faults_;
  const WrittenAttribute* attributes_of_ = nullptr;
  std::string prefix_;  // with its colon; empty where names have none
  std::array<Count, element_count> elements_{};
  std::vector<Count> attributes_;
};

/// Steps through the words of a text that are parted by blanks: takes the next off the front; empty at the
/// end.
std::string_view take_word(std::string_view& text);
/// True for names as ids are written. Reads word_padding bytes behind the text.
bool is_word(std::string_view text);

}  // namespace raceward::document
