// What a rule can be about.
#pragma once

#include <compare>
#include <cstdint>
#include <string_view>

#include "raceward/export.h"

namespace raceward {

/// Kinds of things that rules judge and figures describe. The value is stable: it crosses the C ABI.
enum class SubjectKind : std::uint8_t {
  installation,  ///< the document as a whole; index 0
  area,          ///< a room or an outdoor part of the premises
  panel,         ///< index of a place
  overcurrent_device,
  box,           ///< index of a place
  conduit_body,  ///< index of a place
  equipment,     ///< index of a place
  joint,         ///< a coupling between raceways of two types that is no pull point; index of a place
  raceway,
  pull_section,  ///< derived: raceways between two pull points
  circuit,       ///< a branch circuit or feeder, or wiring outside any circuit
  conductor,
  device,
  bonding_jumper,
  attestation,
  place,  ///< any of panel, box, conduit body, equipment, joint: what a rule or a figure may ask for; one
          ///< index space
};
inline constexpr std::uint8_t subject_kind_count = 16;

/// True for the kinds that share the index space of places.
constexpr bool is_place(SubjectKind kind) {
  return kind == SubjectKind::panel || kind == SubjectKind::box || kind == SubjectKind::conduit_body ||
         kind == SubjectKind::equipment || kind == SubjectKind::joint || kind == SubjectKind::place;
}

/// "raceway", "pull section", ... as reports write it.
RACEWARD_API std::string_view name_of(SubjectKind kind);

/// One thing in one installation. An index, never a pointer; valid for that installation only.
struct Subject {
  SubjectKind kind = SubjectKind::installation;
  std::uint32_t index = 0;

  friend constexpr auto operator<=>(const Subject&, const Subject&) = default;
};

}  // namespace raceward
