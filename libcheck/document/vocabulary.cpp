#include "document/vocabulary.hpp"

namespace raceward::document {
namespace {

using enum SubjectKind;

constexpr std::uint64_t in_nothing = 0;
constexpr std::uint64_t in(Element parent) { return bit(parent); }

constexpr std::uint32_t targets(auto... kinds) { return (0U | ... | (1U << static_cast<unsigned>(kinds))); }
constexpr std::uint32_t areas = targets(area);
constexpr std::uint32_t places = targets(panel, box, conduit_body, equipment, joint);
constexpr std::uint32_t enclosures = targets(panel, box, equipment);
constexpr std::uint32_t raceways = targets(raceway);
constexpr std::uint32_t circuits = targets(circuit);
constexpr std::uint32_t overcurrent_devices = targets(overcurrent_device);
constexpr std::uint32_t devices = targets(device);
constexpr std::uint32_t anything = areas | places | raceways | circuits | overcurrent_devices | devices |
                                   targets(SubjectKind::installation, bonding_jumper);

namespace form {

constexpr Form of(Form::Kind kind) {
  Form f;
  f.kind = kind;
  return f;
}
constexpr Form text() { return of(Form::Kind::text); }
constexpr Form said() { return of(Form::Kind::said); }
constexpr Form word() { return of(Form::Kind::word); }
constexpr Form date() { return of(Form::Kind::date); }
constexpr Form id(SubjectKind subject) {
  Form f = of(Form::Kind::id);
  f.subject = subject;
  return f;
}
constexpr Form reference(std::uint32_t to) {
  Form f = of(Form::Kind::reference);
  f.targets = to;
  return f;
}
constexpr Form references(std::uint32_t to, int least, int most) {
  Form f = of(Form::Kind::references);
  f.targets = to;
  f.least = least;
  f.most = most;
  return f;
}
constexpr Form subject() {
  Form f = of(Form::Kind::subject);
  f.targets = anything;
  return f;
}
constexpr Form conductor_reference() { return of(Form::Kind::conductor_reference); }
constexpr Form conductor_references() { return of(Form::Kind::conductor_references); }
constexpr Form words(const Words& list) {
  Form f = of(Form::Kind::words);
  f.words = &list;
  return f;
}
constexpr Form yes_no() { return words(yes_no_words); }
constexpr Form insulations() {
  Form f = of(Form::Kind::insulations);
  f.words = &insulation_words;
  return f;
}
constexpr Form count(int least, int most) {
  Form f = of(Form::Kind::count);
  f.least = least;
  f.most = most;
  return f;
}

// Limits of good sense: what lies beyond is a slip of the pen. No code has anything to do with them.
template <Dimension D>
constexpr Form quantity(Quantity<D> least, bool above, Quantity<D> most, Unit unit) {
  Form f = of(Form::Kind::quantity);
  f.dimension = D;
  f.above_least = above;
  f.unit = unit;
  f.least = least.count();
  f.most = most.count();
  return f;
}
constexpr Length longest = millimetres(9'000'000);
constexpr Form length() { return quantity(Length{}, true, longest, Unit::metre); }
constexpr Form length_or_zero() { return quantity(Length{}, false, longest, Unit::metre); }
constexpr Form diameter() { return quantity(Length{}, true, millimetres(1000), Unit::millimetre); }
constexpr Form position() {
  Form f = quantity(-longest, false, longest, Unit::metre);
  f.kind = Form::Kind::position;
  return f;
}
constexpr Form cross_section() {  // 1 m2
  return quantity(raceward::Area{}, true, raceward::Area::steps(1'000'000 * 100'000'000LL),
                  Unit::square_centimetre);
}
constexpr Form volume() {  // 8 m3
  return quantity(Volume{}, true, Volume::steps(8'000'000'000LL * 1'000'000), Unit::cubic_centimetre);
}
constexpr Form bend_angle() { return quantity(Angle{}, true, degrees(180), Unit::degree); }
constexpr Form slant_angle() { return quantity(Angle{}, true, degrees(90), Unit::degree); }
constexpr Form current() { return quantity(Current{}, true, amperes(10'000), Unit::ampere); }
constexpr Form current_or_zero() { return quantity(Current{}, false, amperes(10'000), Unit::ampere); }
constexpr Form voltage() { return quantity(Voltage{}, true, volts(100'000), Unit::kilovolt); }
constexpr Form impedance() {  // 1 Mohm
  return quantity(Resistance{}, true, Resistance::steps(1'000'000 * 1'000'000'000LL), Unit::ohm);
}
constexpr Form share() { return quantity(Number{}, true, raceward::number(1), Unit::one); }
constexpr Form power() { return quantity(Power{}, false, Power::steps(100'000'000'000'000), Unit::kilowatt); }
constexpr Form ratio(int most) { return quantity(Number{}, true, number(most), Unit::one); }
constexpr Form temperature() {
  return quantity(Temperature::steps(-90 * 18'000), false, Temperature::steps(150 * 18'000), Unit::celsius);
}

}  // namespace form

constexpr Need optional = Need::optional;
constexpr Need required = Need::required;

constexpr std::uint64_t required_bits(std::span<const AttributeRow> rows) {
  std::uint64_t bits = 0;
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (rows[i].need == Need::required) bits |= std::uint64_t{1} << i;
  return bits;
}

// Names and meanings per element.
#define RACEWARD_ELEMENT(identifier, name, parents, meaning) constexpr Term identifier##_terms[] = {
#define RACEWARD_ATTRIBUTE(identifier, name, form, need, meaning) Term{name, meaning},
#define RACEWARD_END(identifier) \
  }                              \
  ;                              \
  constexpr detail::Table identifier##_table{identifier##_terms};
#include "document/vocabulary.def"
#undef RACEWARD_ELEMENT
#undef RACEWARD_ATTRIBUTE
#undef RACEWARD_END

// Forms per element.
#define RACEWARD_ELEMENT(identifier, name, parents, meaning) constexpr AttributeRow identifier##_rows[] = {
#define RACEWARD_ATTRIBUTE(identifier, name, value, need, meaning) AttributeRow{form::value, need},
#define RACEWARD_END(identifier) \
  }                              \
  ;                              \
  static_assert(std::size(identifier##_rows) <= most_attributes);
#include "document/vocabulary.def"
#undef RACEWARD_ELEMENT
#undef RACEWARD_ATTRIBUTE
#undef RACEWARD_END

// Elements; the first attribute's number is filled in below.
#define RACEWARD_ELEMENT(identifier, name, parents, meaning)             \
  ElementRow{name,                                                       \
             meaning,                                                    \
             parents,                                                    \
             detail::make_words(identifier##_terms, identifier##_table), \
             identifier##_rows,                                          \
             required_bits(identifier##_rows),                           \
             0},
#define RACEWARD_ATTRIBUTE(identifier, name, form, need, meaning)
#define RACEWARD_END(identifier)
constexpr auto element_rows = [] {
  std::array<ElementRow, element_count> rows{
#include "document/vocabulary.def"
  };
  std::uint16_t first = 0;
  for (ElementRow& row : rows) {
    row.first = first;
    first = static_cast<std::uint16_t>(first + row.rows.size());
  }
  return rows;
}();
#undef RACEWARD_ELEMENT

#define RACEWARD_ELEMENT(identifier, name, parents, meaning) Term{name, meaning},
constexpr Term element_terms[] = {
#include "document/vocabulary.def"
};
#undef RACEWARD_ELEMENT
#undef RACEWARD_ATTRIBUTE
#undef RACEWARD_END
constexpr detail::Table element_table{element_terms};

}  // namespace

constexpr Words element_words = detail::make_words(element_terms, element_table);

const ElementRow& row_of(Element element) { return element_rows[static_cast<std::size_t>(element)]; }

std::size_t attribute_count() {
  const ElementRow& last = element_rows.back();
  return last.first + last.rows.size();
}

}  // namespace raceward::document
