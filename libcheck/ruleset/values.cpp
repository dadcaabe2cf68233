#include "ruleset/values.hpp"

#include <algorithm>
#include <array>

#include "installation/terms.hpp"
#include "quantity/fault.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {
namespace {

constexpr std::array dimensions = {
    Dimension::none,    Dimension::length,  Dimension::area,        Dimension::volume, Dimension::angle,
    Dimension::current, Dimension::voltage, Dimension::temperature, Dimension::power,  Dimension::resistance};

template <class Term>
std::vector<std::string_view> words_of(Term) {
  std::vector<std::string_view> words;
  for (const auto& term : installation::terms_of(Term{})) words.push_back(term.spelling);
  return words;
}

constexpr std::string_view number_letters = "0123456789.-/ ";

}  // namespace

Parsed<Amount> parse_value(std::string_view text) {
  // Units of different dimensions differ, so at most one reading succeeds.
  const std::size_t end_of_number = std::min(text.find_first_not_of(number_letters), text.size());
  const std::string_view symbol = trimmed(text.substr(end_of_number));
  std::optional<QuantityError> nearest;
  for (const Dimension dimension : dimensions) {
    const Parsed<Amount> amount = parse_amount(text, dimension);
    if (amount) return amount;
    const auto unit = symbol.empty() ? std::nullopt : unit_of(symbol);
    const bool meant = unit             ? dimension_of(*unit) == dimension
                       : symbol.empty() ? dimension == Dimension::none
                                        : quantity::nearest_unit(symbol, dimension).has_value();
    if (meant && !nearest) nearest = amount.error();
  }
  if (!nearest && text.find(',') != std::string_view::npos)
    return QuantityError{"a point stands before decimals, and nothing between thousands", text.find(',')};
  return nearest.value_or(QuantityError{
      "not a number with a unit, such as 24in, 250V, 40% or 0.8; a word stands in the attribute text", 0});
}

Parsed<Amount> parse_cell(std::string_view text, Unit unit) {
  const std::string name = unit == Unit::one ? "plain numbers" : "numbers in " + std::string(symbol_of(unit));
  if (const auto at = text.find_first_not_of(number_letters); at != std::string_view::npos) {
    if (text[at] == ',' && text.find_first_not_of("0123456789,") == std::string_view::npos)
      return QuantityError{
          quoted(text) + " has a comma; write a point before decimals and nothing between thousands", at};
    const bool has_unit = at > 0 && unit_of(trimmed(text.substr(at)));
    return QuantityError{
        quoted(text) +
            (has_unit ? " brings a unit; the column holds " : " is not a number; the column holds ") + name,
        at};
  }
  Parsed<Amount> amount = parse_amount(std::string(text) + std::string(symbol_of(unit)), dimension_of(unit));
  if (!amount) return QuantityError{quoted(text) + ": " + amount.error().what, amount.error().offset};
  return Amount{amount->count, unit};
}

bool below_zero(const Amount& amount) {
  return amount.count < 0 && dimension_of(amount.unit) != Dimension::temperature;
}

namespace {

std::vector<std::string_view> words_of_documents(std::string_view column) {
  std::vector<std::string_view> words;
  if (column == "raceway-type") words = words_of(installation::RacewayType{});
  if (column == "trade-size") words = words_of(installation::TradeSize{});
  if (column == "fitting") words = words_of(installation::Fitting{});
  if (column == "insulation") words = words_of(installation::Insulation{});
  if (column == "floor-use") words = words_of(installation::FloorUse{});
  if (column == "occupancy") words = words_of(installation::Occupancy{});
  if (column == "use") words = words_of(installation::AreaUse{});
  if (column == "trade-size" || column == "occupancy") words.push_back("all");
  return words;
}

}  // namespace

bool has_words_of_documents(std::string_view column) { return !words_of_documents(column).empty(); }

std::optional<std::string> strange_key(std::string_view column, std::string_view word) {
  const std::vector<std::string_view> words = words_of_documents(column);
  if (words.empty() || std::find(words.begin(), words.end(), word) != words.end()) return std::nullopt;
  return quoted(word) + " is no word that documents have for it" + suggestion(word, words);
}

std::optional<Column> column_of(std::string_view heading, std::string& why) {
  const auto open = heading.find('[');
  if (open == std::string_view::npos || heading.back() != ']') {
    why = "column " + quoted(heading) +
          " does not say what it holds; write its kind in brackets: [key], [text], [number] or a unit such "
          "as [in]";
    return std::nullopt;
  }
  if (heading.find(';') != std::string_view::npos) {
    why = "columns stand apart by semicolons here; save the table with commas between them";
    return std::nullopt;
  }
  const std::string_view name = trimmed(heading.substr(0, open));
  const std::string_view kind = trimmed(heading.substr(open + 1, heading.size() - open - 2));
  if (!is_word(name)) {
    why = "column name " + quoted(name) + " is no name; write small letters, digits and hyphens";
    return std::nullopt;
  }
  if (kind == "key") return Column{std::string(name), Column::Kind::key, Unit::one};
  if (kind == "text") return Column{std::string(name), Column::Kind::text, Unit::one};
  if (kind == "number") return Column{std::string(name), Column::Kind::quantity, Unit::one};
  if (const auto unit = kind.empty() ? std::nullopt : unit_of(kind))
    return Column{std::string(name), Column::Kind::quantity, *unit};
  why = "column " + quoted(name) + ": " + quoted(kind) +
        " is no unit; write key, text, number or a unit such as in, in2, in3, ft, mm, A, V, deg, %";
  return std::nullopt;
}

std::string kind_of(const Column& column) {
  if (column.kind == Column::Kind::key) return "[key]";
  if (column.kind == Column::Kind::text) return "[text]";
  if (column.unit == Unit::one) return "[number]";
  return "[" + std::string(symbol_of(column.unit)) + "]";
}

bool alike(const Column& a, const Column& b) {
  return a.kind == b.kind &&
         (a.kind != Column::Kind::quantity || dimension_of(a.unit) == dimension_of(b.unit));
}

}  // namespace raceward::ruleset
