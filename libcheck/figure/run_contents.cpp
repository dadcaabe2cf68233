// Conductors of each run by size and role.
#include "figure/run_contents.hpp"

#include <algorithm>
#include <array>

#include "figure/conductor.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct AllRuns {
  std::vector<RunContents> runs;
  std::vector<SizeCount> items;
};

RunContents sum_run(Evaluation& e, const Run& run, std::vector<SizeCount>& items) {
  std::array<std::int64_t, size_count> other{}, grounding{};
  RunContents out;
  bool cables = false;
  const auto lacks = [&](MissingId missing, bool may_be_large) {
    out.missing = e.missing.both(out.missing, missing);
    if (may_be_large) out.unsized = e.missing.both(out.unsized, missing);
  };
  if (run.conductors.count == 0) lacks(without_conductors(e, run), true);
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index index = e.model.run_conductors[i];
    const Conductor& c = e.model.conductors[index];
    const ConductorKind& kind = e.model.conductor_kinds[c.kind];
    cables = cables || kind.cable;
    if (kind.cable) continue;  // its conductors are listed beside it
    const Subject subject{SubjectKind::conductor, index};
    if (kind.size == ConductorSize::unstated) {
      const Value lack = e.lacks(subject, "size", "a size such as 12 AWG", marking, {}, c.source);
      lacks(lack.missing, true);
    } else if (c.role == Role::unstated) {
      const Value lack =
          e.lacks(subject, "role", "what the conductor is for, such as ungrounded", designer, {}, c.source);
      lacks(lack.missing,
            !large_is_known(e) || is_large(e, kind.size) || kind.size > ConductorSize::kcmil2000);
    } else {
      const bool ground = c.role == Role::equipment_grounding || c.role == Role::bonding;
      (ground ? grounding : other)[static_cast<std::size_t>(kind.size)] += c.count;
      out.largest = std::max(out.largest, kind.size);
      // Pull boxes are for what must be insulated; what grounds and is bare need not be.
      const bool bare = ground && kind.insulations == bit_of(Insulation::bare);
      const bool may_be_bare = ground && kind.insulations == 0 && is_large(e, kind.size);
      if (may_be_bare) {
        const Value lack = e.lacks(subject, "insulation", "a mark such as THHN, or bare", marking,
                                   "a bare one asks for no room to pull it", c.source);
        out.covering = e.missing.both(out.covering, lack.missing);
        out.unranked = e.missing.both(out.unranked, lack.missing);
      }
      (ground ? out.large_grounding : out.large_other) |= !bare && !may_be_bare && is_large(e, kind.size);
      if (kind.size > ConductorSize::kcmil2000) {
        const Value lack =
            e.lacks(subject, "size", "a size in AWG or kcmil", marking,
                    "metric sizes are not compared with those that ask for a pull box", c.source);
        out.unranked = e.missing.both(out.unranked, lack.missing);
      }
    }
  }
  if (cables) lacks(cables_missing(e, run), true);
  const auto list = [&](const std::array<std::int64_t, size_count>& counts) {
    Range range{static_cast<Index>(items.size()), 0};
    for (std::size_t at = 1; at < counts.size(); ++at) {
      if (counts[at] != 0) items.push_back({static_cast<ConductorSize>(at), counts[at]});
    }
    range.count = static_cast<Index>(items.size()) - range.first;
    return range;
  };
  out.other = list(other);
  out.grounding = list(grounding);
  out.ready = true;
  return out;
}

/// The smallest size that the law calls large, looked up once. Metric sizes stand after the others in the
/// list and are not compared with them.
struct Large {
  bool ready = false;
  ConductorSize smallest{};
};

ConductorSize smallest_large(Evaluation& e) {
  auto& large = e.once<Large>();
  if (!large.ready) {
    large.ready = true;
    const Parameter* p = e.law.parameter(smallest_large_conductor);
    if (p != nullptr) large.smallest = term_spelt<ConductorSize>(p->text);
    if (large.smallest > ConductorSize::kcmil2000) large.smallest = {};
  }
  return large.smallest;
}

}  // namespace

MissingId cables_missing(Evaluation& e, const Run& run) {
  const Index first = e.model.circuits[run.circuit].conductors.first;
  std::vector<std::uint8_t> holds;  // by position in the circuit: whether something of the run lies in it
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& c = e.model.conductors[e.model.run_conductors[i]];
    if (c.of_cable == 0) continue;
    holds.resize(e.model.circuits[run.circuit].conductors.count);
    holds[c.of_cable - 1] = 1;
  }
  MissingId missing = 0;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index index = e.model.run_conductors[i];
    const Conductor& c = e.model.conductors[index];
    if (!e.model.conductor_kinds[c.kind].cable) continue;
    const bool listed = index - first < holds.size() && holds[index - first] != 0;
    if (listed && c.count == 1) continue;
    const Value lack = e.lacks(
        {SubjectKind::conductor, index}, listed ? "count" : "conductor",
        listed ? "one element for each cable" : "the conductors in the cable, with of-cable", installer,
        listed ? "several cables share one list of conductors"
               : "no conductor is written that lies in the cable",
        c.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

MissingId without_conductors(Evaluation& e, const Run& run) {
  return e
      .lacks({SubjectKind::circuit, run.circuit}, "conductor", "the conductors that the run is made of",
             designer, "a run is written, and no conductor of it", e.model.circuits[run.circuit].source)
      .missing;
}

const RunContents& run_contents(Evaluation& e, Index run) {
  auto& all = e.once<AllRuns>();
  if (all.runs.empty()) all.runs.resize(e.model.runs.size());
  RunContents& contents = all.runs[run];
  if (!contents.ready) contents = sum_run(e, e.model.runs[run], all.items);
  return contents;
}

SizeCount size_count_of(Evaluation& e, Index item) { return e.once<AllRuns>().items[item]; }

bool large_is_known(Evaluation& e) { return smallest_large(e) != ConductorSize::unstated; }

bool is_large(Evaluation& e, ConductorSize size) {
  return large_is_known(e) && size >= smallest_large(e) && size <= ConductorSize::kcmil2000;
}

}  // namespace raceward::figure
