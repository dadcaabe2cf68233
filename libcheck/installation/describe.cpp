// Subjects as documents name them and as people read them.
#include <fmt/compile.h>

#include <algorithm>

#include "installation/derived.hpp"

namespace raceward::installation {

SubjectKind subject_kind(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::panel:
      return SubjectKind::panel;
    case PlaceKind::box:
      return SubjectKind::box;
    case PlaceKind::conduit_body:
      return SubjectKind::conduit_body;
    case PlaceKind::equipment:
      return SubjectKind::equipment;
    case PlaceKind::joint:
      return SubjectKind::joint;
    case PlaceKind::unstated:
      break;
  }
  return SubjectKind::place;
}

namespace {

/// Chains up to this length are written out in words.
constexpr Index written_out = 4;

/// "box B4"
std::string short_words(const Model& model, Index place) {
  const Place& p = model.places[place];
  return fmt::format(FMT_COMPILE("{} {}"), raceward::name_of(subject_kind(p.kind)), p.id);
}

/// "box B4 (glazing corner)"
std::string named(std::string_view kind, std::string_view id, std::string_view name) {
  return name.empty() ? fmt::format(FMT_COMPILE("{} {}"), kind, id)
                      : fmt::format(FMT_COMPILE("{} {} ({})"), kind, id, name);
}

std::string words_of_place(const Model& model, Index place) {
  const Place& p = model.places[place];
  return named(raceward::name_of(subject_kind(p.kind)), p.id, p.name.empty() ? p.equipment_kind : p.name);
}

std::string words_of_raceway(const Model& model, Index raceway) {
  const Raceway& r = model.raceways[raceway];
  return fmt::format(FMT_COMPILE("{}, {} to {}"), named("raceway", r.id, r.name),
                     short_words(model, r.ends[0].place), short_words(model, r.ends[1].place));
}

std::string joined_ids(const Model& model, const Sections& sections, const Range& raceways) {
  std::string out;
  for (Index i = raceways.first; i < raceways.end(); ++i) {
    if (!out.empty()) out += '+';
    out += model.raceways[sections.raceways[i]].id;
  }
  return out;
}

std::string words_of_section(const Model& model, const Sections& sections, Index section) {
  const PullSection& s = sections.sections[section];
  const auto id = [&](Index i) { return model.raceways[sections.raceways[i]].id; };
  const std::string ids =
      s.raceways.count <= written_out
          ? joined_ids(model, sections, s.raceways)
          : fmt::format(FMT_COMPILE("{}+{}+...+{} ({} raceways)"), id(s.raceways.first),
                        id(s.raceways.first + 1), id(s.raceways.end() - 1), s.raceways.count);
  if (s.branches_at == none) {
    return fmt::format(FMT_COMPILE("pull section {}, {} to {}"), ids, short_words(model, s.ends[0]),
                       short_words(model, s.ends[1]));
  }
  return fmt::format(FMT_COMPILE("pull section {}, with more than one way through {}"), ids,
                     short_words(model, s.branches_at));
}

std::string words_of_device(const Model& model, const Device& device) {
  std::string kind = "device";
  if (device.kind != DeviceKind::unstated && device.kind != DeviceKind::other) kind = name_of(device.kind);
  std::replace(kind.begin(), kind.end(), '-', ' ');
  std::string out = named(kind, device.id, device.name);
  return device.box == none ? out : fmt::format(FMT_COMPILE("{} in {}"), out, short_words(model, device.box));
}

std::string words_of_jumper(const Model& model, const BondingJumper& jumper) {
  std::string out = fmt::format(FMT_COMPILE("bonding jumper {}"), jumper.id);
  if (jumper.from != none) out += ", " + short_words(model, jumper.from);
  if (jumper.to != none) out += " to " + short_words(model, jumper.to);
  if (jumper.raceway != none)
    out += fmt::format(FMT_COMPILE(", around raceway {}"), model.raceways[jumper.raceway].id);
  return out;
}

}  // namespace

std::string id_of(const Model& model, const Sections& sections, Subject subject) {
  const Index i = subject.index;
  switch (subject.kind) {
    case SubjectKind::installation:
      return std::string(model.id);
    case SubjectKind::area:
      return std::string(model.areas[i].id);
    case SubjectKind::panel:
    case SubjectKind::box:
    case SubjectKind::conduit_body:
    case SubjectKind::equipment:
    case SubjectKind::joint:
    case SubjectKind::place:
      return std::string(model.places[i].id);
    case SubjectKind::overcurrent_device:
      return std::string(model.overcurrent_devices[i].id);
    case SubjectKind::raceway:
      return std::string(model.raceways[i].id);
    case SubjectKind::pull_section:
      return joined_ids(model, sections, sections.sections[i].raceways);
    case SubjectKind::circuit:
      return std::string(model.circuits[i].id);
    case SubjectKind::conductor:
      return fmt::format(FMT_COMPILE("{}/{}"), model.circuits[model.conductors[i].circuit].id,
                         model.conductors[i].id);
    case SubjectKind::device:
      return std::string(model.devices[i].id);
    case SubjectKind::bonding_jumper:
      return std::string(model.bonding_jumpers[i].id);
    case SubjectKind::attestation:
      return fmt::format(FMT_COMPILE("{}/{}"), model.attestations[i].fact, model.attestations[i].of);
  }
  return {};
}

std::string words_of(const Model& model, const Sections& sections, Subject subject) {
  const Index i = subject.index;
  switch (subject.kind) {
    case SubjectKind::installation:
      return named("installation", model.id, model.name);
    case SubjectKind::area:
      return named("area", model.areas[i].id, model.areas[i].name);
    case SubjectKind::panel:
    case SubjectKind::box:
    case SubjectKind::conduit_body:
    case SubjectKind::equipment:
    case SubjectKind::joint:
    case SubjectKind::place:
      return words_of_place(model, i);
    case SubjectKind::overcurrent_device: {
      const OvercurrentDevice& device = model.overcurrent_devices[i];
      return fmt::format(FMT_COMPILE("overcurrent device {} in {}"), device.id,
                         short_words(model, device.panel));
    }
    case SubjectKind::raceway:
      return words_of_raceway(model, i);
    case SubjectKind::pull_section:
      return words_of_section(model, sections, i);
    case SubjectKind::circuit: {
      const Circuit& circuit = model.circuits[i];
      return named(circuit.kind == CircuitKind::other ? "wiring" : "circuit", circuit.id, circuit.name);
    }
    case SubjectKind::conductor: {
      const Conductor& conductor = model.conductors[i];
      const Circuit& circuit = model.circuits[conductor.circuit];
      return fmt::format(FMT_COMPILE("conductor {} of {} {}"), conductor.id,
                         circuit.kind == CircuitKind::other ? "wiring" : "circuit", circuit.id);
    }
    case SubjectKind::device:
      return words_of_device(model, model.devices[i]);
    case SubjectKind::bonding_jumper:
      return words_of_jumper(model, model.bonding_jumpers[i]);
    case SubjectKind::attestation:
      return fmt::format(FMT_COMPILE("statement {} of {}"), model.attestations[i].fact,
                         model.attestations[i].of);
  }
  return {};
}

Offset offset_of(const Model& model, const Sections& sections, Subject subject) {
  const Index i = subject.index;
  switch (subject.kind) {
    case SubjectKind::installation:
      return model.source;
    case SubjectKind::area:
      return model.areas[i].source;
    case SubjectKind::panel:
    case SubjectKind::box:
    case SubjectKind::conduit_body:
    case SubjectKind::equipment:
    case SubjectKind::joint:
    case SubjectKind::place:
      return model.places[i].source;
    case SubjectKind::overcurrent_device:
      return model.overcurrent_devices[i].source;
    case SubjectKind::raceway:
      return model.raceways[i].source;
    case SubjectKind::pull_section:
      return model.raceways[sections.raceways[sections.sections[i].raceways.first]].source;
    case SubjectKind::circuit:
      return model.circuits[i].source;
    case SubjectKind::conductor:
      return model.conductors[i].source;
    case SubjectKind::device:
      return model.devices[i].source;
    case SubjectKind::bonding_jumper:
      return model.bonding_jumpers[i].source;
    case SubjectKind::attestation:
      return model.attestations[i].source;
  }
  return 0;
}

std::uint32_t count_of(const Model& model, const Sections& sections, SubjectKind kind) {
  const auto size = [](const auto& list) { return static_cast<std::uint32_t>(list.size()); };
  switch (kind) {
    case SubjectKind::installation:
      return 1;
    case SubjectKind::area:
      return size(model.areas);
    case SubjectKind::panel:
    case SubjectKind::box:
    case SubjectKind::conduit_body:
    case SubjectKind::equipment:
    case SubjectKind::joint:
      return static_cast<std::uint32_t>(
          std::count_if(model.places.begin(), model.places.end(),
                        [&](const Place& place) { return subject_kind(place.kind) == kind; }));
    case SubjectKind::place:
      return size(model.places);
    case SubjectKind::overcurrent_device:
      return size(model.overcurrent_devices);
    case SubjectKind::raceway:
      return size(model.raceways);
    case SubjectKind::pull_section:
      return size(sections.sections);
    case SubjectKind::circuit:
      return size(model.circuits);
    case SubjectKind::conductor:
      return size(model.conductors);
    case SubjectKind::device:
      return size(model.devices);
    case SubjectKind::bonding_jumper:
      return size(model.bonding_jumpers);
    case SubjectKind::attestation:
      return size(model.attestations);
  }
  return 0;
}

std::vector<Subject> subjects_of(const Model& model, const Sections& sections, SubjectKind kind) {
  std::vector<Subject> out;
  const std::uint32_t count = count_of(model, sections, kind);
  out.reserve(count);
  if (is_place(kind) && kind != SubjectKind::place) {
    for (Index i = 0; i < model.places.size(); ++i) {
      if (subject_kind(model.places[i].kind) == kind) out.push_back({kind, i});
    }
  } else {
    for (Index i = 0; i < count; ++i) out.push_back({kind, i});
  }
  return out;
}

}  // namespace raceward::installation
