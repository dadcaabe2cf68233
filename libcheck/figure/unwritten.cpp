#include "figure/unwritten.hpp"

#include "figure/run_contents.hpp"
#include "figure/told.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct Wayless {
  bool ready = false;
  std::vector<Index> circuits;
};

}  // namespace

const std::vector<Index>& wayless(Evaluation& e) {
  auto& found = e.once<Wayless>();
  if (found.ready) return found.circuits;
  found.ready = true;
  for (Index c = 0; c < e.model.circuits.size(); ++c)
    if (e.model.circuits[c].runs.count == 0) found.circuits.push_back(c);
  std::ranges::sort(found.circuits, [&](Index a, Index b) {
    return id_before(e.model.circuits[a].id, e.model.circuits[b].id);
  });
  return found.circuits;
}

MissingId lacks_run(Evaluation& e, Index circuit, std::string_view why) {
  return e
      .lacks({SubjectKind::circuit, circuit}, "run", "the places that it leads to, one stop after the other",
             designer, std::string(why), e.model.circuits[circuit].source)
      .missing;
}

MissingId unwritten_of(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const MissingId run = c.runs.count == 0 ? lacks_run(e, circuit, {}) : 0;
  if (c.conductors.count != 0) return run;
  return e.missing.both(run, e.lacks({SubjectKind::circuit, circuit}, "conductor",
                                     "the conductors that it is made of", designer, {}, c.source)
                                 .missing);
}

MissingId unwritten_in(Evaluation& e, Index raceway) {
  const auto runs = e.in.routes.runs_in(raceway);
  if (runs.empty()) {
    const auto& others = wayless(e);
    if (!others.empty())
      return lacks_run(e, others.front(), "no run is written, so that it may lie there or not");
    return e
        .lacks({SubjectKind::raceway, raceway}, "run", "the runs of the circuits that lie in it", designer,
               "no circuit is written that lies in it", e.model.raceways[raceway].source)
        .missing;
  }
  MissingId missing = 0;
  for (const Index run : runs) {
    if (e.model.runs[run].conductors.count == 0)
      missing = e.missing.both(missing, without_conductors(e, e.model.runs[run]));
  }
  return missing;
}

}  // namespace raceward::figure
