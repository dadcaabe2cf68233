#include "figure/outlets.hpp"

#include <algorithm>

#include "figure/logic.hpp"

namespace raceward::figure::outlets {

using namespace installation;

std::string_view id_of(const Evaluation& e, Subject subject) {
  if (subject.kind == SubjectKind::device) return e.model.devices[subject.index].id;
  if (subject.kind == SubjectKind::circuit) return e.model.circuits[subject.index].id;
  return e.model.overcurrent_devices[subject.index].id;
}

Value rated_at_most(Evaluation& e, Index circuit, std::int64_t most) {
  const Circuit& c = e.model.circuits[circuit];
  if (c.overcurrent_device == none) {
    return e.lacks({SubjectKind::circuit, circuit}, "protected-by", "the id of an overcurrent device",
                   designer, {}, c.source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[c.overcurrent_device];
  if (!device.rating.known()) {
    return e.lacks({SubjectKind::overcurrent_device, c.overcurrent_device}, "rating", "a current such as 20A",
                   marking, {}, device.source);
  }
  const bool fits = (*device.rating).count() <= most;
  if (e.noting()) {
    e.note(FMT_COMPILE("overcurrent device {}: {} {} {}"), device.id,
           text_of(show(*device.rating, Unit::ampere)), fits ? "is within" : "exceeds",
           text_of({most, Unit::ampere}));
  }
  return answer(fits);
}

Value lacks_occupancy(Evaluation& e) {
  return e.lacks({SubjectKind::installation, 0}, "occupancy", "a word such as dwelling", designer, {},
                 e.model.source);
}

Value lacks_area(Evaluation& e, Index place) {
  const Place& p = e.model.places[place];
  return e.lacks({subject_kind(p.kind), place}, "area", "the id of the area where it is", installer, {},
                 p.source);
}

MissingId height_contradicted(Evaluation& e, Index index, std::int64_t limit) {
  const Device& device = e.model.devices[index];
  const Place& box = e.model.places[device.box];
  if (!device.height.known() || !box.mounting_height.known()) return 0;
  if (((*device.height).count() > limit) == ((*box.mounting_height).count() > limit)) return 0;
  return e
      .lacks({SubjectKind::device, index}, "height", "a length such as 48in", installer_tape,
             fmt::format(FMT_COMPILE("it is said to be {}, and its box {} is at {}"),
                         e.text_of(show(*device.height, Unit::inch)), box.id,
                         e.text_of(show(*box.mounting_height, Unit::inch))),
             device.source)
      .missing;
}

std::uint32_t row_of(const Evaluation& e, const Table* table, std::string_view word) {
  if (table == nullptr) return Table::none;
  const std::uint32_t own = table->find({name_of(e.model.occupancy), word});
  return own != Table::none ? own : table->find({"all", word});
}

bool differs_by_occupancy(const Table* table, std::string_view word) {
  if (table == nullptr) return false;
  const auto terms = terms_of(Occupancy{});
  return std::any_of(terms.begin(), terms.end(), [&](const Term& term) {
    return table->find({term.spelling, word}) != Table::none;
  });
}

Row find(Evaluation& e, std::string_view table, Index area, std::string_view attribute,
         std::string_view word) {
  Row out{e.law.table(table), Table::none, area, attribute};
  out.row = row_of(e, out.table, word);
  if (out.known()) e.used(out.cite());
  return out;
}

}  // namespace raceward::figure::outlets
