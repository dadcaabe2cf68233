// Closed lists of words, each with a table that finds a word in one step.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <string_view>
#include <type_traits>

#include "installation/bytes.hpp"
#include "installation/terms.hpp"

namespace raceward::document {

using installation::Term;

/// A word's bytes as two numbers, the rest of longer ones left out: equal words have equal keys, and up to
/// sixteen bytes the other way round too.
struct WordKey {
  std::uint64_t head = 0, tail = 0, size = 0;
  friend constexpr bool operator==(const WordKey&, const WordKey&) = default;
  [[nodiscard]] constexpr std::uint64_t mixed() const {
    return ((head ^ std::rotl(tail, 29) * 0x9e3779b97f4a7c15U) + size) * 0x9e3779b97f4a7c15U;
  }
};

constexpr WordKey key_of(std::string_view word) {
  WordKey key{0, 0, word.size()};
  for (std::size_t i = 0; i < word.size() && i < 16; ++i)
    (i < 8 ? key.head : key.tail) |= std::uint64_t{static_cast<unsigned char>(word[i])} << (8 * (i % 8));
  return key;
}

/// Bytes that must be readable behind a word given to the functions named padded, whatever they hold.
inline constexpr std::size_t word_padding = installation::Bytes::padding;

namespace detail {

// At n: which bits of the eight bytes from `from` on the first n of sixteen bytes reach.
constexpr std::array<std::uint64_t, 17> masks_of_first(std::size_t from) {
  std::array<std::uint64_t, 17> masks{};
  for (std::size_t n = from + 1; n < masks.size(); ++n)
    masks[n] = n >= from + 8 ? ~std::uint64_t{0} : (std::uint64_t{1} << (8 * (n - from))) - 1;
  return masks;
}
inline constexpr auto head_masks = masks_of_first(0), tail_masks = masks_of_first(8);

}  // namespace detail

/// key_of, by reading past the word. Without branches: lengths follow no pattern.
inline WordKey key_of_padded(const char* word, std::size_t n) {
  if constexpr (std::endian::native != std::endian::little) return key_of({word, n});
  WordKey key{0, 0, n};
  std::memcpy(&key.head, word, 8);
  std::memcpy(&key.tail, word + 8, 8);
  const std::size_t kept = n < 16 ? n : 16;
  key.head &= detail::head_masks[kept];
  key.tail &= detail::tail_masks[kept];
  return key;
}

/// A closed list: the terms in order, their keys, and slots that hold 1 + their number, found by the key.
struct Words {
  std::span<const Term> terms;
  const WordKey* keys = nullptr;
  const std::uint8_t* slots = nullptr;
  unsigned shift = 0;          ///< 64 - log2 of the number of slots
  std::string_view name = {};  ///< of a list of words for values: "raceway_type"

  /// 1 + the number of a word with word_padding readable bytes behind it; 0 where the list has no such word.
  [[nodiscard]] std::uint8_t find_padded(const char* word, std::size_t n) const {
    return find(key_of_padded(word, n), {word, n});
  }
  [[nodiscard]] constexpr std::uint8_t find(std::string_view word) const { return find(key_of(word), word); }

 private:
  [[nodiscard]] constexpr std::uint8_t find(const WordKey& key, std::string_view word) const {
    const std::size_t mask = (std::size_t{1} << (64 - shift)) - 1;
    for (std::size_t at = key.mixed() >> shift;; at = (at + 1) & mask) {
      const std::uint8_t found = slots[at];
      if (found == 0) return 0;
      if (keys[found - 1U] == key && (key.size <= 16 || terms[found - 1U].spelling == word)) return found;
    }
  }
};

namespace detail {

template <std::size_t N>
inline constexpr unsigned slot_shift = 64 - std::bit_width(2 * N);

/// Keys and slots of a list.
template <std::size_t N>
struct Table {
  static_assert(N < 255);
  std::array<WordKey, N> keys{};
  std::array<std::uint8_t, std::size_t{1} << (64 - slot_shift<N>)> slots{};

  explicit constexpr Table(const Term (&terms)[N]) {
    for (std::size_t i = 0; i < N; ++i) {
      keys[i] = key_of(terms[i].spelling);
      std::size_t at = keys[i].mixed() >> slot_shift<N>;
      while (slots[at] != 0) at = (at + 1) & (slots.size() - 1);
      slots[at] = static_cast<std::uint8_t>(i + 1);
    }
  }
};

template <std::size_t N>
constexpr Words make_words(const Term (&terms)[N], const Table<N>& table, std::string_view name = {}) {
  return {terms, table.keys.data(), table.slots.data(), slot_shift<N>, name};
}

}  // namespace detail

#define RACEWARD_TERM_ROW(identifier, spelling, meaning) ::raceward::document::Term{spelling, meaning},
#define RACEWARD_WORDS(list, LIST)                                  \
  inline constexpr Term list##_terms[] = {LIST(RACEWARD_TERM_ROW)}; \
  inline constexpr detail::Table list##_table{list##_terms};        \
  inline constexpr Words list##_words = detail::make_words(list##_terms, list##_table, #list);

RACEWARD_WORDS(raceway_type, RACEWARD_RACEWAY_TYPES)
RACEWARD_WORDS(trade_size, RACEWARD_TRADE_SIZES)
RACEWARD_WORDS(conductor_size, RACEWARD_CONDUCTOR_SIZES)
RACEWARD_WORDS(insulation, RACEWARD_INSULATIONS)
RACEWARD_WORDS(conductor_material, RACEWARD_CONDUCTOR_MATERIALS)
RACEWARD_WORDS(construction, RACEWARD_CONSTRUCTIONS)
RACEWARD_WORDS(role, RACEWARD_ROLES)
RACEWARD_WORDS(box_kind, RACEWARD_BOX_KINDS)
RACEWARD_WORDS(box_size, RACEWARD_BOX_SIZES)
RACEWARD_WORDS(enclosure_material, RACEWARD_ENCLOSURE_MATERIALS)
RACEWARD_WORDS(raceway_metal, RACEWARD_RACEWAY_METALS)
RACEWARD_WORDS(yes_no, RACEWARD_YES_NO)
RACEWARD_WORDS(mounting, RACEWARD_MOUNTINGS)
RACEWARD_WORDS(body_form, RACEWARD_BODY_FORMS)
RACEWARD_WORDS(bender, RACEWARD_BENDERS)
RACEWARD_WORDS(building, RACEWARD_BUILDINGS)
RACEWARD_WORDS(disconnect, RACEWARD_DISCONNECTS)
RACEWARD_WORDS(system, RACEWARD_SYSTEMS)
RACEWARD_WORDS(electrode, RACEWARD_ELECTRODES)
RACEWARD_WORDS(fitting, RACEWARD_FITTINGS)
RACEWARD_WORDS(knockout, RACEWARD_KNOCKOUTS)
RACEWARD_WORDS(support_kind, RACEWARD_SUPPORT_KINDS)
RACEWARD_WORDS(device_kind, RACEWARD_DEVICE_KINDS)
RACEWARD_WORDS(stop_treatment, RACEWARD_STOP_TREATMENTS)
RACEWARD_WORDS(location, RACEWARD_LOCATIONS)
RACEWARD_WORDS(exposure, RACEWARD_EXPOSURES)
RACEWARD_WORDS(beneath, RACEWARD_BENEATHS)
RACEWARD_WORDS(finish, RACEWARD_FINISHES)
RACEWARD_WORDS(opposite, RACEWARD_OPPOSITES)
RACEWARD_WORDS(area_use, RACEWARD_AREA_USES)
RACEWARD_WORDS(floor_use, RACEWARD_FLOOR_USES)
RACEWARD_WORDS(occupancy, RACEWARD_OCCUPANCIES)
RACEWARD_WORDS(circuit_kind, RACEWARD_CIRCUIT_KINDS)
RACEWARD_WORDS(circuit_service, RACEWARD_CIRCUIT_SERVICES)
RACEWARD_WORDS(protection, RACEWARD_PROTECTIONS)
RACEWARD_WORDS(trip_curve, RACEWARD_TRIP_CURVES)
RACEWARD_WORDS(grounded_by, RACEWARD_GROUNDED_BY)
RACEWARD_WORDS(horsepower, RACEWARD_HORSEPOWERS)
RACEWARD_WORDS(overload, RACEWARD_OVERLOADS)
RACEWARD_WORDS(jumper_routing, RACEWARD_JUMPER_ROUTINGS)
RACEWARD_WORDS(windings, RACEWARD_WINDINGS)

// Lists that the model keeps in another form than a list of terms.
#define RACEWARD_OVERCURRENT_KINDS(X) X(, "circuit-breaker", "") X(, "fuse", "")
#define RACEWARD_RING_KINDS(X)                               \
  X(, "plaster", "a plaster ring, for the finish of a wall") \
  X(, "extension", "an extension ring")
#define RACEWARD_COVER_KINDS(X)                  \
  X(, "raised", "domed, so that it adds volume") \
  X(, "flat", "")                                \
  X(, "blank", "flat, without openings") X(, "device", "with openings for devices") X(, "weatherproof", "")
#define RACEWARD_SUPPORT_FITTINGS(X) X(, "stud", "a fixture stud") X(, "hickey", "a hickey")
#define RACEWARD_WALLS(X) \
  X(, "left", "") X(, "right", "") X(, "top", "") X(, "bottom", "") X(, "back", "") X(, "front", "")
#define RACEWARD_SUPPORTS(X) X(, "none", "there are no supports")
#define RACEWARD_TERMINALS(X)                          \
  X(, "screw", "a screw with the conductor around it") \
  X(, "clamp", "a plate that clamps the conductor")    \
  X(, "push-in", "a spring that holds the conductor") X(, "lug", "") X(, "leads", "leads of the device's own")

RACEWARD_WORDS(overcurrent_kind, RACEWARD_OVERCURRENT_KINDS)
RACEWARD_WORDS(ring_kind, RACEWARD_RING_KINDS)
RACEWARD_WORDS(cover_kind, RACEWARD_COVER_KINDS)
RACEWARD_WORDS(support_fitting, RACEWARD_SUPPORT_FITTINGS)
RACEWARD_WORDS(wall, RACEWARD_WALLS)
RACEWARD_WORDS(supports, RACEWARD_SUPPORTS)
RACEWARD_WORDS(terminal, RACEWARD_TERMINALS)

}  // namespace raceward::document
