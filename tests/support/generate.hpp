// Large installations as documents: panels that feed trees of boxes, equipment and lights through metal
// raceways.
#pragma once

#include <cstdint>
#include <string>

namespace raceward::test {

struct Generated {
  std::uint32_t raceways = 100;  ///< exactly so many
  std::uint64_t seed = 1;        ///< same values, same bytes, on any machine
  double faults = 0;             ///< share, 0 to 1, of raceways, boxes and circuits that have one fault
};

/// The document. Without faults every rule of nec-2023 complies or does not apply; with faults about one in
/// three is a missing datum, the others violate a rule. Clean and faulty documents of a seed have the same
/// shape. About 1.5 kB a raceway, all elements counted: 10^5 raceways are some 150 MB.
std::string generate(const Generated& wanted);

}  // namespace raceward::test
