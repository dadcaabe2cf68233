#include "check/wording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "quantity/feet.hpp"

namespace raceward::checking {

namespace {

constexpr unsigned most_decimals = 9;  // decimal_of has no more

/// Percentages and angles read well with two decimals; areas and volumes of tables have four.
unsigned usual_decimals(Unit unit) { return unit == Unit::percent || unit == Unit::degree ? 2 : 4; }

/// A decimal as a whole number of billionths.
wide_int billionths_of(std::string_view decimal) {
  wide_int value = 0;
  unsigned decimals = 0;
  bool fraction = false;
  for (const char c : decimal) {
    if (c == '-') continue;
    if (c == '.') {
      fraction = true;
      continue;
    }
    value = value * 10 + (c - '0');
    if (fraction) ++decimals;
  }
  for (; decimals < most_decimals; ++decimals) value *= 10;
  return value;
}

}  // namespace

std::string rounded(const Amount& amount, unsigned decimals) {
  if (amount.unit == Unit::foot) return quantity::feet_of(amount.count, decimals);
  const std::string exact = decimal_of(amount);
  wide_int step = 1, unit = 1;
  for (unsigned i = decimals; i < most_decimals; ++i) step *= 10;
  for (unsigned i = 0; i < decimals; ++i) unit *= 10;
  const wide_int value = (billionths_of(exact) + step / 2) / step;

  std::string text = fmt::format("{}", static_cast<std::uint64_t>(value / unit));
  if (value % unit != 0) {
    text += fmt::format(".{:0{}}", static_cast<std::uint64_t>(value % unit), decimals);
    text.erase(text.find_last_not_of('0') + 1);
  }
  if (exact.front() == '-' && value != 0) text.insert(text.begin(), '-');
  const std::string_view symbol = symbol_of(amount.unit);
  if (!symbol.empty()) text.append(" ").append(symbol);
  return text;
}

std::string shown(const Amount& amount) { return rounded(amount, usual_decimals(amount.unit)); }

Compared compared(const Amount& found, const Amount& limit) {
  Amount measured = found;  // told in the limit's unit: inches against feet are hard to compare
  if (dimension_of(measured.unit) == dimension_of(limit.unit)) measured.unit = limit.unit;
  Compared out{shown(measured), shown(limit)};
  for (unsigned decimals = usual_decimals(measured.unit) + 1;
       out.measured == out.limit && measured.count != limit.count && decimals <= most_decimals; ++decimals) {
    out = {rounded(measured, decimals), rounded(limit, decimals)};
  }
  return out;
}

std::string_view plural_of(SubjectKind kind) {
  switch (kind) {
    case SubjectKind::installation:
      return "installations";
    case SubjectKind::area:
      return "areas";
    case SubjectKind::panel:
      return "panels";
    case SubjectKind::overcurrent_device:
      return "overcurrent devices";
    case SubjectKind::box:
      return "boxes";
    case SubjectKind::conduit_body:
      return "conduit bodies";
    case SubjectKind::equipment:
      return "pieces of equipment";
    case SubjectKind::joint:
      return "joints";
    case SubjectKind::raceway:
      return "raceways";
    case SubjectKind::pull_section:
      return "pull sections";
    case SubjectKind::circuit:
      return "circuits";
    case SubjectKind::conductor:
      return "conductors";
    case SubjectKind::device:
      return "devices";
    case SubjectKind::bonding_jumper:
      return "bonding jumpers";
    case SubjectKind::attestation:
      return "statements";
    case SubjectKind::place:
      return "places";
  }
  return "subjects";
}

std::string fill_in(std::string_view sentence, const Fillings& with) {
  const std::array<std::pair<std::string_view, std::string_view>, 5> tokens = {{{"{where}", with.where},
                                                                                {"{place}", with.place},
                                                                                {"{measured}", with.measured},
                                                                                {"{limit}", with.limit},
                                                                                {"{detail}", with.detail}}};
  std::string out;
  while (!sentence.empty()) {
    const std::size_t brace = std::min(sentence.find('{'), sentence.size());
    out.append(sentence.substr(0, brace));
    sentence.remove_prefix(brace);
    if (sentence.empty()) break;
    std::size_t taken = 1;
    std::string_view text = sentence.substr(0, 1);
    for (const auto& [token, value] : tokens) {
      if (!sentence.starts_with(token)) continue;
      taken = token.size();
      text = value;
    }
    out.append(text);
    sentence.remove_prefix(taken);
    // "raceway R1, box B1 to box B2, is ..."
    const bool subject = text.data() == with.where.data() || text.data() == with.place.data();
    if (taken > 1 && subject && text.find(", ") != std::string_view::npos && sentence.starts_with(' '))
      out += ',';
  }
  return out;
}

}  // namespace raceward::checking
