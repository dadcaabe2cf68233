// References by id, kept until the whole document is read.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/id_table.hpp"
#include "installation/derived.hpp"
#include "installation/model.hpp"

namespace raceward::document {

/// Where a reference stands: which member of which vector of the model is to hold what the id names.
enum class Link : std::uint8_t {
  place_area,
  place_fed_by,
  machine_receptacle,
  spacing_first,
  spacing_second,
  raceway_from,
  raceway_to,
  raceway_area,
  circuit_protected_by,
  stop_place,
  stop_via,  ///< owner: position in Model::via
  device_box,
  device_circuit,  ///< owner: position in Model::device_circuits
  device_fed_from,
  jumper_from,
  jumper_to,
  jumper_raceway,
  attest_of,  ///< nothing holds it: the model keeps the text
  fact_of,    ///< the same
  waiver_of,  ///< the same, for each id of it
};

struct Pending {
  const char* id = nullptr;
  std::uint32_t size = 0;
  installation::Index owner = installation::none;
  installation::Offset element = 0;  ///< where to look for the attribute
  Link link{};
};

/// Enters all ids of the model, and puts into the model what each pending reference names. Reports ids that
/// two elements bear, references to nothing, and references to the wrong kind of thing. threads: 0, two for
/// many references; 1, none but this one.
void join(installation::Model& model, const std::vector<Pending>& pending, Faults& faults, unsigned threads);

/// Whether what was joined fits together: raceways between two places, spacings between raceways of their
/// box, jumpers at their raceway, one waiver of a finding, which ends no sooner than it begins.
void check_links(const installation::Model& model, Faults& faults);
/// Whether panels and devices are fed by what leads to them, and nothing by itself.
void check_feeds(const installation::Model& model, Faults& faults);
/// What is wrong with the ways of runs, in words, each at its stop.
void report_routes(const installation::Model& model, const installation::Routes& routes, Faults& faults);

}  // namespace raceward::document
