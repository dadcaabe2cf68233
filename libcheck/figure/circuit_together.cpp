// Whether the conductors of a circuit go together from place to place.
//
// Method: in each raceway that the circuit passes, its conductors that carry current are counted. One by
// itself has its return somewhere else. A grounding conductor by itself is apart where the others take
// another raceway between the same two places.
#include <algorithm>
#include <tuple>

#include "figure/current_carrying.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// What the circuit lays into one raceway.
struct Laid {
  Index from = none, to = none;  // places, the smaller first
  Index raceway = none;
  Carrying carrying;

  [[nodiscard]] std::int64_t current() const {
    return carrying.ungrounded + carrying.switched + carrying.travelers + carrying.grounded;
  }
};

std::vector<Laid> laid_by(Evaluation& e, const Circuit& circuit, MissingId& missing) {
  std::vector<Laid> out;
  for (Index run = circuit.runs.first; run < circuit.runs.end(); ++run) {
    const Carrying& carrying = carrying_of_run(e, run);
    missing = e.missing.both(missing, carrying.missing);
    const Range& hops = e.in.routes.run_hops[run];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      out.push_back({std::min(hop.from, hop.to), std::max(hop.from, hop.to), hop.raceway, carrying});
    }
  }
  const auto key = [](const Laid& l) { return std::tuple{l.from, l.to, l.raceway}; };
  std::stable_sort(out.begin(), out.end(), [&](const Laid& a, const Laid& b) { return key(a) < key(b); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (kept != 0 && key(out[kept - 1]) == key(out[i])) {
      out[kept - 1].carrying += out[i].carrying;
    } else {
      out[kept++] = out[i];
    }
  }
  out.resize(kept);
  return out;
}

}  // namespace

Value raceways_of_circuit(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  if (const MissingId open = unknown_way(e, s.index); open != 0) return Evaluation::lacks(open);
  MissingId missing = 0;
  const auto laid = laid_by(e, circuit, missing);
  return Evaluation::value(number(static_cast<std::int64_t>(laid.size())).count());
}

Value conductors_apart(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = unknown_way(e, s.index);
  const auto laid = laid_by(e, circuit, missing);
  if (missing != 0) return Evaluation::lacks(missing);
  std::int64_t count = 0;
  Value worst = Evaluation::value(0);
  for (std::size_t i = 0; i < laid.size(); ++i) {
    const Laid& here = laid[i];
    const auto beside = [&](std::size_t j) {
      return j < laid.size() && laid[j].from == here.from && laid[j].to == here.to && laid[j].current() > 0;
    };
    // Raceways between the same two places stand side by side.
    const bool ground_apart =
        here.current() == 0 && here.carrying.grounding > 0 && (beside(i + 1) || (i > 0 && beside(i - 1)));
    if (here.current() != 1 && !ground_apart) continue;
    e.note(FMT_COMPILE("raceway {}: {} of the circuit that carry current, {} for grounding"),
           e.model.raceways[here.raceway].id, here.current(), here.carrying.grounding);
    const bool first =
        count == 0 || e.model.raceways[here.raceway].id < e.model.raceways[worst.place.index].id;
    if (first) worst.place = {SubjectKind::raceway, here.raceway};
    ++count;
  }
  worst.count = number(count).count();
  return worst;
}

}  // namespace raceward::figure::compute
