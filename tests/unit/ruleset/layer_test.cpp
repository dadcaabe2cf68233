// Layers: what a good one gives, and every fault of one with its place.
#include "layer_faults.hpp"

namespace raceward::ruleset::test {
namespace {

TEST(Layer, GivesTheLawItWrites) {
  const LoadedLaw loaded = Files().load();
  ASSERT_TRUE(loaded.law) << Files().problems().front();
  const Law& law = *loaded.law;
  EXPECT_EQ(law.id, "marrow-2020");
  EXPECT_EQ(law.title, "Marrow County rules");
  ASSERT_EQ(law.periods.size(), 1u);
  EXPECT_EQ(law.periods[0].layer + " " + law.periods[0].from + law.periods[0].before,
            "marrow-2020 2024-02-29");
  EXPECT_EQ(law.layers, std::vector<std::string>{"marrow-2020"});

  const Parameter* reach = law.parameter("reach");
  ASSERT_NE(reach, nullptr);
  EXPECT_EQ(as<Dimension::length>(reach->value), inches(42));
  EXPECT_EQ(reach->text, "3ft 6in");
  EXPECT_EQ(reach->place.line, 12u);
  EXPECT_EQ(reach->place.column, 14u);
  EXPECT_EQ(law.citation(reach->cite), (Citation{"MC 7", "2020", "7.2", Basis::read, "Book one", ""}));

  const Parameter* share = law.parameter("share");
  ASSERT_NE(share, nullptr);
  EXPECT_EQ(share->value.unit, Unit::percent);
  EXPECT_EQ(share->value.count, number(2).count() / 5);
  EXPECT_EQ(law.citation(share->cite), (Citation{"MC 7", "2020", "7.3", Basis::memory, "", ""}));

  const Parameter* finest = law.parameter("finest");
  ASSERT_NE(finest, nullptr);
  EXPECT_EQ(finest->text, "9 AWG");
  EXPECT_EQ(law.citation(finest->cite).basis, Basis::derived);
  EXPECT_EQ(law.parameter("reac"), nullptr);
}

TEST(Layer, GivesTheRulesItNames) {
  const LoadedLaw loaded = Files().load();
  ASSERT_TRUE(loaded.law);
  const RuleSetting* tightness = loaded.law->rule("tightness");
  ASSERT_NE(tightness, nullptr);
  EXPECT_EQ(tightness->force, RuleSetting::Force::advised);
  ASSERT_EQ(tightness->cites.size(), 2u);
  EXPECT_EQ(loaded.law->citation(tightness->cites[0]),
            (Citation{"MC 7", "2020", "7.1", Basis::read, "Book one; Book two", "Read twice."}));
  EXPECT_EQ(loaded.law->citation(tightness->cites[1]),
            (Citation{"what people do", "", "", Basis::common_practice, "", ""}));
  ASSERT_NE(loaded.law->rule("gap"), nullptr);
  EXPECT_EQ(loaded.law->rule("gap")->force, RuleSetting::Force::off);
  EXPECT_EQ(loaded.law->rule("fit"), nullptr);
}

TEST(Layer, KeepsEachCitationOnce) {
  Files files;
  files.with(Files::layer, R"(section="7.3" basis="memory")", R"(section="7.2" basis="read" source="B1")");
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law);
  EXPECT_EQ(loaded.law->parameter("share")->cite, loaded.law->parameter("reach")->cite);
}

class LayerFault : public testing::TestWithParam<Fault> {};

TEST_P(LayerFault, IsTheOneProblemAndHasItsPlace) {
  const Fault& f = GetParam();
  expect_fault(Files::layer, f.from, f.to, f.message);
}

INSTANTIATE_TEST_SUITE_P(Each, LayerFault, testing::ValuesIn(layer_faults),
                         [](const auto& info) { return info.param.name; });

TEST(Layer, ReportsAllFaultsInOrder) {
  Files files;
  files.with(Files::layer, R"(basis="memory")", R"(basis="hearsay")");
  files.with(Files::layer, R"(force="advised")", R"(force="maybe")");
  files.with(Files::table, "0.622", "wide");
  const auto problems = files.problems();
  ASSERT_EQ(problems.size(), 3u) << testing::PrintToString(problems);
  EXPECT_EQ(problems[0].substr(0, 2), "7:");
  EXPECT_EQ(problems[1].substr(0, 3), "13:");
  EXPECT_EQ(problems[2].substr(0, 15), "m/t/widths.csv:");
}

TEST(Layer, EndsWhereThereIsNothingButFaults) {
  std::string many;
  for (int i = 0; i < 100'000; ++i) many += "<what/>";
  Files files;
  files.with(Files::layer, R"(<source id="B1")", many + R"(<source id="B1")");
  const auto problems = files.problems();
  EXPECT_EQ(problems.size(), 201u);
  EXPECT_EQ(problems.back(), "0:0 more faults follow; mend these first");
}

class NoLayer : public testing::TestWithParam<std::string> {};

TEST_P(NoLayer, IsOneLocatedProblem) {
  Files files;
  files[Files::layer] = GetParam();
  EXPECT_EQ(files.problems().size(), 1u) << testing::PrintToString(files.problems());
}

using namespace std::string_literals;
const std::string not_layers[] = {
    "",
    "   \n",
    "nothing of the kind",
    "<installation xmlns='urn:raceward:installation:1'/>",
    "<ruleset",
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='\0'/>"s,
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='\x01'/>",
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='\xff'/>",
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='\xed\xa0\x80'/>",
    "<!DOCTYPE ruleset [<!ENTITY e 'x'>]><ruleset xmlns='urn:raceward:ruleset:1' id='a' title='&e;'/>",
    "<!DOCTYPE ruleset><ruleset xmlns='urn:raceward:ruleset:1' id='a' title='b'/>",
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='b'/><ruleset/>",
    "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='b'/> more",
};
INSTANTIATE_TEST_SUITE_P(Each, NoLayer, testing::ValuesIn(not_layers));

TEST(Layer, SurvivesDeepNesting) {
  constexpr std::size_t deep = 1'000'000;
  std::string text = "<ruleset xmlns='urn:raceward:ruleset:1' id='a' title='b'>";
  for (std::size_t i = 0; i < deep; ++i) text += "<a>";
  for (std::size_t i = 0; i < deep; ++i) text += "</a>";
  Files files;
  files[Files::layer] = text + "</ruleset>";
  EXPECT_EQ(files.problems().size(), 1u);
}

TEST(Layer, TakesMarksOfSchemaAwareEditors) {
  Files files;
  files.with(
      Files::layer, R"(id="marrow-2020")",
      R"(xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="urn:x y.xsd" id="marrow-2020")");
  EXPECT_TRUE(files.problems().empty()) << testing::PrintToString(files.problems());
}

}  // namespace
}  // namespace raceward::ruleset::test
