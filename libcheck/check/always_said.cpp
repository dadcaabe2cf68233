#include "check/always_said.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace raceward::checking {

std::vector<std::string> cautions(const Law& law) {
  std::vector<std::string> out = {
      "Electricity kills. Work only on wiring that is switched off, secured against switching on, and proved "
      "dead; "
      "leave to licensed electricians what the law or your training leaves to them.",
      "The code adopted where the installation stands, with its local amendments, and the authority having "
      "jurisdiction decide. Adopted text may differ from the ruleset used here.",
      "This report supports the work of licensed electricians and inspectors and replaces none of it. It "
      "judges what "
      "the document says, not what was built. A report without findings is not an approval."};
  const auto unproved = static_cast<std::size_t>(std::count_if(
      law.citations.begin(), law.citations.end(),
      [](const Citation& c) { return c.basis == Basis::memory || c.basis == Basis::common_practice; }));
  if (unproved > 0) {
    out.push_back(
        fmt::format("{} of the {} entries of ruleset {} that cite a section rest on memory or on common "
                    "practice and were not "
                    "read in a source. Findings mark them; verdicts of \"complies\" may rest on them as "
                    "well. Check them against "
                    "the adopted text before relying on them.",
                    unproved, law.citations.size(), law.id));
  }
  return out;
}

std::vector<NotChecked> never_checked() {
  constexpr std::string_view no_rule = "no rule of this version judges it";
  const auto entry = [&](std::string what) { return NotChecked{std::move(what), std::string(no_rule)}; };
  return {
      {"whether what is built is what the document says", "only an eye on site can tell"},
      {"workmanship, tightness of fittings and terminals, damage, burrs, debris, heat and age",
       "only an eye on site can tell"},
      {"what the document says of the supply (grounded-by service or feeder) and of fittings (listed, tight)",
       "it is taken at its word"},
      {"listing and fitness of products for their use", "only their markings and instructions can tell"},
      entry("whether loads are as stated or were calculated rightly, lighting loads by floor area other than "
            "of dwellings"),
      entry("where switches must be, luminaires on stairs and at doors, and receptacles in other rooms than "
            "garages, outbuildings and basements; special equipment other than motors and welders"),
      entry("services but for the size of their grounded conductor, which electrodes are there and how they "
            "are joined, available fault current"),
      entry("polarity, neutrals that several circuits share"),
      entry("hazardous locations, raceways in concrete, pulls by hand in stages"),
      {"every section of the code that the ledger above does not name", "the ruleset holds no rule for it"},
  };
}

}  // namespace raceward::checking
