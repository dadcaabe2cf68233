#include "facts/shape.hpp"

#include <algorithm>

namespace raceward::facts {
namespace {

using document::Element;
using Form = Holds::Form;

constexpr SubjectKind all_kinds[] = {
    SubjectKind::installation, SubjectKind::area,
    SubjectKind::panel,        SubjectKind::overcurrent_device,
    SubjectKind::box,          SubjectKind::conduit_body,
    SubjectKind::equipment,    SubjectKind::joint,
    SubjectKind::raceway,      SubjectKind::pull_section,
    SubjectKind::circuit,      SubjectKind::conductor,
    SubjectKind::device,       SubjectKind::bonding_jumper,
    SubjectKind::attestation,  SubjectKind::place,
};
static_assert(std::size(all_kinds) == subject_kind_count);

constexpr std::string_view kind_words[] = {
    "installation", "area",           "panel",     "overcurrent-device",
    "box",          "conduit-body",   "equipment", "joint",
    "raceway",      "pull-section",   "circuit",   "conductor",
    "device",       "bonding-jumper", "attest",    "place",
};
static_assert(std::size(kind_words) == subject_kind_count);

constexpr Element place_elements[] = {Element::panel, Element::box, Element::conduit_body, Element::equipment,
                                      Element::joint};

/// Of which the vocabulary says what holds where nothing is said.
struct Default {
  Element element;
  std::string_view attribute, value;
};
constexpr Default defaults[] = {
    {Element::box, "gangs", "1"},
    {Element::conductor, "count", "1"},
    {Element::overcurrent_device, "kind", "circuit-breaker"},
};

std::string_view otherwise_of(Element element, std::string_view attribute) {
  for (const Default& d : defaults) {
    if (d.element == element && d.attribute == attribute) return d.value;
  }
  return {};
}

/// The unit in which people read an amount that somebody else wrote.
Unit shown_in(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return Unit::inch;
    case Dimension::area:
      return Unit::square_inch;
    case Dimension::volume:
      return Unit::cubic_inch;
    case Dimension::angle:
      return Unit::degree;
    case Dimension::current:
      return Unit::ampere;
    case Dimension::voltage:
      return Unit::volt;
    case Dimension::temperature:
      return Unit::celsius;
    case Dimension::power:
      return Unit::watt;
    case Dimension::resistance:
      return Unit::ohm;
    case Dimension::none:
      break;
  }
  return Unit::one;
}

Holds holds_of(const document::Form& form) {
  using Kind = document::Form::Kind;
  if (form.kind == Kind::words) return {Form::word, Dimension::none, Unit::one, form.words};
  if (form.kind == Kind::count) return {Form::count};
  if (form.kind == Kind::quantity) return {Form::amount, form.dimension, shown_in(form.dimension)};
  Holds text;
  if (form.kind == Kind::insulations) text.between = '/';
  if (form.kind == Kind::references || form.kind == Kind::conductor_references) text.between = ' ';
  return text;
}

/// Elements in a box that are left out where there are none; of other parts it is not known then.
bool complete_where_written(Element element) {
  return element == Element::ring || element == Element::cover || element == Element::support_fitting;
}

template <class Row>
const Row* find(const std::vector<Row>& rows, std::string_view name) {
  const auto at = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.name == name; });
  return at == rows.end() ? nullptr : &*at;
}

}  // namespace

Holds holds_of(Unit unit) {
  if (unit == Unit::percent) return {Form::share, Dimension::none, unit};
  if (unit == Unit::one) return {Form::number};
  return {Form::amount, dimension_of(unit), unit};
}

Holds holds_of(const DeclaredFact& fact) {
  if (fact.kind == DeclaredFact::Kind::quantity) return holds_of(fact.unit);
  if (fact.kind == DeclaredFact::Kind::yes_no)
    return {Form::word, Dimension::none, Unit::one, &document::yes_no_words};
  return {};
}

const FactRow* Shape::fact(std::string_view fact) const { return find(facts, fact); }
const ChildRow* Shape::child(std::string_view child) const { return find(children, child); }
const figure::Info* Shape::figure(std::string_view figure) const {
  for (const figure::Info* info : figures) {
    if (info->name == figure) return info;
  }
  return nullptr;
}

Shape& Shapes::make(std::string_view name, std::string_view about) {
  Shape& shape = *all_.emplace_back(std::make_unique<Shape>());
  shape.name = name;
  shape.about = about;
  return shape;
}

void Shapes::written(Shape& shape, Element element, bool children) {
  const document::ElementRow& row = document::row_of(element);
  for (std::size_t i = 0; i < row.rows.size(); ++i) {
    const document::Term& term = row.attributes.terms[i];
    const document::Form& form = row.rows[i].form;
    if (form.kind == document::Form::Kind::position) {
      for (const std::string_view axis : {"x", "y", "z"}) {
        if (shape.fact(axis) == nullptr)
          shape.facts.push_back({axis, {Form::amount, Dimension::length, Unit::inch}, {}, term.meaning});
      }
      continue;
    }
    const Holds holds = holds_of(form);
    const auto same = std::find_if(shape.facts.begin(), shape.facts.end(),
                                   [&](const FactRow& f) { return f.name == term.spelling; });
    if (same == shape.facts.end()) {
      shape.facts.push_back({term.spelling, holds, otherwise_of(element, term.spelling), term.meaning});
    } else if (same->holds.form != holds.form || same->holds.words != holds.words) {
      same->holds = {};  // of several kinds of places that call different things so
    }
  }
  if (!children) return;
  for (std::size_t i = 0; i < document::element_count; ++i) {
    const auto part = static_cast<Element>(i);
    const document::ElementRow& part_row = document::row_of(part);
    if (!document::may_stand_in(part_row, element) || shape.child(part_row.name) != nullptr) continue;
    const bool is_end = part == Element::end;
    if (part == Element::overcurrent_device || part == Element::conductor) {
      Shape& subject = *subjects_[static_cast<std::size_t>(
          part == Element::conductor ? SubjectKind::conductor : SubjectKind::overcurrent_device)];
      shape.children.push_back({part_row.name, From::written, &subject, true, false, part_row.meaning});
      continue;
    }
    Shape* made = nullptr;
    for (const auto& each : all_) {
      if (!each->is_subject && each->about == part_row.meaning && each->name == part_row.name)
        made = each.get();
    }
    if (made == nullptr) {
      made = &make(part_row.name, part_row.meaning);
      written(*made, part, true);
    }
    if (is_end) end_ = made;
    shape.children.push_back({part_row.name, is_end ? From::ends : From::written, made, true,
                              is_end || complete_where_written(part), part_row.meaning});
  }
}

void Shapes::join(Shape& shape, std::string_view name, From from, const Shape& to, bool many, bool complete,
                  std::string_view about) {
  shape.children.push_back({name, from, &to, many, complete, about});
}

void Shapes::joins_of_place(Shape& shape) {
  join(shape, "area", From::area, *area_, false, false, "The area where it is.");
  join(shape, "raceway", From::raceways, *raceway_, true, true, "Each raceway that enters it.");
  join(shape, "device", From::devices, *device_, true, true, "Each device in it.");
  join(shape, "circuit", From::circuits, *circuit_, true, true, "Each circuit that stops at it.");
}

void Shapes::joins() {
  const auto of_kind = [&](SubjectKind kind) -> Shape& { return *subjects_[static_cast<std::size_t>(kind)]; };
  for (const SubjectKind kind : all_kinds) {
    if (is_place(kind)) joins_of_place(of_kind(kind));
  }
  Shape& device = of_kind(SubjectKind::overcurrent_device);
  join(device, "panel", From::panel, *panel_, false, true, "The panel that it stands in.");
  join(device, "circuit", From::circuits, *circuit_, true, true, "Each circuit that comes from it.");

  Shape& raceway = of_kind(SubjectKind::raceway);
  join(raceway, "area", From::area, *area_, false, false, "The area that it runs through.");
  join(raceway, "circuit", From::circuits, *circuit_, true, true, "Each circuit that passes it.");
  join(raceway, "conductor", From::conductors, *conductor_, true, true, "Each conductor that lies in it.");
  join(*end_, "place", From::place, *place_, false, true, "The place that it enters.");

  join(of_kind(SubjectKind::pull_section), "raceway", From::raceways, *raceway_, true, true,
       "Each raceway of it, in order.");

  Shape& circuit = of_kind(SubjectKind::circuit);
  join(circuit, "overcurrent-device", From::overcurrent_device, *overcurrent_device_, false, false,
       "The overcurrent device that it comes from.");
  join(circuit, "raceway", From::raceways, *raceway_, true, true, "Each raceway that it passes.");
  join(circuit, "device", From::devices, *device_, true, true, "Each device on it.");
  join(*circuit_, "overcurrent-device", From::overcurrent_device, *overcurrent_device_, false, false,
       "The overcurrent device that it comes from.");

  join(of_kind(SubjectKind::conductor), "circuit", From::circuits, *circuit_, false, true,
       "The circuit that it belongs to.");

  Shape& outlet = of_kind(SubjectKind::device);
  join(outlet, "place", From::place, *place_, false, true, "The box, panel or equipment that it is in.");
  join(outlet, "circuit", From::circuits, *circuit_, true, false, "Each circuit on it.");

  join(*raceway_, "area", From::area, *area_, false, false, "The area that it runs through.");
  join(*place_, "area", From::area, *area_, false, false, "The area where it is.");
  for (const SubjectKind kind : all_kinds) {
    if (kind == SubjectKind::pull_section || kind == SubjectKind::conductor ||
        kind == SubjectKind::attestation)
      continue;
    join(of_kind(kind), "fact", From::stated, *fact_, true, false, fact_->about);
  }
  for (const SubjectKind kind : all_kinds) {
    if (kind == SubjectKind::installation) continue;
    join(of_kind(kind), "installation", From::installation, *installation_, false, true,
         "The installation that it is part of.");
    if (kind == SubjectKind::pull_section || kind == SubjectKind::conductor ||
        kind == SubjectKind::attestation)
      continue;
    join(of_kind(kind), "attest", From::attests, *attest_, true, false, "What is attested of it.");
  }
  Shape& whole = of_kind(SubjectKind::installation);
  for (const SubjectKind kind : all_kinds) {
    if (kind == SubjectKind::installation || kind == SubjectKind::place || kind == SubjectKind::conductor ||
        kind == SubjectKind::overcurrent_device)
      continue;
    join(whole, word_of(kind), From::kind, of_kind(kind), true, kind != SubjectKind::attestation,
         of_kind(kind).about);
  }
}

Shapes::Shapes() {
  for (const SubjectKind kind : all_kinds) {
    Shape& shape = make(word_of(kind), {});
    shape.subject = kind;
    shape.is_subject = true;
    shape.is_stated_of = kind != SubjectKind::pull_section && kind != SubjectKind::conductor &&
                         kind != SubjectKind::attestation && kind != SubjectKind::place;
    subjects_[static_cast<std::size_t>(kind)] = &shape;
    for (const figure::Info& info : figure::all()) {
      if (info.subject == kind || (info.subject == SubjectKind::place && is_place(kind)))
        shape.figures.push_back(&info);
    }
  }
  const auto alone = [&](Element element) -> Shape* {
    Shape& shape = make(document::row_of(element).name, document::row_of(element).meaning);
    written(shape, element, false);
    return &shape;
  };
  const auto stated = [&](Element element, SubjectKind kind) {
    Shape* const shape = alone(element);
    shape->subject = kind;
    shape->is_stated_of = true;
    return shape;
  };
  installation_ = stated(Element::installation, SubjectKind::installation);
  area_ = stated(Element::area, SubjectKind::area);
  panel_ = stated(Element::panel, SubjectKind::panel);
  raceway_ = stated(Element::raceway, SubjectKind::raceway);
  raceway_->figures = {&figure::info(figure::Id::raceway_length)};  // documents may give its parts alone
  circuit_ = stated(Element::circuit, SubjectKind::circuit);
  written(*circuit_, Element::wiring, false);  // wiring outside any circuit is one of its own kind
  device_ = stated(Element::device, SubjectKind::device);
  conductor_ = alone(Element::conductor);
  conductor_->facts.push_back({"circuit", {}, {}, "Id of the circuit that it belongs to."});
  overcurrent_device_ = stated(Element::overcurrent_device, SubjectKind::overcurrent_device);
  attest_ = alone(Element::attest);
  fact_ = alone(Element::fact);
  place_ = &make("place", "A panel, box, conduit body, equipment or joint.");
  for (const Element element : place_elements) written(*place_, element, false);
  for (FactRow& row : place_->facts) row.otherwise = {};  // holds for one kind of them only
  place_->facts.push_back({"element", {}, {}, "What it is: panel, box, conduit-body, equipment or joint."});

  const auto full = [&](SubjectKind kind, Element element) {
    Shape& shape = *subjects_[static_cast<std::size_t>(kind)];
    shape.about = document::row_of(element).meaning;
    if (kind == SubjectKind::installation)
      written(shape, element, false);
    else
      written(shape, element, true);
  };
  full(SubjectKind::conductor, Element::conductor);
  full(SubjectKind::overcurrent_device, Element::overcurrent_device);
  full(SubjectKind::installation, Element::installation);
  full(SubjectKind::area, Element::area);
  full(SubjectKind::panel, Element::panel);
  full(SubjectKind::box, Element::box);
  full(SubjectKind::conduit_body, Element::conduit_body);
  full(SubjectKind::equipment, Element::equipment);
  full(SubjectKind::joint, Element::joint);
  full(SubjectKind::raceway, Element::raceway);
  full(SubjectKind::circuit, Element::circuit);
  written(*subjects_[static_cast<std::size_t>(SubjectKind::circuit)], Element::wiring, false);
  full(SubjectKind::device, Element::device);
  full(SubjectKind::bonding_jumper, Element::bonding_jumper);
  full(SubjectKind::attestation, Element::attest);
  Shape& place = *subjects_[static_cast<std::size_t>(SubjectKind::place)];
  place.about = place_->about;
  place.facts = place_->facts;
  Shape& section = *subjects_[static_cast<std::size_t>(SubjectKind::pull_section)];
  section.about = "Raceways between two pull points.";
  section.facts = {{"id", {}, {}, "Made of the ids of its raceways."},
                   {"from", {}, {}, "Id of the pull point at one end."},
                   {"to", {}, {}, "Id of the pull point at the other end."}};
  end_->facts.push_back({"side", {}, {}, "from or to: which end of the raceway it is."});
  joins();
}

std::string_view word_of(SubjectKind kind) { return kind_words[static_cast<std::size_t>(kind)]; }

SubjectKind kind_of(std::string_view word) {
  const auto at = std::find(std::begin(kind_words), std::end(kind_words), word);
  return static_cast<SubjectKind>(at - std::begin(kind_words));
}

std::string_view expected(const Holds& holds) {
  switch (holds.form) {
    case Form::text:
      return "a text";
    case Form::word:
      return holds.words == &document::yes_no_words ? "yes or no" : "a word of its list";
    case Form::count:
      return "a whole number";
    case Form::number:
    case Form::share:
      return "a number";
    case Form::amount:
      break;
  }
  switch (holds.dimension) {
    case Dimension::length:
      return "a length such as 36in";
    case Dimension::area:
      return "an area such as 2in2";
    case Dimension::volume:
      return "a volume such as 21in3";
    case Dimension::angle:
      return "an angle such as 90deg";
    case Dimension::current:
      return "a current such as 20A";
    case Dimension::voltage:
      return "a voltage such as 120V";
    case Dimension::temperature:
      return "a temperature such as 30C";
    case Dimension::power:
      return "a power such as 1500W";
    case Dimension::resistance:
      return "a resistance such as 5ohm";
    case Dimension::none:
      break;
  }
  return "a number";
}

std::string_view scale_of(const Holds& holds) {
  switch (holds.form) {
    case Form::text:
      return "text";
    case Form::word:
      return "one of its words";
    case Form::count:
      return "whole number";
    case Form::number:
      return "number";
    case Form::share:
      return "billionths";
    case Form::amount:
      break;
  }
  switch (holds.dimension) {
    case Dimension::length:
      return "pm";
    case Dimension::area:
      return "1/100000000 mm2";
    case Dimension::volume:
      return "1/1000000 mm3";
    case Dimension::angle:
      return "1/1000000 degree";
    case Dimension::current:
      return "uA";
    case Dimension::voltage:
      return "uV";
    case Dimension::temperature:
      return "1/18000 K from 0 degrees Celsius";
    case Dimension::power:
      return "uW";
    case Dimension::resistance:
      return "nOhm";
    case Dimension::none:
      break;
  }
  return "number";
}

}  // namespace raceward::facts
