// Reads the attributes of parsed elements into Fields, reporting every fault at the attribute's own place.
#pragma once

#include <array>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/fields.hpp"
#include "document/vocabulary.hpp"

namespace raceward::document {

class Reader {
 public:
  /// `bytes` are the file; nodes are parsed in place within them. word_padding bytes behind them are
  /// readable.
  Reader(const char* bytes, Faults& faults);

  /// Takes the prefix from the root's name and checks name and namespace. False where the document is not
  /// ours.
  bool root(pugi::xml_node node);
  /// Which element a node is; Element::unknown where the vocabulary has none of that name.
  [[nodiscard]] Element element_of(pugi::xml_node node) const;
  /// What stands before the names of elements, with its colon; empty where nothing does.
  [[nodiscard]] const std::string& prefix() const { return prefix_; }
  [[nodiscard]] bool has_prefix(pugi::xml_node node) const;
  void attributes(pugi::xml_node node, Element element, Fields& fields);

  [[nodiscard]] installation::Offset offset(const char* at) const {
    return static_cast<installation::Offset>(at - bytes_) - shift_;
  }
  /// Nodes are read from a copy whose bytes lie `by` behind those of the file.
  void shift(installation::Offset by) { shift_ = by; }
  /// How often each element and attribute was met.
  [[nodiscard]] std::vector<installation::Usage> usage() const;

 private:
  struct Count {
    std::uint32_t count = 0;
    installation::Offset first = 0;
  };
  void value(const pugi::char_t* name, std::string_view text, const AttributeRow& row, unsigned position,
             Fields& fields);
  void quantity(const char* name, std::string_view text, const Form& form, unsigned position, Fields& fields);
  void position_in_space(const char* name, std::string_view text, const Form& form, unsigned position,
                         Fields& fields);
  void insulations(const char* name, std::string_view text, const Form& form, unsigned position,
                   Fields& fields);
  bool within(const char* name, std::string_view text, const Form& form, std::int64_t count);
  void unknown_attribute(pugi::xml_attribute attribute, const ElementRow& row);
  void missing(const ElementRow& row, const Fields& fields);
  bool only_counted();
  void wrong(const char* name, std::string_view text, std::string_view what);

  const char* bytes_;
  Faults& faults_;
  installation::Offset shift_ = 0;
  std::string prefix_;  // with its colon; empty where names have none
  std::array<Count, element_count> elements_{};
  std::vector<Count> attributes_;
};

/// Steps through the words of a text that are parted by blanks: takes the next off the front; empty at the
/// end.
std::string_view take_word(std::string_view& text);
/// True for names as ids are written.
bool is_word(std::string_view text);

}  // namespace raceward::document
