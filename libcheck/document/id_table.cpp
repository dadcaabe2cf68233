#include "document/id_table.hpp"

#include <algorithm>

namespace raceward::document {

std::string_view id_text(const installation::Model& model, Subject subject) {
  const std::size_t i = subject.index;
  switch (subject.kind) {
    case SubjectKind::installation:
      return model.id;
    case SubjectKind::area:
      return model.areas[i].id;
    case SubjectKind::panel:
    case SubjectKind::box:
    case SubjectKind::conduit_body:
    case SubjectKind::equipment:
    case SubjectKind::joint:
    case SubjectKind::place:
      return model.places[i].id;
    case SubjectKind::overcurrent_device:
      return model.overcurrent_devices[i].id;
    case SubjectKind::raceway:
      return model.raceways[i].id;
    case SubjectKind::circuit:
      return model.circuits[i].id;
    case SubjectKind::conductor:
      return model.conductors[i].id;
    case SubjectKind::device:
      return model.devices[i].id;
    case SubjectKind::bonding_jumper:
      return model.bonding_jumpers[i].id;
    case SubjectKind::pull_section:
    case SubjectKind::attestation:
      break;
  }
  return {};
}

IdTable::IdTable(const installation::Model& model, std::size_t ids) : model_(model) {
  const std::size_t slots = std::bit_ceil(std::max<std::size_t>(ids + ids / 2, 16));
  slots_.resize(slots);
  mask_ = slots - 1;
  shift_ = 64 - static_cast<unsigned>(std::countr_zero(slots));
}

std::uint64_t IdTable::hash_long(std::string_view id) const {
  std::uint64_t hash = seed_ ^ id.size();
  std::size_t i = 0;
  for (; i + 8 <= id.size(); i += 8) {
    std::uint64_t part = 0;
    std::memcpy(&part, id.data() + i, 8);
    hash = spread(hash + part);
  }
  std::uint64_t last = 0;
  std::memcpy(&last, id.data() + i, id.size() - i);
  hash = spread(hash + last);
  return hash ^ hash >> 29;
}

bool IdTable::matches(const Slot& slot, const Key& key, std::string_view id) const {
  if (slot.bits != key.bits || (slot.state == hashed) != key.is_hash) return false;
  return !key.is_hash || id_text(model_, {slot.kind, slot.index}) == id;
}

IdTable::Found IdTable::find(const Key& key, std::string_view id) const {
  for (std::uint64_t at = key.place;; at = (at + 1) & mask_) {
    const Slot& slot = slots_[at];
    if (slot.state == free) return {};
    if (matches(slot, key, id)) return {{slot.kind, slot.index}, true};
  }
}

IdTable::Found IdTable::insert(const Key& key, std::string_view id, Subject subject) {
  // The key may have been made before the table was spread anew.
  const Key now = spread_again_ ? this->key(id) : key;
  std::size_t way = 0;
  for (std::uint64_t at = now.place;; at = (at + 1) & mask_) {
    Slot& slot = slots_[at];
    if (slot.state == free) {
      slot = {now.bits, subject.index, subject.kind, now.is_hash ? hashed : packed};
      break;
    }
    if (matches(slot, now, id)) return {{slot.kind, slot.index}, true};
    ++way;
  }
  if (way > longest_way && !spread_again_) spread_anew();
  return {};
}

// Ids may be chosen so that they fall on each other. Then they are spread by what the whole file holds, which
// no file can be chosen for without changing it.
void IdTable::spread_anew() {
  spread_again_ = true;
  std::uint64_t hash = 0x2545f4914f6cdd1dU;
  for (std::size_t i = 0; i + 8 <= model_.bytes.size(); i += 8) {
    std::uint64_t part = 0;
    std::memcpy(&part, model_.bytes.data() + i, 8);
    hash = std::rotl((hash ^ part) * 0x9fb21c651e98df25U, 31);
  }
  seed_ = hash;
  std::vector<Slot> old(slots_.size());
  old.swap(slots_);
  for (const Slot& slot : old) {
    if (slot.state == free) continue;
    const Subject subject{slot.kind, slot.index};
    const Key k = key(id_text(model_, subject));
    std::uint64_t at = k.place;
    while (slots_[at].state != free) at = (at + 1) & mask_;
    slots_[at] = {k.bits, subject.index, subject.kind, slot.state};
  }
}

}  // namespace raceward::document
