// Taps: conductors smaller than those of the circuit that they are spliced to.
//
// Method: a conductor of a branch circuit is a tap where larger ones of its circuit visit the place where a
// run of it begins, where it is as large as the law's table asks for the overcurrent device, and where each
// of its runs leads to one outlet that is no receptacle, no farther than the law lets taps go to that outlet.
// Which sizes visit which places is found once for each circuit.
#include "figure/tap.hpp"

#include <algorithm>
#include <map>
#include <span>
#include <utility>

#include "figure/attested.hpp"
#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/grounding_size_law.hpp"
#include "figure/machines.hpp"
#include "figure/shown.hpp"
#include "figure/tap_sizes.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Whether the law in force gives taps of such a circuit.
bool has_taps(const Evaluation& e, Index circuit) {
  const CircuitKind kind = e.model.circuits[circuit].kind;
  return kind != CircuitKind::feeder && kind != CircuitKind::other && e.law.table("branch-tap") != nullptr;
}

bool is_switch(DeviceKind kind) { return kind == DeviceKind::switch_ || kind == DeviceKind::dimmer; }
bool may_be_outlet(DeviceKind kind) {
  return kind == DeviceKind::receptacle || kind == DeviceKind::luminaire || kind == DeviceKind::other ||
         kind == DeviceKind::unstated;
}

/// What a tap may end at.
struct Outlet {
  bool receptacle = false;
  bool luminaire = false;         // equipment
  bool switches = false;          // of the circuit, and nothing else
  Index place = none;             // equipment, or the box of luminaires
  std::vector<Index> luminaires;  // devices in the box
  Index unsaid = none;            // a device there that may be one, and does not say its circuit
  [[nodiscard]] bool any() const { return receptacle || place != none; }
};

/// Devices in a place that do not say their circuit.
struct Unsaid {
  Index outlet = none;  // the first that may be one
  bool others = false;  // there are some that do not switch
};

const Unsaid& unsaid_at(Evaluation& e, Index place) {
  const auto [found, fresh] = e.once<std::map<Index, Unsaid>>().try_emplace(place);
  Unsaid& out = found->second;
  if (!fresh) return out;
  for (const Index d : devices_on(e, place, none)) {
    const DeviceKind kind = e.model.devices[d].kind;
    if (may_be_outlet(kind) && out.outlet == none) out.outlet = d;
    out.others = out.others || !is_switch(kind);
  }
  return out;
}

Outlet what_ends_at(Evaluation& e, Index circuit, Index place) {
  Outlet out;
  if (e.model.places[place].kind == PlaceKind::equipment) {
    if (takes_nothing(e, place)) return out;
    out.place = place;
    out.luminaire = luminaire_in(e, place);
    return out;
  }
  bool others = false;
  for (const Index d : devices_on(e, place, circuit)) {
    const DeviceKind kind = e.model.devices[d].kind;
    others = others || !is_switch(kind);
    out.switches = out.switches || is_switch(kind);
    out.receptacle = out.receptacle || kind == DeviceKind::receptacle;
    if (kind != DeviceKind::luminaire) continue;
    out.place = place;
    out.luminaires.push_back(d);
  }
  const Unsaid& unsaid = unsaid_at(e, place);
  out.unsaid = unsaid.outlet;
  others = others || unsaid.others;
  out.switches = out.switches && !others;
  return out;
}

/// By circuit and place: many taps may end at one.
template <class Of>
using ByEnd = std::map<std::pair<Index, Index>, Of>;

const Outlet& tap_outlet(Evaluation& e, Index circuit, Index place) {
  const auto [found, fresh] = e.once<ByEnd<Outlet>>().try_emplace({circuit, place});
  if (fresh) found->second = what_ends_at(e, circuit, place);
  return found->second;
}

/// A run of a smaller conductor; or all of them together, where some lead on from others of it.
struct Piece {
  std::int64_t length = 0;
  MissingId missing = 0;      // of the length
  bool whole = true;          // its way is known
  bool begins = false;        // where larger ones are
  bool placed = true;         // all stops say their places
  bool parts = false;         // of several runs, or spliced to larger ones on its way
  std::vector<Index> larger;  // places of larger ones where it does not pass straight through
  std::vector<Index> ends;    // the same of others; one for each run that comes there
};

std::vector<Piece> pieces_of(Evaluation& e, Index circuit, Index conductor) {
  const Sizes& sizes = sizes_of(e, circuit);
  const ConductorSize size = size_of(e.model, conductor);
  std::vector<Piece> out;
  bool each_begins = true;
  auto at = std::ranges::lower_bound(sizes.runs, std::pair(conductor, Index{0}));
  std::vector<Index> own;
  for (; at != sizes.runs.end() && at->first == conductor; ++at) own.push_back(at->second);
  for (const Index r : told_runs(e, std::span<const Index>(own))) {
    const Run& run = e.model.runs[r];
    Piece piece;
    std::size_t before_end = 0;  // larger ones before the last of its ends
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Stop& stop = e.model.stops[s];
      piece.placed = piece.placed && stop.place != none;
      if (stop.place == none || stop.ungrounded == StopTreatment::through) continue;
      const bool larger = sizes.largest_at(stop.place) > size;
      piece.parts = piece.parts || (!larger && !piece.ends.empty() && piece.larger.size() > before_end);
      if (!larger) before_end = piece.larger.size();
      (larger ? piece.larger : piece.ends).push_back(stop.place);
    }
    piece.begins = !piece.larger.empty();
    each_begins = each_begins && piece.begins;
    const Range& hops = e.in.routes.run_hops[r];
    piece.whole = hops.count != 0;
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Value one = e.get_aside(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[h].raceway});
      piece.length += one.count;
      piece.missing = e.missing.both(piece.missing, one.missing);
    }
    out.push_back(std::move(piece));
  }
  if (each_begins || out.size() < 2) return out;
  Piece all = std::move(out.front());
  all.parts = true;
  for (std::size_t i = 1; i < out.size(); ++i) {
    const Piece& piece = out[i];
    all.length += piece.length;
    all.missing = e.missing.both(all.missing, piece.missing);
    all.whole = all.whole && piece.whole;
    all.begins = all.begins || piece.begins;
    all.placed = all.placed && piece.placed;
    all.larger.insert(all.larger.end(), piece.larger.begin(), piece.larger.end());
    all.ends.insert(all.ends.end(), piece.ends.begin(), piece.ends.end());
  }
  out.assign(1, std::move(all));
  return out;
}

/// The smallest tap on a circuit of a rating; null where the law gives none.
struct LeastTap {
  ConductorSize size = ConductorSize::unstated;
  CitationId cite = no_citation;
};

LeastTap least_tap(const Evaluation& e, std::int64_t rating, ConductorMaterial material) {
  const Table* const t = e.law.table("branch-tap");
  if (t == nullptr) return {};
  const std::uint32_t column = t->column("amperes", Dimension::current);
  const std::uint32_t size = t->column(metal_of(material) == Metal::copper ? "copper" : "aluminum");
  std::uint32_t best = Table::none;
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (t->count(row, column) < rating) continue;
    if (best == Table::none || t->count(row, column) < t->count(best, column)) best = row;
  }
  if (best == Table::none) return {};
  return {term_spelt<ConductorSize>(t->text(best, size)), t->cite(best)};
}

/// How far a tap may go to an outlet.
struct Reach {
  const Parameter* most = nullptr;
  const Parameter* beyond = nullptr;  // so far where somebody attests that it may
  bool free = false;                  // as far as it must
  bool by_need = false;               // as far as it must, where somebody attests that
  bool by_kind = false;               // equipment of a kind that is not known
};

Reach reach_to(Evaluation& e, const Outlet& outlet) {
  const Parameter* const luminaire = e.law.parameter("branch-tap-luminaire", Dimension::length);
  Reach out;
  out.most = outlet.luminaire ? luminaire : e.law.parameter("branch-tap-length", Dimension::length);
  if (!outlet.luminaires.empty()) out.beyond = luminaire;
  if (outlet.luminaire || !outlet.luminaires.empty()) return out;
  const Place& place = e.model.places[outlet.place];
  const Group group = group_of(e, outlet.place);
  out.by_kind = group == Group::unknown;
  const Parameter* const any = e.law.parameter("branch-tap-any-length");
  out.free = any != nullptr && is_one_of(any->text, place.equipment_kind);
  if (out.free) e.used(any->cite);
  const Table* const kinds = e.law.table("dwelling-equipment");
  const std::uint32_t row = kinds == nullptr ? Table::none : kinds->find({place.equipment_kind});
  out.by_need = row != Table::none && kinds->text(row, kinds->column("part")) == "cooking";
  return out;
}

Value lacks_end(Evaluation& e, Index conductor, std::string why) {
  return e.lacks({SubjectKind::conductor, conductor}, "run",
                 "from where it is spliced to the circuit to the one outlet that it is for", designer,
                 std::move(why), e.model.conductors[conductor].source);
}

/// Where a piece leads.
struct Target {
  bool no_tap = false;    // whatever else it is
  MissingId missing = 0;  // it may lead to an outlet as taps do
  Index place = none;     // of its one outlet, or of one of several
  bool several = false;   // then how far it is to each is not known
};

/// Where all its ends are: none that a tap ends at, or it is not known which.
Target without_outlet(Evaluation& e, Index circuit, Index conductor, const Piece& piece) {
  Target out;
  const Sizes& sizes = sizes_of(e, circuit);
  bool open = !piece.placed, switches = !piece.ends.empty();
  std::vector<Index> ends = piece.ends;
  std::ranges::sort(ends);
  for (std::size_t i = 0, next = 0; i < ends.size() && switches; i = next) {
    while (next < ends.size() && ends[next] == ends[i]) ++next;
    // From a switch others of the circuit may lead on.
    const Sizes::At* const at = sizes.find(ends[i]);
    switches = tap_outlet(e, circuit, ends[i]).switches && at != nullptr && at->runs == next - i;
  }
  // Between larger ones, it is no tap if nothing is at its ends.
  bool between = piece.ends.empty() && piece.larger.size() > 1;
  for (const Index place : piece.larger) {
    if (!between) break;
    const Outlet& outlet = tap_outlet(e, circuit, place);
    open = open || outlet.any() || outlet.unsaid != none;
  }
  out.no_tap = !open && (between || (switches && piece.begins));
  if (out.no_tap) return out;
  const Index first =
      piece.ends.empty() ? none : *std::ranges::min_element(piece.ends, [&](Index a, Index b) {
        return id_before(e.model.places[a].id, e.model.places[b].id);
      });
  out.missing = lacks_end(e, conductor,
                          first == none ? "it is smaller than others of the circuit, and may be a tap of them"
                                        : fmt::format(FMT_COMPILE("nothing is in {} that it is for"),
                                                      e.model.places[first].id))
                    .missing;
  return out;
}

Target target_of(Evaluation& e, Index circuit, Index conductor, const Piece& piece) {
  Target out;
  std::vector<Index> ends = piece.ends;
  std::ranges::sort(ends);
  bool leads_on = false;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const Outlet& outlet = tap_outlet(e, circuit, ends[i]);
    out.no_tap = out.no_tap || outlet.receptacle;
    if (outlet.unsaid != none)
      out.missing = e.missing.both(out.missing, lacks_circuit_of(e, outlet.unsaid).missing);
    if (outlet.place == none) continue;
    out.several = out.several || (out.place != none && out.place != outlet.place);
    leads_on = leads_on || out.place == outlet.place;
    out.place = outlet.place;
  }
  // From one outlet to another it is no tap to one alone.
  out.no_tap = out.no_tap || (out.several && (leads_on || !piece.parts));
  if (out.no_tap) return out;
  if (out.place == none && out.missing == 0) return without_outlet(e, circuit, conductor, piece);
  if (out.several || !piece.begins || !piece.whole || !piece.placed) {
    const Value lack =
        lacks_end(e, conductor, "it is smaller than others of the circuit, and may be a tap of them");
    out.missing = e.missing.both(out.missing, lack.missing);
  }
  return out;
}

void note_tap(Evaluation& e, Index conductor, const Piece& piece, const LeastTap& least, Index place,
              const Reach& reach) {
  if (!e.noting() || least.size == ConductorSize::unstated) return;
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  e.note(
      FMT_COMPILE("conductor {} is {} {}, {}: as a tap to {} it would need at least {} ({}) and be {} ({})"),
      c.id, name_of(kind.size), name_of(kind.material),
      piece.missing != 0 ? std::string("of a length that is not stated")
                         : e.text_of({piece.length, Unit::foot}) + " long",
      e.model.places[place].id, name_of(least.size), e.cited(least.cite),
      reach.free || reach.by_need ? std::string("as long as it must")
                                  : "at most " + e.text_of({reach.most->value.count, Unit::foot}) + " long",
      e.cited(reach.most->cite));
}

/// Whether a piece is a tap as the law lets them be: 1 or 0.
Value is_tap(Evaluation& e, Index circuit, Index conductor, const Piece& piece, const Target& target,
             const LeastTap& least) {
  const Value no = Evaluation::value(0);
  const Outlet& outlet = tap_outlet(e, circuit, target.place);
  const Reach reach = reach_to(e, outlet);
  if (reach.most == nullptr) return no;
  note_tap(e, conductor, piece, least, target.place, reach);
  const bool motor = outlet.luminaires.empty() && is_motor(group_of(e, target.place));
  const bool small = least.size == ConductorSize::unstated || size_of(e.model, conductor) < least.size;
  const bool far = !reach.free && !target.several && piece.length > reach.most->value.count;
  const bool attests = attested(e, Attested::taps_as_allowed, e.model.circuits[circuit].id);
  MissingId missing = target.missing;
  const auto ask = [&](std::string why) {
    if (!attests) missing = e.missing.both(missing, lacks_tap_attest(e, circuit, std::move(why)).missing);
  };
  if (small || far) {
    const bool to_beyond = reach.beyond != nullptr && piece.length <= reach.beyond->value.count;
    if (motor) {
      ask("its tap to a motor may go by the rules of motors");
    } else if (reach.by_kind) {
      missing = e.missing.both(missing, lacks_kind(e, target.place).missing);
    } else if (small || (!reach.by_need && !to_beyond)) {
      return no;
    } else if (reach.by_need) {
      ask("its tap may be as long as servicing the appliance needs");
    } else {
      ask("its tap may be so long as those of luminaires that are mounted and wired for that");
      missing = e.missing.both(missing, piece.missing);
    }
  } else if (!reach.free && !(attests && (motor || reach.by_need))) {
    missing = e.missing.both(missing, piece.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.used(reach.most->cite);
  e.used(least.cite);
  return Evaluation::value(number(1).count(), least.cite);  // not law: yes
}

/// What is missing where others of its circuit may be larger; else 0: it is no tap.
Value larger_unsaid(Evaluation& e, Index circuit, Index conductor) {
  const Value no = Evaluation::value(0);
  if (e.model.circuits[circuit].overcurrent_device != none && begins_at_source(e, circuit, conductor))
    return no;
  std::vector<MissingId> each;
  for (const Index c : sizes_of(e, circuit).unsaid) {
    const Conductor& one = e.model.conductors[c];
    const ConductorSize size = size_of(e.model, c);
    if (c == conductor || (size != ConductorSize::unstated && size <= size_of(e.model, conductor))) continue;
    const bool role = one.role == Role::unstated;
    each.push_back(e.lacks({SubjectKind::conductor, c}, role ? "role" : "size",
                           role ? "what the conductor is for, such as ungrounded" : "a size such as 12 AWG",
                           role ? designer : marking, "a smaller one may be a tap of it", one.source)
                       .missing);
  }
  return each.empty() ? no : Evaluation::lacks(e.missing.all(each));
}

}  // namespace

Value branch_tap(Evaluation& e, Index circuit, Index conductor) {
  const Circuit& of = e.model.circuits[circuit];
  const ConductorKind& kind = e.model.conductor_kinds[e.model.conductors[conductor].kind];
  const Value no = Evaluation::value(0);
  if (!has_taps(e, circuit) || kind.material == ConductorMaterial::unstated) return no;
  if (!is_smaller(e, circuit, conductor)) return larger_unsaid(e, circuit, conductor);
  if (of.overcurrent_device != none && begins_at_source(e, circuit, conductor)) return no;
  MissingId missing = 0;
  const std::vector<Piece> pieces = pieces_of(e, circuit, conductor);
  std::vector<Target> targets;
  for (const Piece& piece : pieces) {
    targets.push_back(target_of(e, circuit, conductor, piece));
    if (targets.back().no_tap) return no;
    missing = e.missing.both(missing, targets.back().missing);
  }
  const Value rating = device_rating_of(e, circuit);
  if (!rating) return Evaluation::lacks(e.missing.both(missing, rating.missing));
  const LeastTap least = least_tap(e, rating.count, kind.material);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (targets[i].place == none) continue;
    const Value tap = is_tap(e, circuit, conductor, pieces[i], targets[i], least);
    if (tap && tap.count == 0) return no;
    missing = e.missing.both(missing, tap.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(1).count(), least.cite);  // not law: yes
}

namespace {

/// What luminaires on a circuit in a box take together.
struct LuminairesLoad {
  std::int64_t sum = 0;
  MissingId missing = 0;
};

const LuminairesLoad& load_at(Evaluation& e, Index circuit, Index place, std::span<const Index> luminaires) {
  const auto [found, fresh] = e.once<ByEnd<LuminairesLoad>>().try_emplace({circuit, place});
  LuminairesLoad& out = found->second;
  if (!fresh) return out;
  std::vector<MissingId> missing;
  for (const Index d : luminaires) {
    const Device& luminaire = e.model.devices[d];
    if (luminaire.load.known()) {
      out.sum = detail::saturate(wide_int{out.sum} + (*luminaire.load).count());
      continue;
    }
    missing.push_back(e.lacks({SubjectKind::device, d}, "load", "the current that it takes, such as 2A",
                              marking, "its tap is smaller than the circuit", luminaire.source)
                          .missing);
  }
  if (!missing.empty()) out.missing = e.missing.all(missing);
  return out;
}

/// What a tap has to carry for the outlets that it ends at: each of its pieces its own.
TapLoad load_of_tap(Evaluation& e, Index circuit, Index conductor) {
  TapLoad out;
  for (const Piece& piece : pieces_of(e, circuit, conductor)) {
    const Index place = target_of(e, circuit, conductor, piece).place;
    if (place == none) continue;
    const Outlet& outlet = tap_outlet(e, circuit, place);
    if (outlet.luminaires.empty()) {
      const Value load = load_for_conductors(e, place);
      out.missing = e.missing.both(out.missing, load.missing);
      out.least = std::max(out.least, load.count);
      out.most = std::max(out.most, load.count);
      continue;
    }
    const LuminairesLoad& at = load_at(e, circuit, place, outlet.luminaires);
    out.missing = e.missing.both(out.missing, at.missing);
    const std::int64_t sum = at.sum;
    const Parameter* const factor = e.law.parameter("continuous-conductor-factor", Dimension::none);
    if (factor == nullptr) {
      out.missing = e.missing.both(out.missing, e.lacks_law("continuous-conductor-factor").missing);
      continue;
    }
    const std::int64_t counted = share_of(factor->value.count, sum);
    const YesNo continuous = e.model.circuits[circuit].continuous;
    out.least = std::max(out.least, continuous == YesNo::yes ? counted : sum);
    out.most = std::max(out.most, continuous == YesNo::no ? sum : counted);
  }
  return out;
}

/// The most that all of the circuit takes, as it counts for conductors.
Value most_of_all(Evaluation& e, Index circuit) {
  const Circuit& of = e.model.circuits[circuit];
  const bool as_stated = of.kind == CircuitKind::branch && of.continuous == YesNo::no;
  return e.get_aside(as_stated ? Id::circuit_load : Id::circuit_load_at_most,
                     {SubjectKind::circuit, circuit});
}

}  // namespace

Value branch_tap(Evaluation& e, Index circuit, Index conductor, AskedTaps& asked) {
  const auto [found, fresh] = asked.taps.try_emplace(conductor);
  if (fresh) found->second = branch_tap(e, circuit, conductor);
  return found->second;
}

Value part_of_circuit(Evaluation& e, Index circuit, Index conductor, std::int64_t carries, AskedTaps& asked) {
  const Value part = Evaluation::value(number(1).count());  // not law: yes
  if (!is_smaller(e, circuit, conductor) || !has_taps(e, circuit)) return part;
  const Value all = most_of_all(e, circuit);
  const Index device = e.model.circuits[circuit].overcurrent_device;
  const auto* const rating = device == none || !e.model.overcurrent_devices[device].rating.known()
                                 ? nullptr
                                 : &e.model.overcurrent_devices[device].rating;
  const bool carries_all = all && all.count <= carries;
  // Where it suits the device and the load, as any conductor of the circuit must, nothing hangs on its being
  // a tap; nor where it carries the load and there is no device to hold it against.
  if (rating == nullptr ? carries_all : (**rating).count() <= carries && (carries_all || !all)) return part;
  const Value tap = branch_tap(e, circuit, conductor, asked);
  if (!tap) return carries_all ? part : tap;  // the device is held against it where that is judged
  if (tap.count == 0) return part;
  const Value own = Evaluation::value(0);
  if (carries_all) return own;
  const auto [found, fresh] = asked.loads.try_emplace(conductor);
  if (fresh) found->second = load_of_tap(e, circuit, conductor);
  const TapLoad& load = found->second;
  if (load.least > carries) {
    const MissingId wrong = load_on_contradicted(e, circuit);
    return wrong != 0 ? Evaluation::lacks(wrong) : part;
  }
  if (load.missing != 0) return Evaluation::lacks(load.missing);
  if (load.most <= carries) return own;
  return e.lacks({SubjectKind::circuit, circuit}, "continuous", "yes or no", designer);
}

MissingId may_be_feeder_tap(Evaluation& e, Index circuit, Index conductor) {
  if (e.model.circuits[circuit].kind != CircuitKind::feeder || !is_smaller(e, circuit, conductor)) return 0;
  if (e.model.circuits[circuit].overcurrent_device != none && begins_at_source(e, circuit, conductor))
    return 0;
  return e
      .lacks({SubjectKind::conductor, conductor}, "conductor",
             "a feeder of its own, with its load, where it is a tap", designer,
             "it is smaller than others of the feeder", e.model.conductors[conductor].source)
      .missing;
}

}  // namespace raceward::figure
