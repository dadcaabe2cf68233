#include "figure/grounding_size_law.hpp"

#include <algorithm>

#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

std::vector<SizeRow> size_rows(const Law& law, std::string_view name) {
  std::vector<SizeRow> rows;
  const Table* const t = law.table(name);
  if (t == nullptr) return rows;
  const std::uint32_t rating = t->column("rating", Dimension::current), copper = t->column("copper"),
                      aluminum = t->column("aluminum");
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (t->count(row, rating) == Table::blank) continue;
    rows.push_back(
        {t->count(row, rating),
         {term_spelt<ConductorSize>(t->text(row, copper)), term_spelt<ConductorSize>(t->text(row, aluminum))},
         t->cite(row)});
  }
  std::sort(rows.begin(), rows.end(), [](const SizeRow& a, const SizeRow& b) { return a.rating < b.rating; });
  return rows;
}

void SizeLaw::read(const Law& law) {
  grounding_ = size_rows(law, "egc-size");
  ungrounded_ = size_rows(law, "least-ungrounded");
  area_.assign(terms_with_unstated<ConductorSize>(), 0);
  if (const Table* t = law.table("conductor-circular-mils")) {
    const std::uint32_t size = t->column("size"), area = t->column("circular-mils", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      if (t->count(row, area) == Table::blank) continue;
      area_[static_cast<std::size_t>(term_spelt<ConductorSize>(t->key(row, size)))] = t->count(row, area);
    }
    area_[0] = 0;  // a spelling that is no size
  }
}

const SizeRow* SizeLaw::row_for(const std::vector<SizeRow>& rows, std::int64_t rating) {
  const auto at = std::lower_bound(rows.begin(), rows.end(), rating,
                                   [](const SizeRow& row, std::int64_t r) { return row.rating < r; });
  return at == rows.end() ? nullptr : &*at;
}

ConductorSize SizeLaw::in_proportion(ConductorSize size, ConductorSize raised, ConductorSize from) const {
  const auto area = [&](ConductorSize s) { return wide_int{area_[static_cast<std::size_t>(s)]}; };
  if (area(size) == 0 || area(raised) == 0 || area(from) == 0) return {};
  for (std::size_t s = 1; s < area_.size(); ++s) {
    const auto candidate = static_cast<ConductorSize>(s);
    if (by_gauge(candidate) && area(candidate) * area(from) >= area(size) * area(raised)) return candidate;
  }
  return {};
}

const SizeLaw& size_law(Evaluation& e) { return e.of_law<SizeLaw>(); }

}  // namespace raceward::figure
