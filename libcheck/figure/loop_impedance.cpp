// Earth-fault-loop impedance against the overcurrent device.
//
// Method: a circuit breaker opens at once on a multiple of its rating, by its type; the voltage, less what it
// may sag by, divided by that current is the largest impedance of the loop. For fuses the law gives it. What
// is measured on cold conductors may be a share of it. docs/figures/earth-faults.md tells it in words.
#include "figure/circuit_use.hpp"
#include "figure/disconnection.hpp"
#include "figure/facts.hpp"
#include "figure/shown.hpp"

namespace raceward::figure {

using namespace installation;

Value opens_fast(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::unstated)
    return e.lacks(s, "kind", "branch for a final circuit, or feeder", designer);
  const Parameter* const up_to = e.law.parameter("fast-disconnection-rating", Dimension::current);
  if (up_to == nullptr) return e.lacks_law("fast-disconnection-rating");
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  if (circuit.kind == CircuitKind::branch && rating.count <= up_to->value.count) {
    e.used(up_to->cite);
    return answer(true, up_to->cite);
  }
  return e.lacks(Subject{}, "fast-disconnection-rating", "times for other circuits", ruleset_author,
                 fmt::format(FMT_COMPILE("the ruleset in force knows final circuits of up to {} only"),
                             text_of(up_to->value)));
}

Value voltage_to_earth(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (!circuit.to_ground.known()) return e.lacks(s, "voltage-to-ground", "a voltage such as 230V", designer);
  return Evaluation::value((*circuit.to_ground).count());
}

namespace compute {

namespace {

constexpr wide_int one = number(1).count();

/// The largest impedance of the loop, conductors hot.
Value largest_impedance(Evaluation& e, Subject s, const OvercurrentDevice& device, std::int64_t rating) {
  const Index index = e.model.circuits[s.index].overcurrent_device;
  if (device.curve == TripCurve::unstated)
    return e.lacks({SubjectKind::overcurrent_device, index}, "characteristic", "a type such as B", marking,
                   {}, device.source);
  const std::string_view curve = name_of(device.curve);
  const Table* const breakers = e.law.table("trip-multiple");
  const std::uint32_t row = breakers == nullptr ? Table::none : breakers->find({curve});
  if (row != Table::none) {
    const std::int64_t multiple = breakers->count(row, breakers->column("multiple", Dimension::none));
    const Parameter* const sag = e.law.parameter("voltage-factor", Dimension::none);
    if (sag == nullptr || multiple == Table::blank) return e.lacks_law("voltage-factor");
    const Value volts = voltage_to_earth(e, s);
    if (!volts) return volts;
    // Microvolts by microamperes are ohms; one is the step of the factors, and there are as many in an ohm.
    const wide_int current = wide_int{rating} * multiple / one;
    const wide_int ohms = wide_int{volts.count} * sag->value.count / current;
    e.used(breakers->cite(row));
    e.used(sag->cite);
    if (e.noting())
      e.note(FMT_COMPILE("type {} opens at {} x {} = {} ({}): {} x {} ({}) / {} = {}"), curve,
             decimal_of({multiple, Unit::one}), text_of({rating, Unit::ampere}),
             text_of({detail::saturate(current), Unit::ampere}), e.cited(breakers->cite(row)),
             text_of({volts.count, Unit::volt}), sag->text, e.cited(sag->cite),
             text_of({detail::saturate(current), Unit::ampere}), shown_ohms(detail::saturate(ohms)));
    return Evaluation::value(detail::saturate(ohms), breakers->cite(row));
  }
  const Table* const fuses = e.law.table("fuse-impedance");
  const std::string amperes = decimal_of({rating, Unit::ampere});
  const std::uint32_t of = fuses == nullptr ? Table::none : fuses->find({curve, amperes});
  const std::int64_t ohms =
      of == Table::none ? Table::blank : fuses->count(of, fuses->column("impedance", Dimension::resistance));
  if (ohms == Table::blank)
    return e.lacks({SubjectKind::overcurrent_device, index}, "fuse-impedance", "a row for this device",
                   ruleset_author,
                   fmt::format(FMT_COMPILE("the ruleset in force has no impedance for {} of {}"), curve,
                               text_of({rating, Unit::ampere})));
  e.used(fuses->cite(of));
  e.note(FMT_COMPILE("{} of {}: at most {} ({})"), curve, text_of({rating, Unit::ampere}), shown_ohms(ohms),
         e.cited(fuses->cite(of)));
  return Evaluation::value(ohms, fuses->cite(of));
}

}  // namespace

Value loop_impedance(Evaluation& e, Subject s) {
  return given(e, s, e.model.circuits[s.index].loop, Unit::ohm, "loop-impedance",
               "the earth-fault-loop impedance as measured, such as 0.87ohm", installer);
}

Value loop_impedance_limit(Evaluation& e, Subject s) {
  const Value fast = opens_fast(e, s);
  if (!fast) return fast;
  const Value rating = device_rating_of(e, s.index);
  const OvercurrentDevice& device = e.model.overcurrent_devices[e.model.circuits[s.index].overcurrent_device];
  const Value most = largest_impedance(e, s, device, rating.count);
  if (!most) return most;
  const Parameter* const cold = e.law.parameter("cold-impedance-share", Dimension::none);
  if (cold == nullptr) return e.lacks_law("cold-impedance-share");
  const std::int64_t limit = detail::saturate(wide_int{most.count} * cold->value.count / one);
  e.used(cold->cite);
  if (e.noting())
    e.note(FMT_COMPILE("measured on cold conductors: {} x {} ({}) = {}"), shown_ohms(most.count), cold->text,
           e.cited(cold->cite), shown_ohms(limit));
  return Evaluation::value(limit, most.cite);
}

Value residual_protection(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.overcurrent_device == none)
    return e.lacks(s, "protected-by", "the id of an overcurrent device", designer);
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (device.protection == Protection::unstated)
    return e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "ground-fault",
                   "none, class-a or equipment", marking, {}, device.source);
  return answer(device.protection != Protection::none);
}

}  // namespace compute
}  // namespace raceward::figure
