// Figures are told under the law that holds of each subject, as rules about it are asked.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "raceward/engine.hpp"

namespace {

using namespace raceward;
namespace fs = std::filesystem;

LoadedLaw law_of(const std::string& where) {
  const fs::path file = fs::path(testing::TempDir()) / "raceward-scoped-figures.xml";
  std::ofstream(file, std::ios::binary)
      << R"(<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="S" title="Town gazette"/>
  <where )"
      << where
      << R"(><parameter name="highest-handle" value="6ft" section="1" basis="read" source="S"/></where>
</ruleset>)";
  LoadedLaw loaded = load_ruleset(file.string());
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  fs::remove(file);
  return loaded;
}

/// A panel in premises that say what is written of them.
Loaded panel_in(const std::string& premises) {
  return load_bytes("<installation xmlns=\"urn:raceward:installation:1\" id=\"d\" ruleset=\"nec-2023\" " +
                        premises +
                        "><area id=\"A1\" use=\"workshop\" location=\"dry\"/>"
                        "<panel id=\"P1\" area=\"A1\" highest-handle=\"75in\"/></installation>",
                    "panel.xml");
}

FigureLine limit_of(const Installation& installation, const Law& law) {
  for (const FigureLine& line : figures(installation, law)) {
    if (line.subject == "P1" && line.figure == "highest-handle-limit") return line;
  }
  ADD_FAILURE() << "no such figure";
  return {};
}

TEST(ScopedFigures, AreThoseOfTheConditionThatHolds) {
  const LoadedLaw law = law_of(R"(occupancy="commercial")");
  const Loaded commercial = panel_in(R"(occupancy="commercial")"), farm = panel_in(R"(occupancy="farm")");
  const FigureLine there = limit_of(*commercial.installation, *law.law);
  const FigureLine elsewhere = limit_of(*farm.installation, *law.law);
  EXPECT_EQ(there.value.count, inches(72).count());
  EXPECT_NE(elsewhere.value.count, there.value.count);
  ASSERT_FALSE(there.working.empty());
  EXPECT_EQ(there.working.back(), "under the ruleset's condition: installation@occupancy is commercial");
  EXPECT_TRUE(std::none_of(elsewhere.working.begin(), elsewhere.working.end(), [](const std::string& line) {
    return line.find("condition") != std::string::npos;
  }));
  const std::string text = figures_document(*commercial.installation, *law.law);
  EXPECT_NE(text.find("said:highest-handle-limit=\"72 in\""), std::string::npos) << text;
}

TEST(ScopedFigures, AreMissingWhereNobodyKnowsWhatHoldsAndItMatters) {
  const LoadedLaw law = law_of(R"(occupancy="commercial")");
  const Loaded unknown = panel_in("");
  const FigureLine line = limit_of(*unknown.installation, *law.law);
  EXPECT_FALSE(line.known);
  ASSERT_EQ(line.needs.size(), 1u);
  EXPECT_EQ(line.needs[0].fact, "occupancy");
  const std::string text = figures_document(*unknown.installation, *law.law);
  EXPECT_EQ(text.find("highest-handle-limit=\"72 in\""), std::string::npos);
  EXPECT_NE(text.find("<missing figure=\"highest-handle-limit\" fact=\"occupancy\" of=\"d\"/>"),
            std::string::npos)
      << text;
}

}  // namespace
