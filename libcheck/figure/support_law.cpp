#include "figure/support_law.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct SupportLaw {
  std::size_t sizes = 0;
  std::vector<SupportRows> rows;  // by type, then trade size

  void read(const Law& law);
};

std::optional<Conditions> conditions_spelt(std::string_view words) {
  constexpr std::pair<std::string_view, Conditions> known[] = {
      {"general", 0},
      {"short-unbroken",
       static_cast<Conditions>(Condition::unbroken) | static_cast<Conditions>(Condition::short_length)},
      {"no-fastening-point", static_cast<Conditions>(Condition::no_fastening_point)},
      {"unbroken", static_cast<Conditions>(Condition::unbroken)},
      {"threaded-couplings", static_cast<Conditions>(Condition::threaded_couplings)},
      {"threaded-straight",
       static_cast<Conditions>(Condition::threaded_couplings) | static_cast<Conditions>(Condition::straight)},
      {"vertical-riser", static_cast<Conditions>(Condition::vertical_riser)},
      {"from-equipment", static_cast<Conditions>(Condition::from_equipment)},
      {"one-joint", static_cast<Conditions>(Condition::one_joint)},
      {"flexibility-needed", static_cast<Conditions>(Condition::flexibility_needed)},
      {"ceiling-whip", static_cast<Conditions>(Condition::ceiling_whip)},
      {"fished", static_cast<Conditions>(Condition::fished)},
      {"accepted-unfastened",
       static_cast<Conditions>(Condition::accepted) | static_cast<Conditions>(Condition::short_length)},
      {"long-pendant-stem",
       static_cast<Conditions>(Condition::pendant_stem) | static_cast<Conditions>(Condition::accepted)},
      {"pendant-stem",
       static_cast<Conditions>(Condition::pendant_stem) | static_cast<Conditions>(Condition::short_length)},
  };
  Conditions set = 0;
  while (!words.empty()) {
    const std::size_t size = std::min(words.find(' '), words.size());
    bool found = size == 0;
    for (const auto& [spelling, condition] : known) {
      if (words.substr(0, size) != spelling) continue;
      set |= condition;
      found = true;
    }
    if (!found) return {};
    words.remove_prefix(std::min(size + 1, words.size()));
  }
  return set;
}

class Filling {
 public:
  Filling(const Table& table, SupportLaw& law)
      : table_(table),
        law_(law),
        condition_(table.column("condition")),
        with_(table.column("with")),
        spacing_(table.column("spacing", Dimension::length)),
        termination_(table.column("termination", Dimension::length)),
        unsecured_(table.column("unsecured", Dimension::length)) {}

  void fill() {
    const std::uint32_t type = table_.column("raceway-type"), size = table_.column("trade-size");
    // Rows for all sizes first: a row for one size overrides the general one.
    for (const bool all : {true, false}) {
      for (std::uint32_t row = 0; row < table_.row_count(); ++row) {
        if ((table_.key(row, size) == "all") != all) continue;
        const auto of_type = static_cast<std::size_t>(term_spelt<RacewayType>(table_.key(row, type)));
        const auto of_size = static_cast<std::size_t>(term_spelt<TradeSize>(table_.key(row, size)));
        if (of_type == 0 || (of_size == 0 && !all)) continue;
        if (all) {
          for (std::size_t s = 0; s < law_.sizes; ++s) add(row, of_type, s);
        } else {
          add(row, of_type, of_size);
          law_.rows[of_type * law_.sizes].by_size = true;
        }
      }
    }
  }

 private:
  void add(std::uint32_t row, std::size_t type, std::size_t size) {
    const std::optional<Conditions> condition = conditions_spelt(table_.key(row, condition_));
    const std::optional<Conditions> with = conditions_spelt(table_.text(row, with_));
    if (!condition || !with) return;
    const SupportRow made{static_cast<Conditions>(*condition | *with), table_.count(row, spacing_),
                          table_.count(row, termination_), table_.count(row, unsecured_), table_.cite(row)};
    SupportRows& rows = law_.rows[type * law_.sizes + size];
    if (table_.key(row, condition_) == "general") {
      rows.known = true;
      rows.general = made;
    } else {
      rows.exceptions.push_back(made);
    }
  }

  const Table& table_;
  SupportLaw& law_;
  std::uint32_t condition_, with_, spacing_, termination_, unsecured_;
};

void SupportLaw::read(const Law& law) {
  sizes = terms_with_unstated<TradeSize>();
  rows.resize(terms_with_unstated<RacewayType>() * sizes);
  const Table* table = law.table("raceway-support");
  if (table != nullptr) Filling(*table, *this).fill();
}

}  // namespace

const SupportRows& support_rows(Evaluation& e, const Raceway& raceway) {
  const auto& law = e.of_law<SupportLaw>();
  return law.rows[static_cast<std::size_t>(raceway.type) * law.sizes +
                  static_cast<std::size_t>(raceway.trade_size)];
}

}  // namespace raceward::figure
