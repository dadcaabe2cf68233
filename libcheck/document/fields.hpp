// The attributes of one element, read by the vocabulary.
#pragma once

#include <cstdint>
#include <string_view>

#include "document/vocabulary.hpp"
#include "installation/model.hpp"

namespace raceward::document {

/// Values of one element's attributes, by their positions in the vocabulary. Filled anew for each element.
class Fields {
 public:
  Element element{};
  installation::Offset source = 0;  ///< of the element's name
  std::uint64_t given = 0;          ///< bits 1 << position: written
  std::uint64_t good = 0;           ///< bits 1 << position: written and right
  Length place[3];                  ///< of the attribute `at` where that is a position

  void begin(Element e, installation::Offset at) {
    element = e;
    source = at;
    given = good = 0;
  }
  void set(unsigned position, std::int64_t number) {
    good |= std::uint64_t{1} << position;
    values_[position].number = number;
  }
  void set(unsigned position, std::string_view text) {
    good |= std::uint64_t{1} << position;
    values_[position].text = text;
  }

  [[nodiscard]] bool is_given(unsigned position) const { return (given >> position & 1U) != 0; }
  [[nodiscard]] bool has(unsigned position) const { return (good >> position & 1U) != 0; }
  /// Text, word, id or ids as written; empty where absent or wrong.
  [[nodiscard]] std::string_view text(unsigned position) const {
    return has(position) ? values_[position].text : std::string_view{};
  }
  /// A count, a word's number in its list (from 1), a quantity's steps, a set of insulations.
  template <class T>
  [[nodiscard]] T number(unsigned position, T otherwise) const {
    return has(position) ? static_cast<T>(values_[position].number) : otherwise;
  }
  template <class T>
  void read(unsigned position, T& term) const {
    if (has(position)) term = static_cast<T>(values_[position].number);
  }
  template <class Q>
  void read(unsigned position, installation::Maybe<Q>& quantity) const {
    if (has(position)) quantity.raw = values_[position].number;
  }
  void read(unsigned position, std::string_view& text) const {
    if (has(position)) text = values_[position].text;
  }

 private:
  struct Value {
    std::string_view text;
    std::int64_t number = 0;
  };
  Value values_[most_attributes];
};

}  // namespace raceward::document
