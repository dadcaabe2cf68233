// The figures document as a form: which elements there are, which facts and figures each bears, and what is
// joined to it.
//
// Made from the vocabulary of documents and the list of figures, so that nothing that either gains is left
// out. Data rules are checked against it, the document is written by it, and its schema and its page are
// written from it.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "document/vocabulary.hpp"
#include "figure/figure.hpp"

namespace raceward::facts {

inline constexpr std::string_view facts_namespace = "urn:raceward:figures:1";

/// Of attributes that tell people what an amount is: said:length="36 in".
inline constexpr std::string_view said_namespace = "urn:raceward:figures:1:said";

/// What a fact or a figure holds, as text in the document.
struct Holds {
  enum class Form : std::uint8_t {
    text,    ///< free, or ids
    word,    ///< one of `words`
    count,   ///< a whole number
    number,  ///< a pure number with decimals, or without
    amount,  ///< steps of a dimension, a whole number
    share,   ///< billionths, a whole number
  };
  Form form = Form::text;
  Dimension dimension = Dimension::none;
  Unit unit = Unit::one;  ///< in which reports show it
  const document::Words* words = nullptr;
  char between = 0;  ///< of a text that may hold several: what stands between them

  [[nodiscard]] bool is_number() const { return form != Form::text && form != Form::word; }
};
/// A figure's or a parameter's, by its unit.
Holds holds_of(Unit unit);
/// Of a fact that a ruleset declares.
Holds holds_of(const DeclaredFact& fact);

/// An attribute of an element of the figures document.
struct FactRow {
  std::string_view name;
  Holds holds;
  std::string_view otherwise{};  ///< what it is where the document says nothing; empty: unknown then
  std::string_view about{};
};

struct Shape;

/// Where the elements within an element come from.
enum class From : std::uint8_t {
  kind,                ///< all of a kind: of the installation
  installation,        ///< that it is part of
  written,             ///< as written in the element
  ends,                ///< the two ends of a raceway
  place,               ///< that an end, or a device, is at
  area,                ///< that it is in
  panel,               ///< that an overcurrent device stands in
  overcurrent_device,  ///< that a circuit comes from
  raceways,            ///< that enter a place, that a circuit passes, that a pull section has
  devices,             ///< that are in a place, that hang on a circuit
  circuits,            ///< that visit a place, pass a raceway, come from a device, hang on a device
  conductors,          ///< that lie in a raceway
  attests,             ///< that are about it
  stated,              ///< what a local code asks to know of it
};

struct ChildRow {
  std::string_view name;
  From from{};
  const Shape* shape = nullptr;
  bool many = true;
  /// Where there is none, it is known that there is none. Of others that is unknown, but where the document
  /// says so.
  bool complete = false;
  std::string_view about{};
};

/// An element of the figures document.
struct Shape {
  std::string_view name;
  std::string_view about;
  SubjectKind subject = SubjectKind::installation;  ///< of what it speaks, where it is one of the two below
  bool is_subject = false;                          ///< rules can be about it: it bears all figures and joins
  bool is_stated_of = false;                        ///< rulesets can declare facts of it
  std::vector<FactRow> facts;
  std::vector<ChildRow> children;
  std::vector<const figure::Info*> figures;

  [[nodiscard]] const FactRow* fact(std::string_view fact) const;
  [[nodiscard]] const ChildRow* child(std::string_view child) const;
  [[nodiscard]] const figure::Info* figure(std::string_view figure) const;
};

/// All of them. Made anew by whoever needs them, which costs little, and kept as long as rows are used.
class Shapes {
 public:
  Shapes();
  Shapes(const Shapes&) = delete;
  Shapes& operator=(const Shapes&) = delete;

  [[nodiscard]] const Shape& of(SubjectKind kind) const { return *subjects_[static_cast<std::size_t>(kind)]; }
  /// Each, those of subjects first.
  [[nodiscard]] const std::vector<std::unique_ptr<Shape>>& all() const { return all_; }

 private:
  Shape& make(std::string_view name, std::string_view about);
  /// Attributes of an element of documents, and the elements that are written in it.
  void written(Shape& shape, document::Element element, bool children);
  void join(Shape& shape, std::string_view name, From from, const Shape& to, bool many, bool complete,
            std::string_view about);
  void joins_of_place(Shape& shape);
  void joins();

  std::vector<std::unique_ptr<Shape>> all_;
  std::array<Shape*, subject_kind_count> subjects_{};
  // What is joined: facts, and the length of raceways, so that the document stays linear in the installation.
  Shape *installation_ = nullptr, *area_ = nullptr, *place_ = nullptr, *raceway_ = nullptr,
        *circuit_ = nullptr, *device_ = nullptr, *conductor_ = nullptr, *overcurrent_device_ = nullptr,
        *panel_ = nullptr, *attest_ = nullptr, *fact_ = nullptr, *end_ = nullptr;
};

/// "pull-section": a kind of subject as data rules and the document write it.
std::string_view word_of(SubjectKind kind);
/// The kind of that word; SubjectKind(subject_kind_count) where there is none.
SubjectKind kind_of(std::string_view word);

/// "a length such as 36in": what a document is to state, for who lacks it.
std::string_view expected(const Holds& holds);
/// "in steps of 1 pm": how a number is written.
std::string_view scale_of(const Holds& holds);

}  // namespace raceward::facts
