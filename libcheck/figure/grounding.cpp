// The fault current path of places and devices.
//
// Method: one pass builds what may carry fault current as a graph (grounding_network), one search tells what
// the source reaches by certain edges (grounding_reach); only where that fails, a second search tells whether
// anything unknown could close the gap, and if nothing could, a walk from the panel finds the first break.
#include <algorithm>
#include <utility>

#include "figure/box_covers.hpp"
#include "figure/conductor.hpp"
#include "figure/grounding_break.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/grounding_shared.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;
using namespace grounding;

namespace {

constexpr std::string_view device_words = "wire, mounting, self-grounding or none";

Value broken(Evaluation& e, const Break& at) {
  if (at.missing != 0) return Evaluation::lacks(at.missing);
  e.note(FMT_COMPILE("first break seen from the panel: {}"), at.why);
  e.used(at.cite);
  Value value = answer(true, at.cite);
  value.place = at.at;
  return value;
}

/// Whether fault current reaches a node of a place; where it does not, the break is the place's.
Value breaks_at(Evaluation& e, Node node, Index place) {
  const Network& net = network(e);
  Reach& r = reach(e);
  if (r.certain(node)) return Evaluation::value(0);
  if (r.possible(net, node)) return Evaluation::lacks(r.missing(e, net, node));
  return broken(e, e.once<Breaks>().first(e, place));
}

Value material_missing(Evaluation& e, Index place) {
  return e.lacks(place_subject(e.model, place), "material", "metal or nonmetallic", installer);
}

Value by_isolated_wire(Evaluation& e, const Device& device) {
  const Node isolated = network(e).node(device.box, Part::isolated);
  if (reach(e).possible(network(e), isolated)) return breaks_at(e, isolated, device.box);
  return broken(
      e, {place_subject(e.model, device.box),
          fmt::format(
              FMT_COMPILE("the isolated equipment grounding conductor at {} is not connected to the path"),
              short_place(e.model, device.box)),
          no_citation});
}

Value by_plain_wire(Evaluation& e, const Device& device) {
  const Network& net = network(e);
  const Node wires = net.node(device.box, Part::wires);
  if (net.any_at(wires) && !net.only_isolated(device.box)) {
    if (reach(e).possible(net, wires) || !reach(e).possible(net, net.node(device.box, Part::metal))) {
      return breaks_at(e, wires, device.box);
    }
    return broken(
        e,
        {place_subject(e.model, device.box),
         fmt::format(FMT_COMPILE("the equipment grounding conductors joined in {} are connected neither to "
                                 "its metal nor to the path"),
                     short_place(e.model, device.box)),
         no_citation});
  }
  // No circuit brings one: then the wire goes from the device to the box.
  const Place& box = e.model.places[device.box];
  if (box.material == EnclosureMaterial::nonmetallic) {
    if (reach(e).possible(net, wires)) return breaks_at(e, wires, device.box);
    return broken(
        e,
        {place_subject(e.model, device.box),
         fmt::format(FMT_COMPILE("{} is nonmetallic, and no equipment grounding conductor is joined in it"),
                     short_place(e.model, device.box)),
         no_citation});
  }
  // Alike for all devices that one break cuts off.
  e.note(FMT_COMPILE(
      "no equipment grounding conductor is joined in its box: the wire of the device goes to it"));
  const Value by_box = e.get(Id::ground_path_breaks, place_subject(e.model, device.box));
  if (is_no(by_box) || !reach(e).possible(net, wires)) return by_box;
  return Evaluation::lacks(e.missing.both(by_box.missing, breaks_at(e, wires, device.box).missing));
}

/// Where no conductor is joined that is said to be isolated: an insulated one of which nobody says may be.
Value by_common_wire(Evaluation& e, Subject s, const Device& device) {
  const Value path = by_plain_wire(e, device);
  if (!is_no(path)) return path;
  MissingId missing = 0;
  for (const Visit& visit : e.in.routes.visits_at(device.box)) {
    if (visit.stop == none || !joins(treatment(e.model.stops[visit.stop]))) continue;
    const Run& run = e.model.runs[visit.run];
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const Conductor& conductor = e.model.conductors[c];
      const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
      if (kind.cable || is_bare(kind) || conductor.isolated == YesNo::no) continue;
      const Subject at{SubjectKind::conductor, c};
      const std::string why = "an isolated grounding terminal is joined where it is";
      Value lack = answer(false);
      if (conductor.role == Role::unstated)
        lack = e.lacks(at, "role", "what the conductor is for, such as equipment-grounding", designer, why,
                       conductor.source);
      else if (is_grounding_wire(e.model, c))
        lack = e.lacks(at, "isolated", "yes or no", designer, why, conductor.source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return e.lacks(s, "isolated-ground", "yes or no", marking,
                 fmt::format(FMT_COMPILE("it is said to have an isolated grounding terminal, and no isolated "
                                         "equipment grounding conductor is joined in {}"),
                             short_place(e.model, device.box)));
}

Value by_wire(Evaluation& e, Subject s, const Device& device) {
  const Network& net = network(e);
  const bool joined = net.any_at(net.node(device.box, Part::isolated));
  if (device.isolated_ground == YesNo::yes)
    return joined ? by_isolated_wire(e, device) : by_common_wire(e, s, device);
  if (!joined || device.isolated_ground == YesNo::no) return by_plain_wire(e, device);
  // Which of the two it is on matters only where one is connected and the other is not.
  const Value isolated = by_isolated_wire(e, device), plain = by_plain_wire(e, device);
  if (isolated && plain && isolated.count == plain.count) return isolated;
  const Value which = e.lacks(s, "isolated-ground", "yes or no", installer,
                              "an isolated equipment grounding conductor is joined in its box");
  return Evaluation::lacks(e.missing.both(which.missing, e.missing.both(isolated.missing, plain.missing)));
}

/// A cover that a receptacle may sit on. Where the box takes the yoke, or a ring does, a plate around it is
/// none.
bool may_hold(const Cover& cover, bool yoke_held) {
  switch (cover.kind) {
    case Cover::Kind::plaster_ring:
    case Cover::Kind::extension_ring:
    case Cover::Kind::blank_cover:
      return false;
    case Cover::Kind::raised_cover:
    case Cover::Kind::flat_cover:
      return true;
    default:
      return !yoke_held || cover.grounding_listed == YesNo::no;
  }
}

/// What a cover that is not listed for it, or may not be, does to the path of a receptacle on it.
Value by_unlisted(Evaluation& e, Subject device, const Place& box, Subject at, const Cover& cover,
                  bool yoke_held, CitationId cite) {
  if (cover.grounding_listed == YesNo::unstated) {
    return e.lacks(at, "listed-for-grounding", "yes or no: whether it grounds the receptacle on it", marking,
                   {}, cover.source);
  }
  if (yoke_held) {
    return e.lacks(
        device, "grounded-by", device_words, installer,
        fmt::format(FMT_COMPILE("a cover of box {} is not listed to ground it, and whether it sits "
                                "on that cover is not said"),
                    box.id));
  }
  return broken(
      e,
      {at,
       fmt::format(
           FMT_COMPILE(
               "the receptacle sits on a cover of box {} that is not listed to ground it, and has no wire"),
           box.id),
       cite});
}

/// 0 where nothing comes between the yoke and the metal of its box but a ring, or a cover listed for it.
Value by_cover(Evaluation& e, Subject s, const Device& device, CitationId cite) {
  const Place& box = e.model.places[device.box];
  if (box.kind != PlaceKind::box) return Evaluation::value(0);
  const Subject at = place_subject(e.model, device.box);
  if (box.box_kind == BoxKind::unstated)
    return e.lacks(at, "kind", "a box kind such as square or device", installer);
  const auto first = e.model.covers.begin() + box.covers.first;
  // On a box that takes no yoke, a raised or flat cover listed for it holds the receptacle below any plate.
  const bool yoke_held =
      takes_yokes(box.box_kind) || std::any_of(first, first + box.covers.count, [](const Cover& cover) {
        const bool raised = cover.kind == Cover::Kind::raised_cover || cover.kind == Cover::Kind::flat_cover;
        return cover.kind == Cover::Kind::plaster_ring || (raised && cover.grounding_listed == YesNo::yes);
      });
  Value out = Evaluation::value(0);
  bool any = yoke_held;
  for (Index i = box.covers.first; i < box.covers.end(); ++i) {
    const Cover& cover = e.model.covers[i];
    if (!may_hold(cover, yoke_held)) continue;
    any = true;
    if (cover.grounding_listed == YesNo::yes) continue;
    const Value one = by_unlisted(e, s, box, at, cover, yoke_held, cite);
    out = either(e, out, one);
  }
  if (any) return out;
  return e.lacks(at, "cover", "the cover or ring that the receptacle sits on", installer, {}, box.source);
}

/// 0 where the yoke of a receptacle touches the metal of its box.
Value touches(Evaluation& e, Subject s, const Device& device) {
  const Parameter* const mounting = e.law.parameter("yoke-contact-mounting");
  if (mounting == nullptr) return e.lacks_law("yoke-contact-mounting");
  const Place& box = e.model.places[device.box];
  e.used(mounting->cite);
  if (name_of(box.mounting) == mounting->text) return by_cover(e, s, device, mounting->cite);
  const Subject at = place_subject(e.model, device.box);
  if (box.mounting == Mounting::unstated) return e.lacks(at, "mounting", "surface or flush", installer);
  return broken(
      e, {at,
          fmt::format(FMT_COMPILE("the yoke touches the metal of a box with {} mounting only, and {} has {} "
                                  "mounting"),
                      mounting->text, short_place(e.model, device.box), name_of(box.mounting)),
          mounting->cite});
}

/// 0 where the screws of a self-grounding receptacle bring it to the metal of its box, or of a cover listed
/// for it, whatever the mounting of the box.
Value by_screws(Evaluation& e, Subject s, const Device& device) {
  const Parameter* const mounting = e.law.parameter("yoke-contact-mounting");
  if (mounting == nullptr) return e.lacks_law("yoke-contact-mounting");
  return by_cover(e, s, device, mounting->cite);
}

Value by_metal(Evaluation& e, Subject s, const Device& device) {
  const Place& box = e.model.places[device.box];
  if (box.material == EnclosureMaterial::unstated) return material_missing(e, device.box);
  if (box.material == EnclosureMaterial::metal) {
    if (device.kind == DeviceKind::receptacle) {
      const Value refused =
          device.grounded_by == GroundedBy::mounting ? touches(e, s, device) : by_screws(e, s, device);
      if (!refused || refused.count != 0) return refused;
    }
    return e.get(Id::ground_path_breaks, place_subject(e.model, device.box));
  }
  return broken(
      e, {place_subject(e.model, device.box),
          fmt::format(FMT_COMPILE("the device is said to be grounded through {}, which is nonmetallic"),
                      short_place(e.model, device.box)),
          no_citation});
}

Value by_box(Evaluation& e, Subject s, const Device& device) {
  const bool receptacle = device.kind == DeviceKind::receptacle;
  if (receptacle && device.isolated_ground == YesNo::yes) {
    return broken(e, {s,
                      fmt::format(FMT_COMPILE("the isolated grounding terminal of device {} touches no metal "
                                              "of its own, so that only a wire grounds it"),
                                  device.id),
                      no_citation});
  }
  const Value path = by_metal(e, s, device);
  if (!receptacle || device.isolated_ground == YesNo::no || !is_no(path)) return path;
  return e.lacks(s, "isolated-ground", "yes or no", marking,
                 "an isolated grounding terminal touches no metal of its own");
}

}  // namespace

Value ground_path_asked(Evaluation& e, Subject s) {
  const Place& place = e.model.places[s.index];
  if (is_electrode(e, s.index)) return answer(false);
  if (is_furniture(e, s.index)) return takes_nothing(e);
  // Its cord leads to the receptacle, whose path is asked for.
  if (receptacle_of(e.model, s.index) != none) return answer(false);
  if (place.kind == PlaceKind::joint || place.material == EnclosureMaterial::nonmetallic) {
    return Evaluation::value(0);
  }
  if (place.material == EnclosureMaterial::unstated) return material_missing(e, s.index);
  return answer(true);
}

Value ground_path_breaks(Evaluation& e, Subject s) {
  const bool metal = e.model.places[s.index].material != EnclosureMaterial::nonmetallic;
  const Value breaks = breaks_at(e, network(e).node(s.index, metal ? Part::metal : Part::wires), s.index);
  if (breaks && breaks.count == 0) e.note(FMT_COMPILE("connected to the source without a break"));
  return breaks;
}

Value device_ground_asked(Evaluation& e, Subject s) {
  return Evaluation::value(
      number(e.model.devices[s.index].kind == DeviceKind::terminal_block ? 0 : 1).count());
}

Value device_ground_breaks(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.box == none) return e.lacks(s, "box", "the id of the box it is in", installer);
  switch (device.grounded_by) {
    case GroundedBy::wire:
      return by_wire(e, s, device);
    case GroundedBy::mounting:
    case GroundedBy::self_grounding:
      return by_box(e, s, device);
    case GroundedBy::none:
      return broken(
          e, {s, fmt::format(FMT_COMPILE("nothing connects device {} to the path"), device.id), no_citation});
    case GroundedBy::unstated:
      return e.lacks(s, "grounded-by", device_words, installer);
    default:
      return e.lacks(s, "grounded-by", device_words, installer, "what is written is not for a device");
  }
}

}  // namespace raceward::figure::compute
