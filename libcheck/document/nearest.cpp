#include "document/nearest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

constexpr std::size_t longest_compared = 64;
constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool alike(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

// What people on site say for a word of documents. Without these, letters alone would lead astray: "ground"
// is near to "grounded", which is the neutral.
struct SaidOnSite {
  std::string_view said, written;
};
constexpr SaidOnSite said_on_site[] = {
    {"ground", "equipment-grounding"},
    {"grounding", "equipment-grounding"},
    {"earth", "equipment-grounding"},
    {"neutral", "grounded"},
    {"hot", "ungrounded"},
    {"live", "ungrounded"},
    {"line", "ungrounded"},
    {"conduit", "raceway"},
    {"pipe", "raceway"},
    {"tubing", "raceway"},
    {"elbow", "bend"},
    {"strap", "support"},
    {"hanger", "support"},
    {"connector", "end"},
    {"wire", "conductor"},
    {"breaker", "overcurrent-device"},
    {"breaker", "protected-by"},
    {"fuse", "overcurrent-device"},
    {"junction-box", "box"},
    {"machine", "equipment"},
    {"outlet", "receptacle"},
    {"outlet", "device"},
    {"socket", "receptacle"},
    {"receptacle", "device"},
    {"switch", "device"},
    {"light", "luminaire"},
    {"light", "device"},
    {"fixture", "luminaire"},
    {"gfci", "class-a"},
    {"gfci", "receptacle"},
    {"steel", "metal"},
    {"plastic", "nonmetallic"},
    {"size", "trade-size"},
    {"degrees", "angle"},
    {"amps", "rating"},
    {"distance", "at"},
    {"0.5", "1/2"},
    {"0.75", "3/4"},
    {"1.25", "1-1/4"},
    {"1.5", "1-1/2"},
    {"cu", "copper"},
    {"al", "aluminum"},
    {"alu", "aluminum"},
    {"aluminium", "aluminum"},
    {"true", "yes"},
    {"1", "yes"},
    {"false", "no"},
    {"0", "no"},
    {"residential", "dwelling"},
    {"house", "dwelling"},
    {"home", "dwelling"},
};

// A size as a list writes it: fractions in figures, and without the unit that goes without saying there.
// "1½ in" is "1-1/2".
std::string without_unit(std::string_view word) {
  constexpr std::pair<std::string_view, std::string_view> fractions[] = {
      {"\xc2\xbd", "1/2"}, {"\xc2\xbc", "1/4"}, {"\xc2\xbe", "3/4"}, {"\xe2\x85\x9b", "1/8"}};
  constexpr std::string_view units[] = {"inches", "inch", "in.", "in", "\"", "horsepower", "hp", "HP"};
  for (const std::string_view unit : units) {
    if (!word.ends_with(unit)) continue;
    word.remove_suffix(unit.size());
    break;
  }
  while (word.ends_with(' ')) word.remove_suffix(1);
  std::string out(word.substr(0, longest_compared));
  for (const auto& [sign, figures] : fractions) {
    const std::size_t at = out.find(sign);
    if (at != std::string::npos) out.replace(at, sign.size(), (at == 0 ? "" : "-") + std::string(figures));
  }
  const std::size_t blank = out.find(' ');  // "1 1/2"
  if (blank != std::string::npos && out.find('/', blank) != std::string::npos) out[blank] = '-';
  return out;
}

// The word of the list that is said so on site, gauges without their unit among them: "#12" is "12 AWG".
std::string_view meant_on_site(std::string_view word, std::span<const Term> terms) {
  std::string_view number = word;
  if (number.starts_with('#')) number.remove_prefix(1);
  constexpr std::string_view gauge = " AWG";
  for (const Term& term : terms) {
    const std::string_view known = term.spelling;
    if (known.ends_with(gauge) && known.substr(0, known.size() - gauge.size()) == number) return known;
  }
  const std::string size = without_unit(word);
  for (const Term& term : terms)
    if (term.spelling == size) return term.spelling;
  for (const SaidOnSite& row : said_on_site) {
    if (!alike(row.said, word)) continue;
    for (const Term& term : terms)
      if (term.spelling == row.written) return term.spelling;
  }
  return {};
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit) {
  const std::size_t longer = std::max(a.size(), b.size()), shorter = std::min(a.size(), b.size());
  if (longer > longest_compared || longer - shorter > limit) return limit + 1;
  using Row = std::array<std::size_t, longest_compared + 1>;
  Row rows[3];
  for (std::size_t j = 0; j <= b.size(); ++j) rows[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    const Row& above = rows[(i - 1) % 3];
    const Row& before = rows[(i + 1) % 3];  // two above
    Row& row = rows[i % 3];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (same ? 0 : 1)});
      if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]))
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
  }
  return std::min(rows[a.size() % 3][b.size()], limit + 1);
}

std::string_view nearest(std::string_view word, std::span<const Term> terms) {
  std::size_t best = slips_allowed(word.size()) + 1;
  std::string_view found;
  for (const Term& term : terms) {
    // A word with nothing of the other left in it is no slip of it.
    const std::size_t most = std::min(best - 1, std::max<std::size_t>(term.spelling.size(), 2) - 1);
    const std::size_t distance = edit_distance(word, term.spelling, most);
    if (distance > most) continue;
    best = distance;
    found = term.spelling;
    if (best == 0) break;
  }
  return found;
}

std::string suggestion(std::string_view word, std::span<const Term> terms) {
  auto meant = meant_on_site(word, terms);
  if (meant.empty()) meant = nearest(word, terms);
  if (!meant.empty()) return fmt::format("; did you mean \"{}\"?", meant);
  return fmt::format("; known {} {}", terms.size() == 1 ? "is" : "are", listed(terms, "and"));
}

std::string listed(std::span<const Term> terms, std::string_view last) {
  std::string out;
  for (std::size_t i = 0; i < terms.size(); ++i) {
    if (i > 0 && i + 1 == terms.size())
      out += fmt::format(" {} ", last);
    else if (i > 0)
      out += ", ";
    out += terms[i].spelling;
  }
  return out;
}

std::string shown(std::string_view name) {
  const std::string quoted = quantity::quoted(name);
  return quoted.substr(1, quoted.size() - 2);
}

}  // namespace raceward::document
