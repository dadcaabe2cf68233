// Symbols and dimensions of units.
#include "quantity/units.hpp"

namespace raceward {

std::string_view symbol_of(Unit unit) { return quantity::row_of(unit).symbol; }

std::optional<Unit> unit_of(std::string_view symbol) {
  if (symbol.size() > quantity::longest_symbol) return std::nullopt;
  const std::uint32_t key = quantity::packed(symbol);
  for (std::size_t i = 0; i < quantity::unit_keys.size(); ++i)
    // The bytes are compared as well: a NUL at the end of a symbol leaves the key unchanged.
    if (quantity::unit_keys[i] == key && quantity::unit_rows[i].symbol.size() == symbol.size())
      return static_cast<Unit>(i);
  return std::nullopt;
}

}  // namespace raceward
