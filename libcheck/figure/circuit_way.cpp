// Impedance on the way of a circuit's current.
//
// Method: each raceway that the circuit passes has the impedance of its worst conductor that brings the
// current and of its worst one that takes it back, over the raceway's length. From the panel on the way of
// least impedance counts. Where no grounded conductor goes along, as to a switch, the current comes back as
// it went.
#include "figure/circuit_way.hpp"

#include <algorithm>
#include <queue>
#include <tuple>

#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/first_by_id.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Conductors of one run for table_length, in one kind of raceway.
struct RunImpedance {
  WayImpedance impedance;
  MissingId missing = 0;
  bool out = false, back = false;
};

class Finding {
 public:
  Finding(Evaluation& e, Index circuit, std::optional<Number> power_factor)
      : e_(e), index_(circuit), circuit_(e.model.circuits[circuit]), power_factor_(power_factor) {}

  Way find() {
    for (Index c = circuit_.conductors.first; c < circuit_.conductors.end(); ++c) {
      const Conductor& conductor = e_.model.conductors[c];
      if (e_.model.conductor_kinds[conductor.kind].cable) continue;  // its conductors are listed beside it
      if (conductor.role == Role::ungrounded) way_.ungrounded += conductor.count;
      if (conductor.role == Role::grounded) way_.grounded += conductor.count;
    }
    lack(unknown_way(e_, index_));
    for (Index run = circuit_.runs.first; run < circuit_.runs.end(); ++run) lay(run);
    join();
    const Index from = begin();
    if (from != none) spread(from);
    return std::move(way_);
  }

 private:
  void lack(MissingId missing) { way_.missing = e_.missing.both(way_.missing, missing); }

  void take(std::int64_t& most, std::int64_t& least, const Impedance& one) const {
    // The printed column, where it is that of the power factor.
    const Parameter* const column = e_.law.parameter("effective-power-factor", Dimension::none);
    const bool printed = power_factor_ && column != nullptr && column->value.count == power_factor_->count();
    const std::int64_t high = printed ? one.effective : power_factor_ ? one.at(*power_factor_) : one.most();
    const std::int64_t low = power_factor_ ? high : std::min(one.resistance, one.effective);
    most = std::max(most, high);
    least = std::max(least, low);
  }

  RunImpedance of_run(Index run, Conduit conduit) {
    RunImpedance out;
    const Range& conductors = e_.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index c = e_.model.run_conductors[i];
      const Conductor& conductor = e_.model.conductors[c];
      if (e_.model.conductor_kinds[conductor.kind].cable) continue;
      const bool load = takes_load(conductor.role), grounded = conductor.role == Role::grounded;
      if (!load && !grounded) continue;
      (load ? out.out : out.back) = true;
      const ConductorImpedance one = impedance_of(e_, c, conduit);
      out.missing = e_.missing.both(out.missing, one.missing);
      if (load) take(out.impedance.out_most, out.impedance.out_least, one.value);
      if (grounded) take(out.impedance.back_most, out.impedance.back_least, one.value);
    }
    return out;
  }

  void lay(Index run) {
    const Carrying& carrying = carrying_of_run(e_, run);
    lack(carrying.missing);
    if (carrying.hot() == 0) return;
    RunImpedance by_conduit[conduit_count];
    bool ready[conduit_count] = {};
    const Range& hops = e_.in.routes.run_hops[run];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e_.in.routes.hops[h];
      const Conduit conduit = impedance_law(e_).conduit(e_.model.raceways[hop.raceway]);
      const auto at = static_cast<std::size_t>(conduit);
      if (!ready[at]) by_conduit[at] = of_run(run, conduit);
      ready[at] = true;
      measure(hop, by_conduit[at]);
    }
  }

  void measure(const Hop& hop, const RunImpedance& run) {
    const Subject raceway{SubjectKind::raceway, hop.raceway};
    WayStep step{std::min(hop.from, hop.to), std::max(hop.from, hop.to), hop.raceway, {}, run.missing};
    if (e_.model.raceways[hop.raceway].type == RacewayType::unstated) {
      step.missing = e_.missing.both(step.missing, lacks_type(e_, raceway).missing);
    }
    const Value length = e_.get_aside(Id::raceway_length, raceway);
    step.missing = e_.missing.both(step.missing, length.missing);
    if (length) {
      const auto over = [&](std::int64_t ohms) { return over_length(ohms, length.count); };
      const WayImpedance& one = run.impedance;
      step.impedance = {over(one.out_most), over(run.back ? one.back_most : one.out_most),
                        over(one.out_least), over(run.back ? one.back_least : one.out_least)};
    }
    way_.steps.push_back(step);
  }

  /// One step for each raceway, though several runs lie in it.
  void join() {
    auto& steps = way_.steps;
    std::stable_sort(steps.begin(), steps.end(),
                     [](const WayStep& a, const WayStep& b) { return a.raceway < b.raceway; });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      way_.unmeasured = e_.missing.both(way_.unmeasured, steps[i].missing);
      if (kept == 0 || steps[kept - 1].raceway != steps[i].raceway) {
        steps[kept++] = steps[i];
        continue;
      }
      WayStep& same = steps[kept - 1];
      WayImpedance& one = same.impedance;
      const WayImpedance& other = steps[i].impedance;
      one = {std::max(one.out_most, other.out_most), std::max(one.back_most, other.back_most),
             std::max(one.out_least, other.out_least), std::max(one.back_least, other.back_least)};
      same.missing = e_.missing.both(same.missing, steps[i].missing);
    }
    steps.resize(kept);
  }

  /// The panel where the circuit begins.
  Index begin() {
    if (circuit_.overcurrent_device == none) {
      lack(e_.lacks({SubjectKind::circuit, index_}, "protected-by", "the id of an overcurrent device",
                    designer, {}, circuit_.source)
               .missing);
      return none;
    }
    return e_.model.overcurrent_devices[circuit_.overcurrent_device].panel;
  }

  void not_led_to(Index from, Index to) {
    lack(e_.lacks({SubjectKind::circuit, index_}, "run", "runs that lead on from its panel", designer,
                  fmt::format(FMT_COMPILE("no run that is known in full leads from {} to {}"),
                              e_.model.places[from].id, e_.model.places[to].id),
                  circuit_.source)
             .missing);
  }

  [[nodiscard]] std::size_t number_of(const std::vector<Index>& places, Index place) const {
    return static_cast<std::size_t>(std::lower_bound(places.begin(), places.end(), place) - places.begin());
  }

  /// Which of two equal ways is told, whatever the order of the document.
  [[nodiscard]] bool told_before(std::uint32_t a, std::uint32_t b) const {
    return id_before(e_.model.raceways[way_.steps[a].raceway].id,
                     e_.model.raceways[way_.steps[b].raceway].id);
  }

  void spread(Index from) {
    std::vector<Index> places;
    for (const WayStep& step : way_.steps) {
      places.push_back(step.a);
      places.push_back(step.b);
    }
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    if (places.empty()) {
      way_.places.push_back({from, UINT32_MAX, UINT32_MAX, {}});
      return;
    }
    if (!std::binary_search(places.begin(), places.end(), from)) {
      Index first = none;
      for (const Index place : places) hold_first(e_.model.places, first, place);
      not_led_to(from, first);
      return;
    }
    std::vector<std::vector<std::uint32_t>> steps_at(places.size());
    for (std::uint32_t s = 0; s < way_.steps.size(); ++s) {
      steps_at[number_of(places, way_.steps[s].a)].push_back(s);
      steps_at[number_of(places, way_.steps[s].b)].push_back(s);
    }
    walk(places, steps_at, number_of(places, from));
    std::vector<std::uint8_t> reached(places.size());
    for (const WayPlace& place : way_.places) reached[number_of(places, place.place)] = 1;
    Index left = none;
    for (std::size_t p = 0; p < places.size(); ++p)
      if (reached[p] == 0) hold_first(e_.model.places, left, places[p]);
    if (left != none) not_led_to(from, left);
  }

  void walk(const std::vector<Index>& places, const std::vector<std::vector<std::uint32_t>>& steps_at,
            std::size_t from) {
    struct Item {
      WayImpedance cost;
      std::size_t at = 0;
      std::uint32_t step = UINT32_MAX, before = UINT32_MAX;
    };
    const auto later = [&](const Item& a, const Item& b) {
      const auto key = [](const Item& i) { return std::tuple(i.cost.most(), i.cost); };
      if (key(a) != key(b)) return key(b) < key(a);
      return a.step != UINT32_MAX && b.step != UINT32_MAX && told_before(b.step, a.step);
    };
    std::priority_queue<Item, std::vector<Item>, decltype(later)> open(later);
    std::vector<std::uint8_t> done(places.size());
    open.push({{}, from, UINT32_MAX, UINT32_MAX});
    while (!open.empty()) {
      const Item item = open.top();
      open.pop();
      if (done[item.at] != 0) continue;
      done[item.at] = 1;
      const auto here = static_cast<std::uint32_t>(way_.places.size());
      way_.places.push_back({places[item.at], item.step, item.before, item.cost});
      for (const std::uint32_t s : steps_at[item.at]) {
        const WayStep& step = way_.steps[s];
        const std::size_t to = number_of(places, step.a == places[item.at] ? step.b : step.a);
        if (done[to] != 0) continue;
        WayImpedance then = item.cost;
        then += step.impedance;
        open.push({then, to, s, here});
      }
    }
  }

  Evaluation& e_;
  const Index index_;
  const Circuit& circuit_;
  const std::optional<Number> power_factor_;
  Way way_;
};

}  // namespace

WayImpedance& WayImpedance::operator+=(const WayImpedance& other) {
  out_most += other.out_most;
  back_most += other.back_most;
  out_least += other.out_least;
  back_least += other.back_least;
  return *this;
}

Way way_of(Evaluation& e, Index circuit, std::optional<Number> power_factor) {
  return Finding(e, circuit, power_factor).find();
}

Subject outlet_at(Evaluation& e, Index circuit, Index place) {
  Index found = none;
  for (const Index d : devices_on(e, place, circuit)) {
    if (found == none || id_before(e.model.devices[d].id, e.model.devices[found].id)) found = d;
  }
  if (found != none) return {SubjectKind::device, found};
  return {subject_kind(e.model.places[place].kind), place};
}

Index panel_of(const Evaluation& e, Index circuit) {
  const Index device = e.model.circuits[circuit].overcurrent_device;
  return device == none ? none : e.model.overcurrent_devices[device].panel;
}

Index feeder_of(const Evaluation& e, Index circuit) {
  const Index panel = panel_of(e, circuit);
  return panel == none ? none : e.model.places[panel].fed_by;
}

void note_way(Evaluation& e, const Way& way, const WayPlace& to) {
  std::vector<const WayPlace*> places;
  for (const WayPlace* at = &to; at->before != UINT32_MAX; at = &way.places[at->before]) places.push_back(at);
  for (auto at = places.rbegin(); at != places.rend(); ++at) {
    const WayStep& step = way.steps[(*at)->step];
    e.get(Id::raceway_length, {SubjectKind::raceway, step.raceway});
    e.note(FMT_COMPILE("raceway {}: {} there and {} back"), e.model.raceways[step.raceway].id,
           shown_ohms(step.impedance.out_most), shown_ohms(step.impedance.back_most));
  }
}

}  // namespace raceward::figure
