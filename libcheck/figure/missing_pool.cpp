#include "figure/missing_pool.hpp"

#include <algorithm>
#include <functional>
#include <iterator>
#include <tuple>
#include <utility>

namespace raceward::figure {

namespace {

void mix(std::size_t& hash, std::size_t value) {
  hash ^= value + 0x9e3779b97f4a7c15U + (hash << 6) + (hash >> 2);  // not law: a hash
}

// Who could supply a fact and what is expected follow from the rest, or nearly so.
std::size_t hash_of(const Fact& fact) {
  const std::hash<std::string_view> words;
  auto hash = static_cast<std::size_t>(fact.element.kind);
  mix(hash, fact.element.index);
  mix(hash, fact.source);
  mix(hash, words(fact.name));
  if (!fact.why.empty()) mix(hash, words(fact.why));
  return hash;
}

}  // namespace

void HashSlots::insert(std::size_t hash, std::uint32_t number) {
  if (++count_ * 2 > slots_.size()) {
    std::vector<Slot> larger(std::max<std::size_t>(slots_.size() * 2, 16));  // not law: the first slots
    const std::vector<Slot> former = std::exchange(slots_, std::move(larger));
    for (const Slot& each : former)
      if (each.number != none) put(each);
  }
  put({hash, number});
}

void HashSlots::put(Slot slot) {
  std::size_t at = place_of(slot.hash);
  while (slots_[at].number != none) at = (at + 1) & (slots_.size() - 1);
  slots_[at] = slot;
}

MissingPool::MissingPool(const Installation& installation) : in_(installation), sets_(1) {}

MissingId MissingPool::add(Fact fact) {
  const std::size_t hash = hash_of(fact);
  std::uint32_t number = known_facts_.find(hash, [&](std::uint32_t each) { return facts_[each] == fact; });
  if (number == HashSlots::none) {
    number = static_cast<std::uint32_t>(facts_.size());
    facts_.push_back(std::move(fact));
    known_facts_.insert(hash, number);
    alone_.push_back(new_set({&number, 1}, false));
  }
  return alone_[number];
}

MissingId MissingPool::both(MissingId a, MissingId b) {
  if (a == 0 || a == b) return b;
  if (b == 0) return a;
  constexpr std::size_t slots = 1024;  // not law: pairs that are remembered
  if (recent_.empty()) recent_.resize(slots);
  const auto [lesser, greater] = std::minmax(a, b);
  std::size_t hash = lesser;
  mix(hash, greater);
  Joined& recent = recent_[hash % slots];
  if (recent.a == lesser && recent.b == greater) return recent.both;
  const auto of_a = members(a), of_b = members(b);
  joined_.clear();
  std::set_union(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(), std::back_inserter(joined_));
  recent = {lesser, greater, keep(cut(a) || cut(b))};
  return recent.both;
}

MissingId MissingPool::all(std::span<const MissingId> sets) {
  joined_.clear();
  bool cut = false;
  for (const MissingId set : sets) {
    const auto facts = members(set);
    joined_.insert(joined_.end(), facts.begin(), facts.end());
    cut = cut || this->cut(set);
  }
  if (joined_.empty()) return 0;
  std::sort(joined_.begin(), joined_.end());
  joined_.erase(std::unique(joined_.begin(), joined_.end()), joined_.end());
  return keep(cut);
}

/// The set of the facts in `joined_`, which are in rising order.
MissingId MissingPool::keep(bool cut) {
  if (joined_.size() > most) {
    // Which are kept must not depend on how the set came to be.
    std::nth_element(joined_.begin(), joined_.begin() + most, joined_.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return before(a, b); });
    joined_.resize(most);
    std::sort(joined_.begin(), joined_.end());
    cut = true;
  }
  if (joined_.size() == 1 && !cut) return alone_[joined_.front()];
  std::size_t hash = cut ? 1 : 0;
  for (const std::uint32_t fact : joined_) mix(hash, fact);
  const std::uint32_t known = known_sets_.find(hash, [&](std::uint32_t each) {
    return sets_[each].cut == cut && std::ranges::equal(members(each), joined_);
  });
  if (known != HashSlots::none) return known;
  const MissingId id = new_set(joined_, cut);
  known_sets_.insert(hash, id);
  return id;
}

MissingId MissingPool::new_set(std::span<const std::uint32_t> facts, bool cut) {
  const auto id = static_cast<MissingId>(sets_.size());
  sets_.push_back({members_.size(), static_cast<std::uint32_t>(facts.size()), cut});
  members_.insert(members_.end(), facts.begin(), facts.end());
  return id;
}

const std::string& MissingPool::id_of(std::uint32_t fact) const {
  if (ids_.size() < facts_.size()) ids_.resize(facts_.size());
  std::string& id = ids_[fact];
  if (id.empty()) id = installation::id_of(in_.model, in_.sections, facts_[fact].element);
  return id;
}

/// By id, shorter ones first, so that B2 comes before B10; then by what is missing of the element.
bool MissingPool::before(std::uint32_t a, std::uint32_t b) const {
  if (a == b) return false;
  const Fact &left = facts_[a], &right = facts_[b];
  const std::string &left_id = id_of(a), &right_id = id_of(b);
  return std::tuple(left_id.size(), std::string_view(left_id), left.element.kind, left.name, left.source,
                    std::string_view(left.why), left.expects, left.who) <
         std::tuple(right_id.size(), std::string_view(right_id), right.element.kind, right.name, right.source,
                    std::string_view(right.why), right.expects, right.who);
}

std::vector<const Fact*> MissingPool::facts(MissingId id) const {
  const auto facts = members(id);
  std::vector<std::uint32_t> sorted(facts.begin(), facts.end());
  std::ranges::sort(sorted, [&](std::uint32_t a, std::uint32_t b) { return before(a, b); });
  std::vector<const Fact*> out;
  for (const std::uint32_t fact : sorted) out.push_back(&facts_[fact]);
  return out;
}

}  // namespace raceward::figure
