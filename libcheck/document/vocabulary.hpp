// The vocabulary of the installation document: which element stands where, which attributes it takes, of
// which form.
//
// Made from vocabulary.def. The loader dispatches by it, and the schema and the documentation are written
// from it.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "document/words.hpp"
#include "raceward/quantity.hpp"
#include "raceward/subject.hpp"

namespace raceward::document {

/// Namespace of the documents that this engine reads, and what comes before its version.
inline constexpr std::string_view document_namespace = "urn:raceward:installation:1";
inline constexpr std::string_view namespace_stem = "urn:raceward:installation:";

enum class Element : std::uint8_t {
#define RACEWARD_ELEMENT(identifier, name, parents, meaning) identifier,
#define RACEWARD_ATTRIBUTE(identifier, name, form, need, meaning)
#define RACEWARD_END(identifier)
#include "document/vocabulary.def"
#undef RACEWARD_ELEMENT
#undef RACEWARD_ATTRIBUTE
  unknown,
};
inline constexpr std::size_t element_count = static_cast<std::size_t>(Element::unknown);

/// Positions of attributes within their element: at::box::volume.
namespace at {
#define RACEWARD_ELEMENT(identifier, name, parents, meaning) \
  namespace identifier {                                     \
  enum Position : std::uint8_t {
#define RACEWARD_ATTRIBUTE(identifier, name, form, need, meaning) identifier,
#undef RACEWARD_END
#define RACEWARD_END(identifier) \
  }                              \
  ;                              \
  }
#include "document/vocabulary.def"
#undef RACEWARD_ELEMENT
#undef RACEWARD_ATTRIBUTE
#undef RACEWARD_END
}  // namespace at

inline constexpr std::size_t most_attributes = 64;  ///< that an element of the vocabulary can have

/// What an attribute's value must look like.
struct Form {
  enum class Kind : std::uint8_t {
    text,                  ///< anything
    said,                  ///< a text that is not blank
    word,                  ///< letters, digits, "_", "-", "."; begins with a letter, digit or "_"
    id,                    ///< a word, unique in the document
    reference,             ///< the id of one element
    references,            ///< ids with blanks between
    subject,               ///< ids with "+" or "/" between, as reports name what is made of several
    conductor_reference,   ///< the id of a conductor of the same circuit
    conductor_references,  ///< ids of conductors of the same circuit, with blanks between
    words,                 ///< one of a closed list
    insulations,           ///< several of a closed list, with "/" between
    quantity,              ///< a number with a unit
    position,              ///< three lengths with blanks between
    count,                 ///< a whole number
    date,                  ///< year-month-day
  };
  Kind kind = Kind::text;
  Dimension dimension = Dimension::none;
  bool above_least = false;   ///< quantity: `least` itself is not allowed
  Unit unit = Unit::one;      ///< quantity: the unit of the limits in messages
  SubjectKind subject{};      ///< id
  std::uint32_t targets = 0;  ///< reference(s): bits 1 << SubjectKind
  std::int64_t
      least = 0,
      most = 0;  ///< steps of a quantity, counts, or numbers of references; limits of good sense, not law
  const Words* words = nullptr;
};

enum class Need : bool { optional, required };

struct AttributeRow {
  Form form;
  Need need{};
};

struct ElementRow {
  std::string_view name, meaning;
  std::uint64_t parents = 0;           ///< bits 1 << Element
  Words attributes;                    ///< names and meanings, by position
  std::span<const AttributeRow> rows;  ///< by position
  std::uint64_t required = 0;          ///< bits 1 << position
  std::uint16_t first = 0;  ///< number of its first attribute among all attributes of the vocabulary
};

const ElementRow& row_of(Element element);
/// Names and meanings of all elements, in order of Element.
extern const Words element_words;
/// Attributes of all elements together.
std::size_t attribute_count();

constexpr std::uint64_t bit(Element element) { return std::uint64_t{1} << static_cast<unsigned>(element); }
constexpr bool may_stand_in(const ElementRow& child, Element parent) {
  return (child.parents & bit(parent)) != 0;
}

}  // namespace raceward::document
