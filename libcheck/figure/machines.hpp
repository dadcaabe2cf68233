// Equipment by what the law calls it, and what each circuit ends at; found once a check.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "figure/figure.hpp"

namespace raceward::figure {

/// By the rules that hold for the circuit of equipment.
enum class Group : std::uint8_t {
  unknown,  ///< its kind is not stated, or the law has no such word
  plain,    ///< none of its own
  part,     ///< none either: a switch, a contactor and the like, part of the circuit where it takes nothing
            ///< itself
  motor,
  compressor,  ///< a motor-compressor of air conditioning or refrigeration
  arc_welder,
  generator_welder,
  welder,  ///< of which of the two kinds is not said
  other,   ///< rules that no figure knows
};
Group group_of(Evaluation& e, Index place);
constexpr bool is_motor(Group g) { return g == Group::motor || g == Group::compressor; }
constexpr bool is_welder(Group g) {
  return g == Group::arc_welder || g == Group::generator_welder || g == Group::welder;
}
Value lacks_kind(Evaluation& e, Index place);

/// Nothing leads to it, no raceway and no cord: how it is supplied is not said.
bool is_loose(Evaluation& e, Index place);
Value lacks_receptacle_of(Evaluation& e, Index place);
/// A bench or the like that takes nothing, and that nothing leads to.
bool is_furniture(Evaluation& e, Index place);
/// What is asked of equipment is not asked of such: no.
Value takes_nothing(Evaluation& e);

/// A part of the circuit, without a load.
bool takes_nothing(Evaluation& e, Index place);

/// Equipment that the circuit ends at or is spliced to, in order of the document; without parts of the
/// circuit.
std::span<const Index> equipment_on(Evaluation& e, Index circuit);

/// What is missing where equipment of the groups may be on the circuit besides what is known to be: nothing
/// leads to it, or its receptacle does not say its circuit; 0 where none is.
MissingId may_be_on(Evaluation& e, Index circuit, bool (*belongs)(Group));
inline MissingId may_be_on(Evaluation& e, Index circuit) {
  return may_be_on(e, circuit, [](Group group) { return group != Group::part; });
}

/// How many of them belong to the groups; missing where that of one is not known, or where it is on several
/// circuits.
Value count_on(Evaluation& e, Index circuit, bool (*belongs)(Group), std::string_view called);

inline const installation::Machine& machine_of(const Evaluation& e, Index place) {
  return e.model.machines[e.model.places[place].machine];
}
inline Subject equipment_at(Index place) { return {SubjectKind::equipment, place}; }
Value lacks_of(Evaluation& e, Index place, std::string_view attribute, std::string_view expects,
               std::string why = {});

/// Load of equipment as stated; missing where its power at its voltage, or what its motor gives, is plainly
/// more.
Value load_stated(Evaluation& e, Index place);

/// The same as it counts for conductors: more where it is continuous.
Value load_for_conductors(Evaluation& e, Index place);

/// Current of the law's table for a motor on a circuit. Where its own voltage and that of the circuit have
/// different columns it is the larger one, and `least` the smaller one.
struct MotorCurrent {
  Value most;
  std::int64_t least = 0;
  std::int64_t volts = 0;  ///< that the larger one is at
  bool three_phases = false;
  /// Of its nameplate, which counts in place of these if it is an appliance, where that is not said; else 0.
  std::int64_t marked = 0;
  /// Its horsepower, where it is not said: then these are of motors that may take what the nameplate gives.
  MissingId horsepower = 0;
  installation::Horsepower least_power{}, most_power{};  ///< of those motors

  [[nodiscard]] std::int64_t high() const { return marked > most.count ? marked : most.count; }
  [[nodiscard]] std::int64_t low() const { return marked != 0 && marked < least ? marked : least; }
};
MotorCurrent motor_by_table(Evaluation& e, Index circuit, Index place);
/// The same, or of an appliance what it is marked with; missing where the nameplate contradicts the table.
MotorCurrent motor_reading(Evaluation& e, Index circuit, Index place);
/// The same, noted.
MotorCurrent motor_current(Evaluation& e, Index circuit, Index place);
/// What is missing where high and low differ.
Value lacks_motor_reading(Evaluation& e, Index place, const MotorCurrent& current);
/// How much less the conductors of motors on a circuit may have to carry, if those that may be appliances
/// are, or are not.
std::int64_t motor_current_open(Evaluation& e, Index circuit);

/// Full-load current of a motor, rated current of a motor-compressor.
MotorCurrent full_load(Evaluation& e, Index circuit, Index place);

/// Whether motors of the horsepower that a device is rated for take as much as a current, at the voltage and
/// phases that reach a place.
Value horsepower_enough(Evaluation& e, Index circuit, Index place, installation::Horsepower rated,
                        std::int64_t current, Subject device);

/// What is contradicted where the nameplate of a motor says more than the table gives for its horsepower.
MissingId nameplate_beyond(Evaluation& e, Index place, std::int64_t by_table);

/// Current of power at a voltage.
std::int64_t current_of(std::int64_t watts, std::int64_t volts, bool three_phases);
/// What may be more than a stated current, as nameplates are rounded; or a blank where the law does not say.
std::int64_t with_tolerance(const Evaluation& e, std::int64_t current);
/// Mechanical power of a motor, in steps of power; 0 where it is not stated.
std::int64_t watts_of(installation::Horsepower power);
/// Volts of equipment, or else of its circuit; 0 where neither is stated.
std::int64_t volts_of(const Evaluation& e, Index circuit, Index place);

/// A share of a current, rounded down to the microampere.
inline std::int64_t share_of(std::int64_t share, std::int64_t current) {
  return detail::saturate(wide_int{share} * current / number(1).count());
}

/// Current in hundredths of an ampere, as working lines show it.
std::string amperes_shown(std::int64_t count);

/// The standard rating that is not below.
Value next_standard(Evaluation& e, std::int64_t current, bool fuse);

}  // namespace raceward::figure
