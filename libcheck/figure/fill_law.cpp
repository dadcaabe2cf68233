#include "figure/fill_law.hpp"

#include <algorithm>
#include <charconv>

#include "figure/circle.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;
using raceward::Area;

namespace {

/// A whole number that is all of the text, or nothing.
bool whole(std::string_view text, std::int64_t& out) {
  const auto end = std::from_chars(text.data(), text.data() + text.size(), out);
  return !text.empty() && end.ec == std::errc{} && end.ptr == text.data() + text.size();
}

}  // namespace

void FillLimits::read(const Law& law) {
  const Table* table = law.table("raceway-fill-limit");
  if (table == nullptr) return;
  constexpr std::string_view more_than = "over ";
  const std::uint32_t column = table->column("limit", Dimension::none);
  types.resize(terms_with_unstated<RacewayType>());
  for (std::uint32_t row = 0; row < table->row_count(); ++row) {
    const std::int64_t share = table->count(row, column);
    if (share == Table::blank) continue;
    const FillLimit limit{Number::steps(share), table->cite(row), true};
    const std::string_view key = table->key(row, 0);
    std::int64_t number = 0;
    if (key == "nipple") nipple = limit;
    if (const RacewayType type = term_spelt<RacewayType>(key); type != RacewayType::unstated)
      types[static_cast<std::size_t>(type)] = limit;
    if (whole(key, number)) exactly.emplace_back(number, limit);
    if (key.starts_with(more_than) && whole(key.substr(more_than.size()), number))
      over.emplace_back(number, limit);
  }
  const auto by_number = [](const auto& a, const auto& b) { return a.first < b.first; };
  std::sort(exactly.begin(), exactly.end(), by_number);
  std::sort(over.begin(), over.end(), by_number);
}

namespace {

struct InsideAreas {
  std::vector<InsideArea> areas;  // by type and size
  std::size_t sizes = 0;

  void read(const Law& law);
};

void InsideAreas::read(const Law& law) {
  const auto types = terms_of(RacewayType{});
  const auto size_terms = terms_of(TradeSize{});
  sizes = size_terms.size() + 1;
  areas.resize((types.size() + 1) * sizes);
  const Table* counted = law.table("raceway-count");
  const std::uint32_t counts = counted == nullptr ? Table::none : counted->column("counts");
  for (std::uint32_t row = 0; counted != nullptr && row < counted->row_count(); ++row) {
    const auto type = static_cast<std::size_t>(term_spelt<RacewayType>(counted->key(row, 0)));
    const auto size = static_cast<std::size_t>(term_spelt<TradeSize>(counted->key(row, 1)));
    if (type != 0 && size != 0) areas[type * sizes + size].counts = counted->text(row, counts);
  }
  const Table* table = law.table("raceway-area");
  if (table == nullptr) return;
  const std::uint32_t diameter = table->column("internal-diameter", Dimension::length);
  const std::uint32_t area = table->column("total-area", Dimension::area);
  for (std::size_t t = 0; t < types.size(); ++t) {
    for (std::size_t s = 0; s < size_terms.size(); ++s) {
      const std::uint32_t row = table->find({types[t].spelling, size_terms[s].spelling});
      if (row == Table::none) continue;
      InsideArea& inside = areas[(t + 1) * sizes + s + 1];
      inside.cite = table->cite(row);
      if (const std::int64_t across = table->count(row, diameter); across != Table::blank) {
        inside.diameter = Length::steps(across);
        inside.area = circle_at_most(inside.diameter);
      } else if (const std::int64_t printed = table->count(row, area); printed != Table::blank) {
        inside.area = Area::steps(printed);
      }
      inside.known = inside.area > Area{};
    }
  }
}

}  // namespace

FillLimit FillLimits::of(std::int64_t conductors) const {
  const auto before = [](const auto& row, std::int64_t n) { return row.first < n; };
  const auto exact = std::lower_bound(exactly.begin(), exactly.end(), conductors, before);
  if (exact != exactly.end() && exact->first == conductors) return exact->second;
  const auto above = std::lower_bound(over.begin(), over.end(), conductors, before);
  return above == over.begin() ? FillLimit{} : std::prev(above)->second;
}

const FillLimits& fill_limits(Evaluation& e) { return e.of_law<FillLimits>(); }

const InsideArea& inside_area(Evaluation& e, RacewayType type, TradeSize size) {
  const auto& all = e.of_law<InsideAreas>();
  return all.areas[static_cast<std::size_t>(type) * all.sizes + static_cast<std::size_t>(size)];
}

}  // namespace raceward::figure
