#include "document/links.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <mutex>

#include "document/nearest.hpp"
#include "document/parallel.hpp"
#include "document/vocabulary.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

using namespace installation;
using quantity::quoted;

// One of the attributes that are joined alike: their name and what they may name stand in the vocabulary.
struct Attribute {
  Element element;
  unsigned position;
};

constexpr Attribute attribute_of(Link link) {
  switch (link) {
    case Link::place_area:
      return {Element::box, at::box::area};
    case Link::place_fed_by:
      return {Element::panel, at::panel::fed_by};
    case Link::machine_receptacle:
      return {Element::equipment, at::equipment::plugged_into};
    case Link::spacing_first:
    case Link::spacing_second:
      return {Element::spacing, at::spacing::between};
    case Link::raceway_from:
      return {Element::raceway, at::raceway::from};
    case Link::raceway_to:
      return {Element::raceway, at::raceway::to};
    case Link::raceway_area:
      return {Element::raceway, at::raceway::area};
    case Link::circuit_protected_by:
      return {Element::circuit, at::circuit::protected_by};
    case Link::stop_place:
      return {Element::stop, at::stop::place};
    case Link::stop_via:
      return {Element::stop, at::stop::via};
    case Link::device_box:
      return {Element::device, at::device::box};
    case Link::device_circuit:
      return {Element::device, at::device::circuit};
    case Link::device_fed_from:
      return {Element::device, at::device::fed_from_load_of};
    case Link::jumper_from:
      return {Element::bonding_jumper, at::bonding_jumper::from};
    case Link::jumper_to:
      return {Element::bonding_jumper, at::bonding_jumper::to};
    case Link::jumper_raceway:
      return {Element::bonding_jumper, at::bonding_jumper::raceway};
    case Link::fact_of:
      return {Element::fact, at::fact::of};
    case Link::waiver_of:
      return {Element::waiver, at::waiver::of};
    case Link::attest_of:
      break;
  }
  return {Element::attest, at::attest::of};
}

constexpr bool about_anything(Link link) {
  return link == Link::attest_of || link == Link::fact_of || link == Link::waiver_of;
}

template <class Word>
std::string words_of_kinds(std::uint32_t targets, const Word& word) {
  std::vector<std::string> words;
  for (std::uint8_t k = 0; k < subject_kind_count; ++k)
    if ((targets >> k & 1U) != 0) words.push_back(word(static_cast<SubjectKind>(k)));
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i)
    out += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + words[i];
  return out;
}

std::string plain(SubjectKind kind) { return std::string(name_of(kind)); }

std::string with_article(SubjectKind kind) {
  const std::string_view name = name_of(kind);
  if (kind == SubjectKind::equipment) return plain(kind);
  return (std::string_view("aeiou").find(name[0]) == std::string_view::npos ? "a " : "an ") + plain(kind);
}

class Joiner {
 public:
  Joiner(Model& model, Faults& faults)
      : model_(model),
        faults_(faults),
        ids_(model, model.areas.size() + model.places.size() + model.overcurrent_devices.size() +
                        model.raceways.size() + model.circuits.size() + model.devices.size() +
                        model.bonding_jumpers.size()) {}

  void enter() {
    enter(model_.areas, SubjectKind::area);
    enter(model_.places, SubjectKind::place);
    enter(model_.overcurrent_devices, SubjectKind::overcurrent_device);
    enter(model_.raceways, SubjectKind::raceway);
    enter(model_.circuits, SubjectKind::circuit);
    enter(model_.devices, SubjectKind::device);
    enter(model_.bonding_jumpers, SubjectKind::bonding_jumper);
    // Attests and waivers may be of the whole, and must not mean an element besides.
    if (model_.id.empty()) return;
    const IdTable::Found other = ids_.find(ids_.key(model_.id), model_.id);
    if (!other.found) return;
    faults_.add(locate_attribute(model_, source_of(other.subject), "id"),
                fmt::format("id {} is taken: it is that of the installation", quoted(model_.id)));
  }

  // Each reference has a place of its own in the model, so that threads do not meet there.
  void join(const std::vector<Pending>& pending, unsigned threads) {
    constexpr std::size_t part = std::size_t{1} << 14;  // references at a time
    const auto id = [&](std::size_t i) { return std::string_view{pending[i].id, pending[i].size}; };
    std::atomic<std::size_t> next = 0;
    std::mutex guard;
    std::vector<std::size_t> failed;
    on_threads(threads == 1 || pending.size() < 4 * part ? 1 : std::min(machine_threads(), 2U), [&] {
      for (std::size_t from = next.fetch_add(part); from < pending.size(); from = next.fetch_add(part)) {
        const std::size_t to = std::min(from + part, pending.size());
        for_each_ahead(ids_, from, to, id, [&](const IdTable::Key& key, std::size_t i) {
          const IdTable::Found found = ids_.find(key, id(i));
          if (found.found && put(pending[i], found.subject)) return;
          const std::lock_guard lock(guard);
          failed.push_back(i);
        });
      }
    });
    std::sort(failed.begin(), failed.end());
    for (const std::size_t i : failed) {
      const IdTable::Found found = ids_.find(ids_.key(id(i)), id(i));
      if (!found.found)
        unknown(pending[i], id(i));
      else
        wrong_kind(pending[i], id(i), found.subject);
    }
  }

 private:
  template <class T>
  void enter(const std::vector<T>& elements, SubjectKind kind) {
    for_each_ahead(
        ids_, 0, elements.size(), [&](std::size_t i) { return elements[i].id; },
        [&](const IdTable::Key& key, std::size_t i) {
          if (elements[i].id.empty()) return;
          const auto index = static_cast<Index>(i);
          const SubjectKind own = kind == SubjectKind::place ? kind_of_place(index) : kind;
          const IdTable::Found other = ids_.insert(key, elements[i].id, {own, index});
          if (other.found) twice(elements[i].id, elements[i].source, other.subject);
        });
  }

  [[nodiscard]] SubjectKind kind_of_place(Index place) const {
    return subject_kind(model_.places[place].kind);
  }

  // Reported where the later of the two stands.
  void twice(std::string_view id, Offset source, Subject other) {
    if (faults_.full()) return faults_.count();
    const Offset theirs = source_of(other);
    faults_.add(locate_attribute(model_, std::max(source, theirs), "id"),
                fmt::format("id {} is taken: line {} gives it to another element", quoted(id),
                            locate(model_, std::min(source, theirs)).line));
  }

  [[nodiscard]] Offset source_of(Subject subject) const {
    const Index i = subject.index;
    switch (subject.kind) {
      case SubjectKind::area:
        return model_.areas[i].source;
      case SubjectKind::overcurrent_device:
        return model_.overcurrent_devices[i].source;
      case SubjectKind::raceway:
        return model_.raceways[i].source;
      case SubjectKind::circuit:
        return model_.circuits[i].source;
      case SubjectKind::device:
        return model_.devices[i].source;
      case SubjectKind::bonding_jumper:
        return model_.bonding_jumpers[i].source;
      default:
        return model_.places[i].source;
    }
  }

  // False where the subject is of a kind that cannot stand there.
  bool put(const Pending& p, Subject subject) {
    const Attribute attribute = attribute_of(p.link);
    const std::uint32_t targets = row_of(attribute.element).rows[attribute.position].form.targets;
    if ((targets >> static_cast<unsigned>(subject.kind) & 1U) == 0) return false;
    const Index i = subject.index;
    switch (p.link) {
      case Link::place_area:
        model_.places[p.owner].area = i;
        break;
      case Link::place_fed_by:
        model_.places[p.owner].fed_by = i;
        break;
      case Link::machine_receptacle:
        model_.machines[p.owner].plugged_into = i;
        break;
      case Link::spacing_first:
        model_.spacings[p.owner].first = i;
        break;
      case Link::spacing_second:
        model_.spacings[p.owner].second = i;
        break;
      case Link::raceway_from:
        model_.raceways[p.owner].ends[0].place = i;
        break;
      case Link::raceway_to:
        model_.raceways[p.owner].ends[1].place = i;
        break;
      case Link::raceway_area:
        model_.raceways[p.owner].area = i;
        break;
      case Link::circuit_protected_by:
        model_.circuits[p.owner].overcurrent_device = i;
        break;
      case Link::stop_place:
        model_.stops[p.owner].place = i;
        break;
      case Link::stop_via:
        model_.via[p.owner] = i;
        break;
      case Link::device_box:
        model_.devices[p.owner].box = i;
        break;
      case Link::device_circuit:
        model_.device_circuits[p.owner] = i;
        break;
      case Link::device_fed_from:
        model_.devices[p.owner].line_from = i;
        break;
      case Link::jumper_from:
        model_.bonding_jumpers[p.owner].from = i;
        break;
      case Link::jumper_to:
        model_.bonding_jumpers[p.owner].to = i;
        break;
      case Link::jumper_raceway:
        model_.bonding_jumpers[p.owner].raceway = i;
        break;
      case Link::attest_of:
      case Link::fact_of:
      case Link::waiver_of:
        break;
    }
    return true;
  }

  void unknown(const Pending& p, std::string_view id) {
    if (about_anything(p.link) && id == model_.id) return;
    if (faults_.full()) return faults_.count();
    const Attribute attribute = attribute_of(p.link);
    const ElementRow& row = row_of(attribute.element);
    const std::string_view name = row.attributes.terms[attribute.position].spelling;
    const std::uint32_t targets = row.rows[attribute.position].form.targets;
    std::string message;
    if (about_anything(p.link))
      message = fmt::format("{} {}: nothing has this id", name, quoted(id));
    else
      message = fmt::format("{} {}: no {} has this id", name, quoted(id), words_of_kinds(targets, plain));
    if (const std::string_view near = nearest_id(id, targets); !near.empty())
      message += fmt::format("; did you mean {}?", quoted(near));
    faults_.add(locate_attribute(model_, p.element, name), std::move(message));
  }

  void wrong_kind(const Pending& p, std::string_view id, Subject subject) {
    if (faults_.full()) return faults_.count();
    const Attribute attribute = attribute_of(p.link);
    const ElementRow& row = row_of(attribute.element);
    const std::string_view name = row.attributes.terms[attribute.position].spelling;
    faults_.add(locate_attribute(model_, p.element, name),
                fmt::format("{} {}: line {} gives this id to {}, and {} is wanted", name, quoted(id),
                            locate(model_, source_of(subject)).line, with_article(subject.kind),
                            words_of_kinds(row.rows[attribute.position].form.targets, with_article)));
  }

  // Compares with every id, so only as long as that stays cheap. An id is a slip of another where letters
  // are, not where numbers differ: B12 is no misspelt B11.
  std::string_view nearest_id(std::string_view id, std::uint32_t targets) {
    std::size_t best = (id.size() <= 3 ? 0 : id.size() <= 6 ? 1 : 2) + std::size_t{1};
    std::string_view found;
    const auto compare = [&](std::uint32_t kinds, const auto& elements) {
      if ((targets & kinds) == 0) return;
      for (const auto& element : elements) {
        if (best == 0 || comparisons_ == 0) return;
        --comparisons_;
        const std::size_t distance = edit_distance(id, element.id, best - 1);
        if (distance >= best || element.id.empty() || same_but_digits(id, element.id)) continue;
        best = distance;
        found = element.id;
      }
    };
    const auto kind = [](SubjectKind k) { return std::uint32_t{1} << static_cast<unsigned>(k); };
    compare(kind(SubjectKind::area), model_.areas);
    compare(kind(SubjectKind::box), model_.places);
    compare(kind(SubjectKind::overcurrent_device), model_.overcurrent_devices);
    compare(kind(SubjectKind::raceway), model_.raceways);
    compare(kind(SubjectKind::circuit), model_.circuits);
    compare(kind(SubjectKind::device), model_.devices);
    return found;
  }

  static bool same_but_digits(std::string_view a, std::string_view b) {
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    std::size_t i = 0, j = 0;
    for (;;) {
      while (i < a.size() && digit(a[i])) ++i;
      while (j < b.size() && digit(b[j])) ++j;
      if (i == a.size() || j == b.size()) return i == a.size() && j == b.size();
      if (a[i++] != b[j++]) return false;
    }
  }

  Model& model_;
  Faults& faults_;
  IdTable ids_;
  std::uint64_t comparisons_ = 1'000'000;
};

}  // namespace

void join(Model& model, const std::vector<Pending>& pending, Faults& faults, unsigned threads) {
  Joiner joiner(model, faults);
  joiner.enter();
  joiner.join(pending, threads);
}

}  // namespace raceward::document
