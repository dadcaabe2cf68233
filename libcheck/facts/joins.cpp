#include "facts/joins.hpp"

#include <algorithm>

#include "facts/relations.hpp"
#include "figure/devices_by_box.hpp"

namespace raceward::facts {

using namespace installation;
using document::Element;

namespace {

Element element_of(const Model& model, Subject subject) {
  switch (subject.kind) {
    case SubjectKind::installation:
      return Element::installation;
    case SubjectKind::area:
      return Element::area;
    case SubjectKind::overcurrent_device:
      return Element::overcurrent_device;
    case SubjectKind::raceway:
      return Element::raceway;
    case SubjectKind::circuit:
      return model.circuits[subject.index].kind == CircuitKind::other ? Element::wiring : Element::circuit;
    case SubjectKind::conductor:
      return Element::conductor;
    case SubjectKind::device:
      return Element::device;
    case SubjectKind::bonding_jumper:
      return Element::bonding_jumper;
    case SubjectKind::attestation:
      return Element::attest;
    case SubjectKind::pull_section:
      return Element::unknown;
    default:
      break;
  }
  switch (model.places[subject.index].kind) {
    case PlaceKind::panel:
      return Element::panel;
    case PlaceKind::box:
      return Element::box;
    case PlaceKind::conduit_body:
      return Element::conduit_body;
    case PlaceKind::equipment:
      return Element::equipment;
    case PlaceKind::joint:
      return Element::joint;
    case PlaceKind::unstated:
      break;
  }
  return Element::unknown;
}

Index area_of(const Model& model, Subject s) {
  if (is_place(s.kind)) return model.places[s.index].area;
  if (s.kind == SubjectKind::raceway) return model.raceways[s.index].area;
  return none;
}

Knowledge unless(MissingId open) { return {open == 0, open}; }

bool is_ring(Cover::Kind kind) {
  return kind == Cover::Kind::plaster_ring || kind == Cover::Kind::extension_ring;
}

}  // namespace

Joins::Joins(figure::Evaluation& e) : e_(e), model_(e.model) {
  of_panel_ = lists_of(model_.places.size(), [&](auto put) {
    for (Index i = 0; i < model_.overcurrent_devices.size(); ++i) put(model_.overcurrent_devices[i].panel, i);
  });
  from_device_ = lists_of(model_.overcurrent_devices.size(), [&](auto put) {
    for (Index i = 0; i < model_.circuits.size(); ++i) {
      if (model_.circuits[i].overcurrent_device != none) put(model_.circuits[i].overcurrent_device, i);
    }
  });
  on_circuit_ = lists_of(model_.circuits.size(), [&](auto put) {
    for (Index i = 0; i < model_.devices.size(); ++i) {
      const Range range = model_.devices[i].circuits;
      for (Index at = range.first; at < range.end(); ++at) put(model_.device_circuits[at], i);
    }
  });
  runs_ = lists_of(model_.circuits.size(), [&](auto put) {
    for (Index i = 0; i < model_.runs.size(); ++i) put(model_.runs[i].circuit, i);
  });
  for (Index i = 0; i < model_.attestations.size(); ++i) attested_[model_.attestations[i].of].push_back(i);
  for (Index i = 0; i < model_.facts.size(); ++i) stated_[model_.facts[i].of].push_back(i);
}

Node Joins::node(Subject subject) const {
  return {element_of(model_, subject), subject.index, offset_of(model_, e_.in.sections, subject), subject};
}

void Joins::add(std::vector<Index>& found, SubjectKind kind, std::vector<Node>& out) const {
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  for (const Index i : found) {
    if (i == none) continue;
    const SubjectKind own = kind == SubjectKind::place ? subject_kind(model_.places[i].kind) : kind;
    out.push_back(node({own, i}));
  }
}

Knowledge Joins::all(SubjectKind kind, std::vector<Node>& out) const {
  for (const Subject s : subjects_of(model_, e_.in.sections, kind)) out.push_back(node(s));
  return {};
}

Knowledge Joins::pieces(const Node& node, PieceKind kind, Element element, std::vector<Node>& out) const {
  const Raceway& raceway = model_.raceways[node.index];
  for (Index i = raceway.pieces.first; i < raceway.pieces.end(); ++i) {
    const Piece& piece = model_.pieces[i];
    if (piece.kind == kind) out.push_back({element, i, piece.source, node.subject});
  }
  const bool no_coupling = element == Element::coupling && raceway.unbroken == YesNo::yes;
  return {raceway.pieces.count > 0 || no_coupling, 0};
}

Knowledge Joins::written(const Node& node, const ChildRow& row, std::vector<Node>& out) const {
  const auto part = static_cast<Element>(document::element_words.find(row.name) - 1);
  const std::size_t before = out.size();
  const auto each = [&](Range range, auto& from, auto&& wanted) {
    for (Index i = range.first; i < range.end(); ++i) {
      if (wanted(from[i])) out.push_back({part, i, from[i].source, node.subject});
    }
    return Knowledge{row.complete || out.size() > before, 0};
  };
  const auto any = [](const auto&) { return true; };
  switch (part) {
    case Element::ring:
      return each(model_.places[node.index].covers, model_.covers,
                  [](const Cover& c) { return is_ring(c.kind); });
    case Element::cover:
      return each(model_.places[node.index].covers, model_.covers,
                  [](const Cover& c) { return !is_ring(c.kind); });
    case Element::spacing:
      return each(model_.places[node.index].spacings, model_.spacings, any);
    case Element::support_fitting:
      return each(model_.places[node.index].support_fittings, model_.support_fittings, any);
    case Element::straight:
      return pieces(node, PieceKind::straight, part, out);
    case Element::bend:
      return pieces(node, PieceKind::bend, part, out);
    case Element::offset:
      return pieces(node, PieceKind::offset, part, out);
    case Element::saddle:
      return pieces(node, PieceKind::saddle, part, out);
    case Element::coupling:
      return pieces(node, PieceKind::coupling, part, out);
    case Element::expansion:
      return pieces(node, PieceKind::expansion, part, out);
    case Element::point:
      return each(model_.raceways[node.index].points, model_.points, any);
    case Element::support: {
      const Knowledge some = each(model_.raceways[node.index].supports, model_.supports, any);
      return {some.known || model_.raceways[node.index].supports_none == YesNo::yes, 0};
    }
    case Element::run: {
      std::vector<Index> runs(runs_.at(node.index).begin(), runs_.at(node.index).end());
      for (const Index i : runs) out.push_back({part, i, model_.runs[i].source, node.subject});
      return {!runs.empty(), 0};
    }
    case Element::stop:
      return each(model_.runs[node.index].stops, model_.stops, any);
    case Element::conductor: {
      const Range range = model_.circuits[node.index].conductors;
      for (Index i = range.first; i < range.end(); ++i)
        out.push_back({part, i, model_.conductors[i].source, {SubjectKind::conductor, i}});
      return {range.count > 0, 0};
    }
    case Element::overcurrent_device: {
      for (const Index i : of_panel_.at(node.index))
        out.push_back({part, i, model_.overcurrent_devices[i].source, {SubjectKind::overcurrent_device, i}});
      return unless(devices_open(e_, node.index));
    }
    default:
      break;
  }
  return {false, 0};
}

void Joins::ends(const Node& node, std::vector<Node>& out) const {
  for (Index i = 0; i < 2; ++i) {  // from and to
    const RacewayEnd& end = model_.raceways[node.index].ends[i];
    out.push_back({Element::end, i, end.source, node.subject});
  }
}

Knowledge Joins::place(const Node& node, std::vector<Node>& out) const {
  const Index at = node.element == Element::end ? model_.raceways[node.subject.index].ends[node.index].place
                                                : model_.devices[node.index].box;
  out.push_back(this->node({subject_kind(model_.places[at].kind), at}));
  return {};
}

Knowledge Joins::area(const Node& node, std::vector<Node>& out) const {
  const Index area = area_of(model_, node.subject);
  if (area == none) return {false, 0};
  out.push_back(this->node({SubjectKind::area, area}));
  return {};
}

Knowledge Joins::raceways(const Node& node, std::vector<Node>& out) {
  found_.clear();
  Knowledge knowledge;
  if (node.subject.kind == SubjectKind::pull_section) {
    const Range range = e_.in.sections.sections[node.index].raceways;
    for (Index i = range.first; i < range.end(); ++i)
      out.push_back(this->node({SubjectKind::raceway, e_.in.sections.raceways[i]}));
    return {};
  }
  if (node.subject.kind == SubjectKind::circuit) {
    knowledge = unless(ways_open(e_, node.subject));
    for (const Index run : runs_.at(node.index)) {
      const Range hops = e_.in.routes.run_hops[run];
      for (Index i = hops.first; i < hops.end(); ++i) found_.push_back(e_.in.routes.hops[i].raceway);
    }
  } else {
    for (const Adjacent& next : e_.in.graph.at(node.index)) found_.push_back(next.raceway);
  }
  add(found_, SubjectKind::raceway, out);
  return knowledge;
}

Knowledge Joins::devices(const Node& node, std::vector<Node>& out) {
  const bool of_circuit = node.subject.kind == SubjectKind::circuit;
  const auto list = of_circuit ? on_circuit_.at(node.index) : figure::devices_in(e_, node.index);
  found_.assign(list.begin(), list.end());
  add(found_, SubjectKind::device, out);
  if (!of_circuit) return {};
  return unless(e_.missing.both(loads_open(e_, node.index), outlets_open_on(e_, node.index)));
}

Knowledge Joins::circuits(const Node& node, std::vector<Node>& out) {
  found_.clear();
  Knowledge knowledge;
  const Subject s = node.subject;
  if (s.kind == SubjectKind::overcurrent_device) {
    const auto list = from_device_.at(s.index);
    found_.assign(list.begin(), list.end());
    knowledge = unless(protected_open(e_, s.index));
  } else if (s.kind == SubjectKind::conductor) {
    found_.push_back(model_.conductors[s.index].circuit);
  } else if (s.kind == SubjectKind::device) {
    const Range range = model_.devices[s.index].circuits;
    for (Index i = range.first; i < range.end(); ++i) found_.push_back(model_.device_circuits[i]);
    knowledge.known = range.count > 0;
  } else if (s.kind == SubjectKind::raceway) {
    for (const Index run : e_.in.routes.runs_in(s.index)) found_.push_back(model_.runs[run].circuit);
    knowledge = unless(ways_open(e_, s));
  } else {
    for (const Visit& visit : e_.in.routes.visits_at(s.index)) {
      if (visit.stop != none) found_.push_back(model_.runs[visit.run].circuit);
    }
    if (s.kind == SubjectKind::panel) knowledge = unless(devices_open(e_, s.index));
  }
  add(found_, SubjectKind::circuit, out);
  return knowledge;
}

Knowledge Joins::conductors(const Node& node, std::vector<Node>& out) {
  found_.clear();
  for (const Index run : e_.in.routes.runs_in(node.index)) {
    const Range range = model_.runs[run].conductors;
    for (Index i = range.first; i < range.end(); ++i) found_.push_back(model_.run_conductors[i]);
  }
  add(found_, SubjectKind::conductor, out);
  return unless(ways_open(e_, node.subject));
}

Knowledge Joins::attests(const Node& node, std::vector<Node>& out) const {
  const std::string id = id_of(model_, e_.in.sections, node.subject);
  const auto found = attested_.find(std::string_view(id));
  if (found == attested_.end()) return {false, 0};
  for (const Index i : found->second) out.push_back(this->node({SubjectKind::attestation, i}));
  return {};
}

Knowledge Joins::stated(const Node& node, std::vector<Node>& out) const {
  const std::string id = id_of(model_, e_.in.sections, node.subject);
  const auto found = stated_.find(std::string_view(id));
  if (found == stated_.end()) return {false, 0};
  for (const Index i : found->second) out.push_back({Element::fact, i, model_.facts[i].source, node.subject});
  return {};
}

Knowledge Joins::children(const Node& node, const ChildRow& row, std::vector<Node>& out) {
  switch (row.from) {
    case From::kind: {
      const std::size_t before = out.size();
      all(row.shape->subject, out);
      if (row.shape->subject == SubjectKind::device) return unless(all_outlets_open(e_));
      return {row.complete || out.size() > before, 0};
    }
    case From::installation:
      out.push_back(this->node({SubjectKind::installation, 0}));
      return {};
    case From::written:
      return written(node, row, out);
    case From::ends:
      ends(node, out);
      return {};
    case From::place:
      return place(node, out);
    case From::area:
      return area(node, out);
    case From::panel:
      out.push_back(this->node({SubjectKind::panel, model_.overcurrent_devices[node.subject.index].panel}));
      return {};
    case From::overcurrent_device: {
      const Index device = model_.circuits[node.subject.index].overcurrent_device;
      if (device == none) return {false, 0};
      out.push_back(this->node({SubjectKind::overcurrent_device, device}));
      return {};
    }
    case From::raceways:
      return raceways(node, out);
    case From::devices:
      return devices(node, out);
    case From::circuits:
      return circuits(node, out);
    case From::conductors:
      return conductors(node, out);
    case From::attests:
      return attests(node, out);
    case From::stated:
      return stated(node, out);
  }
  return {false, 0};
}

}  // namespace raceward::facts
