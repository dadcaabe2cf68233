#include "figure/grounding_size_law.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// How many steps of the gauge a size lies above 0 (1/0 AWG); nothing for sizes by area. By the gauge's
/// definition each step multiplies the area by the same number.
std::optional<int> step_of_gauge(ConductorSize size) {
  const std::string_view name = name_of(size);
  if (!name.ends_with(" AWG")) return std::nullopt;
  int number = 0;
  std::from_chars(name.data(), name.data() + name.size(), number);
  return name.find("/0") == std::string_view::npos ? -number : number - 1;
}

}  // namespace

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
  // As many steps up the gauge are the same proportion exactly; a table's areas are rounded to four digits,
  // and would make sizes short by what was rounded off.
  const auto up = [](ConductorSize to, ConductorSize of) -> std::optional<int> {
    const auto a = step_of_gauge(to), b = step_of_gauge(of);
    return a && b ? std::optional(*a - *b) : std::nullopt;
  };
  const std::optional<int> steps = up(raised, from);
  for (std::size_t s = 1; s < area_.size(); ++s) {
    const auto candidate = static_cast<ConductorSize>(s);
    if (!by_gauge(candidate)) continue;
    const std::optional<int> of_candidate = up(candidate, size);
    const bool enough = steps && of_candidate ? *of_candidate >= *steps
                                              : area(candidate) * area(from) >= area(size) * area(raised);
    if (enough) return candidate;
  }
  return {};
}

const SizeLaw& size_law(Evaluation& e) { return e.of_law<SizeLaw>(); }

}  // namespace raceward::figure
