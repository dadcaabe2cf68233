#include "figure/ampacity_law.hpp"

#include <algorithm>
#include <bit>

#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

std::int64_t key_of(ConductorMaterial material, ConductorSize size) {
  return static_cast<std::int64_t>(material) * terms_with_unstated<ConductorSize>() +
         static_cast<std::int64_t>(size);
}

template <class Rows, class Before>
void sort(Rows& rows, Before before) {
  std::stable_sort(rows.begin(), rows.end(), before);
}

}  // namespace

std::int64_t InsulationRating::best() const { return std::max({at[1], at[2], at[3]}); }

void AmpacityLaw::read_ampacities(const Law& law) {
  const Table* const t = law.table("ampacity");
  if (t == nullptr) return;
  const std::uint32_t metal = t->column("metal"), size = t->column("size"), rating = t->column("rating"),
                      value = t->column("ampacity", Dimension::current);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const auto material = term_spelt<ConductorMaterial>(t->key(row, metal));
    const auto temperature = parse_temperature(t->key(row, rating));
    if (material == ConductorMaterial::unstated || !temperature || t->count(row, value) == Table::blank)
      continue;
    const auto of = static_cast<std::int64_t>(term_spelt<ConductorSize>(t->key(row, size)));
    ampacity_[static_cast<int>(metal_of(material))].push_back(
        {of, (*temperature).count(), t->count(row, value), t->cite(row)});
  }
  for (auto& rows : ampacity_) {
    sort(rows, [](const Row& a, const Row& b) { return a.rating > b.rating; });
    sort(rows, [](const Row& a, const Row& b) { return a.key < b.key; });
  }
}

void AmpacityLaw::read_insulations(const Law& law) {
  const auto marks = terms_of(Insulation{});
  insulation_.assign(marks.size(), {});
  const Table* const t = law.table("insulation-rating");
  if (t == nullptr) return;
  const std::uint32_t columns[] = {Table::none, t->column("dry", Dimension::temperature),
                                   t->column("damp", Dimension::temperature),
                                   t->column("wet", Dimension::temperature)};
  for (std::size_t mark = 0; mark < marks.size(); ++mark) {
    const std::uint32_t row = t->find({marks[mark].spelling});
    if (row == Table::none) continue;
    InsulationRating& of = insulation_[mark];
    of.known = true;
    of.cite = t->cite(row);
    for (int where = 1; where < 4; ++where) {  // not law: locations
      const std::int64_t limit = t->count(row, columns[where]);
      if (limit != Table::blank && limit > 0) of.at[where] = limit;
    }
  }
}

InsulationRating AmpacityLaw::insulation(const ConductorKind& kind) const {
  InsulationRating of;
  of.all = true;
  CitationId first = no_citation;
  for (auto marks = kind.insulations; marks != 0; marks &= marks - 1) {
    const InsulationRating& one = insulation_[static_cast<std::size_t>(std::countr_zero(marks))];
    if (!one.known) {
      of.all = false;
      continue;
    }
    of.known = true;
    if (first == no_citation) first = one.cite;
    for (int where = 1; where < 4; ++where) {  // not law: locations
      if (one.at[where] <= of.at[where]) continue;
      of.at[where] = one.at[where];
      of.cite = one.cite;
    }
  }
  if (of.cite == no_citation) of.cite = first;
  return of;
}

void AmpacityLaw::read(const Law& law) {
  read_ampacities(law);
  read_insulations(law);
  if (const Table* t = law.table("ambient-correction")) {
    const std::uint32_t up_to = t->column("up-to"), rating = t->column("rating"),
                        factor = t->column("factor", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto ambient = parse_temperature(t->key(row, up_to)), of = parse_temperature(t->key(row, rating));
      if (!ambient || !of || t->count(row, factor) == Table::blank) continue;
      correction_.push_back({(*ambient).count(), (*of).count(), t->count(row, factor), t->cite(row)});
    }
    sort(correction_, [](const Row& a, const Row& b) { return a.key < b.key; });
  }
  if (const Table* t = law.table("conductor-count-adjustment")) {
    const std::uint32_t from = t->column("from"), share = t->column("share", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto count = parse_number(t->key(row, from));
      if (!count || t->count(row, share) == Table::blank) continue;
      adjustment_.push_back({(*count).count(), 0, t->count(row, share), t->cite(row)});
    }
    sort(adjustment_, [](const Row& a, const Row& b) { return a.key > b.key; });
  }
  if (const Table* t = law.table("standard-rating")) {
    const std::uint32_t amperes = t->column("amperes", Dimension::current), of = t->column("of");
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      if (t->count(row, amperes) == Table::blank) continue;
      const Row rating{t->count(row, amperes), 0, t->count(row, amperes), t->cite(row)};
      fuses_.push_back(rating);
      if (t->text(row, of) != "fuse") standard_.push_back(rating);
    }
    sort(standard_, [](const Row& a, const Row& b) { return a.key < b.key; });
    sort(fuses_, [](const Row& a, const Row& b) { return a.key < b.key; });
  }
  if (const Table* t = law.table("small-conductor")) {
    has_small_ = true;
    const std::uint32_t metal = t->column("metal"), size = t->column("size"),
                        largest = t->column("largest", Dimension::current);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      if (t->count(row, largest) == Table::blank) continue;
      small_.push_back({key_of(term_spelt<ConductorMaterial>(t->key(row, metal)),
                               term_spelt<ConductorSize>(t->key(row, size))),
                        0, t->count(row, largest), t->cite(row)});
    }
  }
}

std::optional<Found> AmpacityLaw::ampacity(Metal metal, ConductorSize size, std::int64_t rating) const {
  for (const Row& row : ampacity_[static_cast<int>(metal)]) {
    if (row.key == static_cast<std::int64_t>(size) && row.rating <= rating) return Found{row.value, row.cite};
  }
  return {};
}

std::optional<Found> AmpacityLaw::correction(std::int64_t ambient, std::int64_t rating) const {
  // The column of the highest rating that is not above.
  std::int64_t column = 0;
  for (const Row& row : correction_) {
    if (row.rating <= rating) column = std::max(column, row.rating);
  }
  for (const Row& row : correction_) {
    if (row.rating == column && row.key >= ambient) return Found{row.value, row.cite};
  }
  return {};
}

std::optional<Found> AmpacityLaw::adjustment(std::int64_t conductors) const {
  for (const Row& row : adjustment_) {
    if (row.key <= conductors) return Found{row.value, row.cite};
  }
  return {};
}

std::optional<Found> AmpacityLaw::standard(std::int64_t current, bool fuses) const {
  const auto& rows = fuses ? fuses_ : standard_;
  const auto at = std::lower_bound(rows.begin(), rows.end(), current,
                                   [](const Row& row, std::int64_t c) { return row.key < c; });
  if (at == rows.end()) return {};
  return Found{at->value, at->cite};
}

std::optional<Found> AmpacityLaw::small_conductor(ConductorMaterial material, ConductorSize size) const {
  const std::int64_t wanted = key_of(material, size);
  for (const Row& row : small_) {
    if (row.key == wanted) return Found{row.value, row.cite};
  }
  return {};
}

const AmpacityLaw& ampacity_law(Evaluation& e) { return e.of_law<AmpacityLaw>(); }

InsulationRating insulation_rating(Evaluation& e, Index kind) {
  return ampacity_law(e).insulation(e.model.conductor_kinds[kind]);
}

}  // namespace raceward::figure
