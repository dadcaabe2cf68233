#include "document/builder.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/census.hpp"
#include "document/each_child.hpp"
#include "document/nearest.hpp"

namespace raceward::document {

using installation::none;

Builder::Builder(installation::Model& model, Faults& faults)
    : model_(model), faults_(faults), reader_(model.bytes.data(), faults), kinds_(model.conductor_kinds) {
  reserve();
}

// Room for what the file seems to hold. A file that only looks full of large things gets no more than twice
// its size for each of them.
void Builder::reserve() {
  const Census census = count_elements(model_.bytes);
  const auto count = [&](auto... elements) {
    return (std::size_t{0} + ... + census[static_cast<std::size_t>(elements)]);
  };
  const auto room = [&]<class T>(std::vector<T>& vector, std::size_t n) {
    n = std::min(n, 2 * model_.bytes.size() / sizeof(T));
    reserve_large(vector, n);
    ahead_.add(vector.data(), n * sizeof(T));
  };
  using enum Element;
  room(model_.areas, count(Element::area));
  room(model_.places,
       count(Element::panel, Element::box, Element::conduit_body, Element::equipment, Element::joint));
  room(model_.covers, count(ring, Element::cover));
  room(model_.spacings, count(Element::spacing));
  room(model_.support_fittings, count(support_fitting));
  room(model_.overcurrent_devices, count(Element::overcurrent_device));
  room(model_.raceways, count(Element::raceway));
  room(model_.pieces, count(straight, bend, offset, saddle, coupling, expansion));
  room(model_.points, count(Element::point));
  room(model_.supports, count(Element::support));
  room(model_.conductors, count(Element::conductor));
  room(model_.runs, count(Element::run));
  room(model_.stops, count(Element::stop));
  room(model_.circuits, count(Element::circuit, wiring));
  room(model_.devices, count(Element::device));
  room(model_.device_circuits, count(Element::device));
  room(model_.bonding_jumpers, count(Element::bonding_jumper));
  room(model_.attestations, count(attest));
  room(model_.facts, count(Element::fact));
  const std::size_t places = model_.places.capacity();
  room(pending_, places + 3 * model_.raceways.capacity() + model_.stops.capacity() +
                     model_.circuits.capacity() + 2 * model_.devices.capacity());
}

bool Builder::root(const Written& written) {
  const WrittenElement& root = written.elements[0];
  reader_.of(written);
  if (!reader_.root(root)) return false;
  reader_.attributes(root, fields_);
  model_.source = fields_.source;
  model_.element_count = 1;
  fields_.read(at::installation::id, model_.id);
  fields_.read(at::installation::name, model_.name);
  fields_.read(at::installation::ruleset, model_.ruleset);
  fields_.read(at::installation::occupancy, model_.occupancy);
  fields_.read(at::installation::permit_date, model_.permit_date);
  return true;
}

void Builder::children(const Written& written) {
  reader_.of(written);
  const WrittenElement* const end = written.elements.data() + written.elements.size();
  for (const WrittenElement* child = written.elements.data(); child != end; child += child->span)
    one_child(*child, Element::installation,
              [&](const WrittenElement& found, Element element) { child_of_root(found, element); });
}

void Builder::child_of_root(const WrittenElement& node, Element element) {
  switch (element) {
    case Element::area:
      area();
      break;
    case Element::panel:
      panel(node);
      break;
    case Element::box:
      box(node);
      break;
    case Element::conduit_body:
      conduit_body(node);
      break;
    case Element::equipment:
      equipment();
      break;
    case Element::joint:
      joint();
      break;
    case Element::raceway:
      raceway(node);
      break;
    case Element::circuit:
    case Element::wiring:
      circuit(node, element);
      break;
    case Element::device:
      device();
      break;
    case Element::bonding_jumper:
      bonding_jumper();
      break;
    case Element::attest:
      attestation();
      break;
    case Element::fact:
      stated_fact();
      break;
    case Element::waiver:
      waiver();
      break;
    default:
      return;
  }
  // Elements that hold nothing are seen to hold nothing; the others look themselves.
  constexpr std::uint64_t hold_some = bit(Element::panel) | bit(Element::box) | bit(Element::conduit_body) |
                                      bit(Element::raceway) | bit(Element::circuit) | bit(Element::wiring);
  if ((hold_some & bit(element)) == 0) each_child(node, element, [](const WrittenElement&, Element) {});
}

void Builder::misplaced(const WrittenElement& node, Element parent) {
  const Element element = node.element;
  const Offset at = reader_.offset(node.name_at);
  gaps_ = true;
  if (faults_.full()) return faults_.count();
  if (element == Element::unknown && !reader_.has_prefix(node)) {
    faults_.add(at, fmt::format("<{}> lacks the prefix that the root element has; write <{}{}>",
                                shown(node.name()), shown(reader_.prefix()), shown(node.name())));
    return;
  }
  if (element == Element::unknown) {
    std::vector<Term> near;
    for (std::size_t i = 0; i < element_count; ++i)
      if (may_stand_in(row_of(static_cast<Element>(i)), parent)) near.push_back(element_words.terms[i]);
    const std::string advice = near.empty() ? fmt::format("; <{}> holds no elements", row_of(parent).name)
                                            : suggestion(node.name(), near);
    faults_.add(
        at, fmt::format("unknown element <{}> in <{}>{}", shown(node.name()), row_of(parent).name, advice));
    return;
  }
  std::vector<Term> parents;
  for (std::size_t i = 0; i < element_count; ++i)
    if (may_stand_in(row_of(element), static_cast<Element>(i))) parents.push_back(element_words.terms[i]);
  faults_.add(at, fmt::format("<{}> cannot stand in <{}>{}", row_of(element).name, row_of(parent).name,
                              parents.empty() ? std::string("; it is the root element")
                                              : fmt::format("; it belongs in {}", listed(parents, "or"))));
}

void Builder::link(Link link, Index owner, unsigned position) {
  const std::string_view id = fields_.text(position);
  if (id.empty()) return;
  pending_.push_back({id.data(), static_cast<std::uint32_t>(id.size()), owner, fields_.source, link});
}

installation::Range Builder::link_all(Link link, std::vector<Index>& into, unsigned position) {
  installation::Range range{static_cast<Index>(into.size()), 0};
  std::string_view ids = fields_.text(position);
  for (std::string_view id = take_word(ids); !id.empty(); id = take_word(ids)) {
    pending_.push_back({id.data(), static_cast<std::uint32_t>(id.size()), static_cast<Index>(into.size()),
                        fields_.source, link});
    into.push_back(none);
    ++range.count;
  }
  return range;
}

void Builder::finish(unsigned threads) {
  model_.usage = reader_.usage();
  join(model_, pending_, faults_, threads);
  check_links(model_, faults_);
  check_feeds(model_, faults_);
}

bool Builder::can_derive() const {
  const auto known = [](Index i) { return i != none; };
  return !gaps_ &&
         std::all_of(model_.raceways.begin(), model_.raceways.end(),
                     [&](const installation::Raceway& r) {
                       return known(r.ends[0].place) && known(r.ends[1].place) &&
                              r.ends[0].place != r.ends[1].place;
                     }) &&
         std::all_of(model_.stops.begin(), model_.stops.end(),
                     [&](const installation::Stop& s) { return known(s.place); }) &&
         std::all_of(model_.via.begin(), model_.via.end(), known);
}

void Builder::fault(Offset element, std::string_view attribute, std::string message) {
  faults_.add(installation::locate_attribute(model_, element, attribute), std::move(message));
}

}  // namespace raceward::document
