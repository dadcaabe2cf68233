// Voltage drop of circuits, as a share of their voltage: to the place where it is largest, and to each.
//
// Method: the whole load of the circuit at that place, through the impedance of the conductors there and
// back. Between two ungrounded conductors the way out counts twice, in three phases the root of three times.
// What is not known is taken both as bad and as good as it may be.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/root.hpp"
#include "figure/shown.hpp"
#include "figure/sorted.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::int64_t one = number(1).count();

enum class System : std::uint8_t { to_neutral, between_two, three_phase };

/// Over which conductors a load may lie.
struct Connection {
  System system{};
  std::int64_t volts = 0;
};

/// A share of the voltage: no more than, no less than.
struct Drop {
  std::int64_t most = 0, least = 0;
  Subject place;
  MissingId open = 0;   ///< without these it has no upper bound
  MissingId loose = 0;  ///< without these the bounds lie apart

  [[nodiscard]] bool exact() const { return open == 0 && most == least; }
  [[nodiscard]] MissingId missing() const { return open != 0 ? open : loose; }
};

class Dropping {
 public:
  Dropping(Evaluation& e, Index circuit) : e_(e), index_(circuit), circuit_(e.model.circuits[circuit]) {}

  /// At the place where it is largest.
  Drop find(bool tell) {
    const Way way = begin();
    const WayPlace* worst = nullptr;
    for (const WayPlace& place : way.places) {
      const std::int64_t most = share(place, true);
      drop_.least = std::max(drop_.least, share(place, false));
      const bool larger = worst == nullptr || most > drop_.most;
      const bool by_name = worst != nullptr && most == drop_.most &&
                           id_before(e_.model.places[place.place].id, e_.model.places[worst->place].id);
      if (!larger && !by_name) continue;
      drop_.most = most;
      worst = &place;
    }
    if (worst != nullptr) drop_.place = outlet_at(e_, index_, worst->place);
    loosen_power_factor(drop_);
    if (tell && worst != nullptr && drop_.open == 0) note(way, *worst);
    return drop_;
  }

  /// At each place that the circuit reaches, by place.
  std::vector<std::pair<Index, Drop>> each() {
    std::vector<std::pair<Index, Drop>> all;
    for (const WayPlace& place : begin().places) {
      Drop drop = drop_;
      drop.most = share(place, true);
      drop.least = share(place, false);
      loosen_power_factor(drop);
      all.emplace_back(place.place, drop);
    }
    std::ranges::sort(all, {}, &std::pair<Index, Drop>::first);
    return all;
  }

  void tell(Index where) {
    const Way way = begin();
    for (const WayPlace& place : way.places) {
      if (place.place == where && drop_.open == 0) note(way, place);
    }
  }

  /// That it is not known to reach a place.
  [[nodiscard]] Drop elsewhere(Index place) {
    begin();
    if (drop_.open == 0) {
      open(e_.lacks(at(), "run", "a run that stops there", designer,
                    fmt::format(FMT_COMPILE("no run of it leads to {}"), e_.model.places[place].id))
               .missing);
    }
    return drop_;
  }

 private:
  [[nodiscard]] Subject at() const { return {SubjectKind::circuit, index_}; }

  /// The way, with what holds at all of its places.
  Way begin() {
    std::optional<Number> power_factor;
    if (circuit_.power_factor.known()) power_factor = *circuit_.power_factor;
    Way way = way_of(e_, index_, power_factor);
    open(way.missing);
    open(way.unmeasured);
    find_load();
    find_connections(way);
    return way;
  }

  void loosen_power_factor(Drop& drop) {
    if (circuit_.power_factor.known() || drop.most == drop.least) return;
    const Value lack = e_.lacks(at(), "power-factor", "the power factor of the load, such as 0.85", designer);
    drop.loose = e_.missing.both(drop.loose, lack.missing);
  }

  void open(MissingId missing) { drop_.open = e_.missing.both(drop_.open, missing); }
  void loosen(const Value& lack) { drop_.loose = e_.missing.both(drop_.loose, lack.missing); }

  void find_load() {
    if (!circuit_.load.known()) {
      open(e_.lacks(at(), "load", "the current that it is to carry, such as 12A", designer).missing);
      return;
    }
    current_most_ = current_least_ = (*circuit_.load).count();
    const Index largest = circuit_use(e_).on(index_).largest;
    if (largest == none) return;
    const Place& equipment = e_.model.places[largest];
    if ((*equipment.rating).count() <= current_most_) return;
    current_most_ = (*equipment.rating).count();
    if (const MissingId wrong = load_on_contradicted(e_, index_); wrong != 0)
      return loosen(Evaluation::lacks(wrong));
    loosen(e_.lacks(at(), "load", "the current that it is to carry, such as 12A", designer,
                    fmt::format(FMT_COMPILE("equipment {} on it takes {}"), equipment.id,
                                text_of(show(*equipment.rating, Unit::ampere)))));
  }

  void connect(System system, std::int64_t volts) { connections_.push_back({system, volts}); }

  void find_connections(const Way& way) {
    if (const MissingId wrong = voltage_contradicted(e_, index_); wrong != 0) open(wrong);
    if (!circuit_.voltage.known()) {
      open(e_.lacks(at(), "voltage", "the voltage between its conductors", designer).missing);
      return;
    }
    if (way.ungrounded == 0) {
      open(e_.lacks(at(), "conductor", "its ungrounded conductors", designer,
                    "no ungrounded conductor of it is written")
               .missing);
      return;
    }
    // Side by side they share the load: it is no more than all of it in one of them.
    if (const MissingId sets = side_by_side(e_, at()); sets != 0) {
      current_least_ = 0;
      drop_.loose = e_.missing.both(drop_.loose, sets);
    }
    const std::int64_t volts = (*circuit_.voltage).count();
    if (way.ungrounded == 1) {
      connect(way.grounded == 0 ? System::between_two : System::to_neutral, volts);
      return;
    }
    if (!circuit_.to_ground.known()) {
      open(e_.lacks(at(), "voltage-to-ground", "a voltage such as 120V", designer).missing);
      return;
    }
    const std::int64_t to_ground = (*circuit_.to_ground).count();
    const bool shared = way.grounded != 0 && circuit_.kind != CircuitKind::feeder;
    const bool may_be_uneven = shared && circuit_.multiwire != YesNo::no;
    if (volts <= to_ground && way.grounded != 0) {
      connect(System::to_neutral, volts);
      return;
    }
    if (may_be_uneven) connect(System::to_neutral, to_ground);
    if (may_be_uneven && circuit_.multiwire == YesNo::yes) return;
    const Value three = volts < 2 * to_ground ? three_phases_of(e_, index_) : Value{};
    if (!three || three.count == 0) connect(System::between_two, volts);
    if (!three || three.count != 0) connect(System::three_phase, volts);
    if (!three) loosen(three);
    if (may_be_uneven) loosen(e_.lacks(at(), "multiwire", "yes or no", designer));
  }

  [[nodiscard]] std::int64_t share_of(const Connection& c, const WayImpedance& z, bool most) const {
    const std::int64_t out = most ? z.out_most : z.out_least, back = most ? z.back_most : z.back_least;
    wide_int ohms = 0;
    switch (c.system) {
      case System::to_neutral:
        ohms = wide_int{out} + back;
        break;
      case System::between_two:
        ohms = wide_int{out} * 2;
        break;
      case System::three_phase:
        ohms = (wide_int{out} * root_of_three + one / 2) / one;
        break;
    }
    // Microamperes times nanohms, over microvolts: steps of a number.
    const wide_int current = most ? current_most_ : current_least_;
    return detail::saturate((current * ohms + c.volts / 2) / c.volts);
  }

  [[nodiscard]] std::int64_t share(const WayPlace& place, bool most) const {
    std::int64_t found = 0;
    for (std::size_t i = 0; i < connections_.size(); ++i) {
      const std::int64_t one_of = share_of(connections_[i], place.impedance, most);
      found = i == 0 ? one_of : most ? std::max(found, one_of) : std::min(found, one_of);
    }
    return found;
  }

  void note(const Way& way, const WayPlace& to) {
    note_way(e_, way, to);
    const std::string load = text_of({current_most_, Unit::ampere});
    for (const Connection& c : connections_) {
      const std::string volts = text_of({c.volts, Unit::volt}),
                        drop = shown_percent(Number::steps(share_of(c, to.impedance, true)));
      switch (c.system) {
        case System::to_neutral:
          e_.note(FMT_COMPILE("circuit {}: {} x ({} + {}) of {} = {}"), circuit_.id, load,
                  shown_ohms(to.impedance.out_most), shown_ohms(to.impedance.back_most), volts, drop);
          break;
        case System::between_two:
          e_.note(FMT_COMPILE("circuit {}: {} x 2 x {} of {} = {}"), circuit_.id, load,
                  shown_ohms(to.impedance.out_most), volts, drop);
          break;
        case System::three_phase:
          e_.note(FMT_COMPILE("circuit {}: {} x 1.732 x {} of {} = {}"), circuit_.id, load,
                  shown_ohms(to.impedance.out_most), volts, drop);
          break;
      }
    }
  }

  Evaluation& e_;
  const Index index_;
  const Circuit& circuit_;
  Drop drop_;
  std::int64_t current_most_ = 0, current_least_ = 0;
  std::vector<Connection> connections_;
};

using AtPlaces = std::vector<std::pair<Index, Drop>>;

/// Of all circuits, each found when somebody asks.
struct Drops {
  std::vector<Drop> own;
  std::vector<std::uint8_t> ready;
  AlongFeeders<Drop> whole;
  std::vector<AtPlaces> each;  // by circuit; empty where nobody asked
  AlongFeeders<Drop> ahead;    // of the panel where a circuit begins
};

const Drop& own_drop(Evaluation& e, Index circuit) {
  auto& all = e.once<Drops>();
  all.own.resize(e.model.circuits.size());
  all.ready.resize(e.model.circuits.size());
  if (all.ready[circuit] == 0) all.own[circuit] = Dropping(e, circuit).find(false);
  all.ready[circuit] = 1;
  if (e.noting()) Dropping(e, circuit).find(true);
  return all.own[circuit];
}

/// With that of the feeders ahead.
const Drop& whole_drop(Evaluation& e, Index circuit) {
  return e.once<Drops>().whole.of(e, circuit, [&](Index here, const Drop* ahead, MissingId circle) {
    Drop whole = own_drop(e, here);
    whole.open = e.missing.both(whole.open, circle);
    if (ahead == nullptr) return whole;
    const bool ends_here = ahead->place == Subject{SubjectKind::panel, panel_of(e, here)};
    whole.most = detail::saturate(wide_int{whole.most} + ahead->most);
    if (ends_here) whole.least = detail::saturate(wide_int{whole.least} + ahead->least);
    whole.open = e.missing.both(whole.open, ahead->open);
    whole.loose = e.missing.both(whole.loose, ahead->loose);
    return whole;
  });
}

Drop both_of(Evaluation& e, const Drop& a, const Drop& b) {
  Drop sum = a;
  sum.most = detail::saturate(wide_int{a.most} + b.most);
  sum.least = detail::saturate(wide_int{a.least} + b.least);
  sum.open = e.missing.both(a.open, b.open);
  sum.loose = e.missing.both(a.loose, b.loose);
  return sum;
}

/// Of the circuit alone, on the way to one place.
Drop drop_at(Evaluation& e, Index circuit, Index place) {
  auto& all = e.once<Drops>().each;
  all.resize(e.model.circuits.size());
  if (all[circuit].empty()) all[circuit] = Dropping(e, circuit).each();
  if (e.noting()) Dropping(e, circuit).tell(place);
  const auto found = std::ranges::lower_bound(all[circuit], place, {}, &std::pair<Index, Drop>::first);
  if (found != all[circuit].end() && found->first == place) return found->second;
  return Dropping(e, circuit).elsewhere(place);
}

/// With the feeders ahead of it, each to the panel where the next begins.
Drop whole_drop_at(Evaluation& e, Index circuit, Index place) {
  const Drop& ahead =
      e.once<Drops>().ahead.of(e, circuit, [&](Index here, const Drop* before, MissingId circle) {
        Drop sum;
        sum.open = circle;
        return before == nullptr ? sum
                                 : both_of(e, *before, drop_at(e, feeder_of(e, here), panel_of(e, here)));
      });
  return both_of(e, ahead, drop_at(e, circuit, place));
}

/// The largest of several circuits, as one may be known to be.
class Largest {
 public:
  explicit Largest(Evaluation& e) : e_(e) {}
  void add(const Drop& drop) {
    most_ = std::max(most_, drop.most);
    least_ = std::max(least_, drop.least);
    missing_ = e_.missing.both(missing_, drop.open);
    loose_ = e_.missing.both(loose_, drop.loose);
  }
  [[nodiscard]] Value at_most() const {
    return missing_ == 0 ? Evaluation::value(most_) : Evaluation::lacks(missing_);
  }
  [[nodiscard]] Value exactly() const {
    return missing_ == 0 && most_ != least_ ? Evaluation::lacks(loose_) : at_most();
  }

 private:
  Evaluation& e_;
  std::int64_t most_ = 0, least_ = 0;
  MissingId missing_ = 0, loose_ = 0;
};

Largest to_device(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  Largest largest(e);
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i)
    largest.add(whole_drop_at(e, e.model.device_circuits[i], device.box));
  return largest;
}

Largest to_place(Evaluation& e, Subject s) {
  if (const Index receptacle = receptacle_of(e.model, s.index); receptacle != none)
    return to_device(e, {SubjectKind::device, receptacle});
  std::vector<Index> circuits;
  for (const Visit& visit : e.in.routes.visits_at(s.index))
    circuits.push_back(e.model.runs[visit.run].circuit);
  std::ranges::sort(circuits);
  circuits.erase(std::unique(circuits.begin(), circuits.end()), circuits.end());
  Largest largest(e);
  const auto by_id = told_by_id(e, e.model.circuits, std::span<const Index>(circuits));
  for (const Index circuit : by_id) largest.add(whole_drop_at(e, circuit, s.index));
  return largest;
}

Value bounded(std::int64_t count, const Drop& drop) {
  Value value = Evaluation::value(count);
  value.place = drop.place;
  return value;
}

Value exactly(const Drop& drop) {
  return drop.exact() ? bounded(drop.most, drop) : Evaluation::lacks(drop.missing());
}

Value at_most(const Drop& drop) {
  return drop.open == 0 ? bounded(drop.most, drop) : Evaluation::lacks(drop.open);
}

}  // namespace

Value voltage_drop(Evaluation& e, Subject s) { return exactly(own_drop(e, s.index)); }
Value voltage_drop_at_most(Evaluation& e, Subject s) { return at_most(own_drop(e, s.index)); }
Value voltage_drop_at_least(Evaluation& e, Subject s) {
  const Drop& drop = own_drop(e, s.index);
  return bounded(drop.least, drop);
}

Value voltage_drop_limit(Evaluation& e, Subject s) {
  const bool feeder = e.model.circuits[s.index].kind == CircuitKind::feeder;
  return set_by_law(e, feeder ? "voltage-drop-feeder" : "voltage-drop-branch", Dimension::none);
}

Value voltage_drop_total(Evaluation& e, Subject s) { return exactly(whole_drop(e, s.index)); }
Value voltage_drop_total_at_most(Evaluation& e, Subject s) { return at_most(whole_drop(e, s.index)); }
Value voltage_drop_total_at_least(Evaluation& e, Subject s) {
  const Drop& drop = whole_drop(e, s.index);
  return bounded(drop.least, drop);
}
Value voltage_drop_total_limit(Evaluation& e, Subject) {
  return set_by_law(e, "voltage-drop-total", Dimension::none);
}

namespace {

/// The circuits at the receptacle that equipment is plugged into are not told.
Value plug_open(Evaluation& e, Subject s) {
  if (is_loose(e, s.index)) return lacks_receptacle_of(e, s.index);
  const Index receptacle = receptacle_of(e.model, s.index);
  return receptacle == none ? answer(true) : circuits_come(e, receptacle);
}

}  // namespace

Value voltage_drop_to_place(Evaluation& e, Subject s) {
  if (const Value open = plug_open(e, s); !open) return open;
  return to_place(e, s).exactly();
}
Value voltage_drop_to_place_at_most(Evaluation& e, Subject s) {
  if (const Value open = plug_open(e, s); !open) return open;
  return to_place(e, s).at_most();
}

Value voltage_drop_to_device(Evaluation& e, Subject s) {
  if (const Value come = circuits_come(e, s.index); !come) return come;
  return to_device(e, s).exactly();
}
Value voltage_drop_to_device_at_most(Evaluation& e, Subject s) {
  if (const Value come = circuits_come(e, s.index); !come) return come;
  return to_device(e, s).at_most();
}

}  // namespace raceward::figure::compute
