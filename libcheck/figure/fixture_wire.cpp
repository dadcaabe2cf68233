// Thin wires of luminaires: their insulation, the overcurrent device, the way and what is at its end.
#include "figure/fixture_wire.hpp"

#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// No mark on it is of another kind than those of the law's list; it may have none.
bool made_for_luminaires(const Parameter& marks, const ConductorKind& kind) {
  const auto terms = terms_of(Insulation{});
  for (std::size_t i = 0; i < terms.size(); ++i) {
    if ((kind.insulations >> i & 1) != 0 && !is_one_of(marks.text, terms[i].spelling)) return false;
  }
  return true;
}

/// The way of all runs that hold it, whether each has a luminaire, and whether one begins in a panel: then it
/// is the circuit's own conductor and no tap of it.
struct Way {
  std::int64_t length = 0;
  MissingId missing = 0;
  bool any = false, to_luminaire = true, whole = true, from_panel = false;
};

Way way_of(Evaluation& e, Index circuit, Index conductor) {
  Way out;
  const Circuit& of = e.model.circuits[circuit];
  for (Index r = of.runs.first; r < of.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    const auto first = e.model.run_conductors.begin() + run.conductors.first;
    const auto end = first + run.conductors.count;
    if (std::find(first, end, conductor) == end) continue;
    out.any = true;
    bool lamp = false;
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Index place = e.model.stops[s].place;
      if (place == none) continue;
      lamp = lamp || luminaire_in(e, place);
      out.from_panel = out.from_panel || e.model.places[place].kind == PlaceKind::panel;
    }
    out.to_luminaire = out.to_luminaire && lamp;
    const Range& hops = e.in.routes.run_hops[r];
    out.whole = out.whole && hops.count != 0;
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Value length =
          e.get_aside(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[h].raceway});
      out.length += length.count;
      out.missing = e.missing.both(out.missing, length.missing);
    }
  }
  return out;
}

}  // namespace

Value fixture_wire(Evaluation& e, Index circuit, Index conductor) {
  const Table* const sizes = e.law.table("fixture-wire");
  const Parameter* const marks = e.law.parameter("fixture-wire-marks");
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  if (sizes == nullptr || marks == nullptr) return Evaluation::value(0);
  const std::uint32_t row = sizes->find({name_of(kind.size)});
  if (row == Table::none || !made_for_luminaires(*marks, kind)) return Evaluation::value(0);
  const Subject at{SubjectKind::conductor, conductor};
  const CitationId cite = sizes->cite(row);
  const Value rating = device_rating_of(e, circuit);
  if (rating && rating.count > sizes->count(row, sizes->column("rating", Dimension::current)))
    return Evaluation::value(0);
  const std::int64_t longest = sizes->count(row, sizes->column("length", Dimension::length));
  const Way way = way_of(e, circuit, conductor);
  if (way.from_panel || way.length > longest) return Evaluation::value(0);
  MissingId missing = e.missing.both(rating.missing, way.missing);
  if (kind.insulations == 0) {
    missing = e.missing.both(missing,
                             e.lacks(at, "insulation", "a mark such as TFFN", marking, {}, c.source).missing);
  }
  if (!way.any || !way.whole || !way.to_luminaire) {
    missing = e.missing.both(
        missing,
        e.lacks(at, "size", "a size such as 14 AWG; or the luminaire that it goes to", designer,
                "so thin a wire may go to a luminaire only, and none is on the way of its runs", c.source)
            .missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.used(cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("conductor {}: {} of a kind for luminaires, {} long, of at most {} ({})"), c.id,
           name_of(kind.size), e.text_of({way.length, Unit::foot}), e.text_of({longest, Unit::foot}),
           e.cited(cite));
  }
  return Evaluation::value(1, cite);
}

}  // namespace raceward::figure
