// Facts, conditions and requirements of a layer: what they become, and every fault of one with its place.
#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

constexpr std::string_view before_end = "  <table name=\"widths\" file=\"t/widths.csv\"/>\n</ruleset>";
constexpr std::string_view facts = R"(  <table name="widths" file="t/widths.csv"/>
  <fact name="storeys" of="installation" value="number" title="Storeys"/>
  <fact name="district" of="installation" value="word" words="old new" title="District"/>
  <fact name="inside" of="raceway" value="ft" title="Length inside"/>
  <fact name="electrode" of="installation" value="conductor-size" title="Size of the electrode conductor"/>
)";

std::string with(std::string_view more) { return std::string(facts) + std::string(more) + "\n</ruleset>"; }

TEST(Conditions, ChangeParametersRowsAndRulesUnderThem) {
  Files files;
  files.with(Files::layer, before_end, with(R"(<where occupancy="dwelling farm" permit-from="2024-01-01">
    <any><if fact="storeys" at-least="3"/><unless><if fact="district" is="old"/></unless></any>
    <parameter name="reach" value="2ft" section="8" basis="read" source="B1"/>
    <uses rule="gap" force="required"><cite section="9" basis="read" source="B1"/></uses>
    <table name="widths" file="t/more.csv"/>
  </where>)"));
  files["m/t/more.csv"] =
      "# table: widths\n# cites: marrow, 8\n# basis: read\n# source: B1\nkind [key],size [key],weight "
      "[number],change\ntin,1/2,4,\nlead,1/2,,remove\n";
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  ASSERT_EQ(loaded.law->scopes.size(), 1u);
  const Scope& scope = loaded.law->scopes[0];
  EXPECT_EQ(scope.words,
            "installation@occupancy is dwelling or farm and installation@permit-date is at least "
            "2024-01-01 and (fact storeys is at least 3 or not (fact district is old))");
  ASSERT_EQ(scope.parameters.size(), 1u);
  EXPECT_EQ(scope.parameters[0].text, "2ft");
  EXPECT_EQ(scope.parameters[0].replaces, "3ft 6in");
  EXPECT_EQ(loaded.law->citation(scope.parameters[0].cite).section, "8");
  ASSERT_EQ(scope.tables.size(), 1u);
  EXPECT_EQ(scope.tables[0].row_count(), 1u);
  EXPECT_EQ(scope.tables[0].count(0, 2), raceward::parse_amount("0.622in", Dimension::length)->count)
      << "as in the row below";
  EXPECT_EQ(scope.tables[0].removed.size(), 1u);
  ASSERT_EQ(scope.rules.size(), 1u);
  EXPECT_EQ(scope.rules[0].force, RuleSetting::Force::required);
  EXPECT_EQ(loaded.law->parameter("reach")->text, "3ft 6in") << "without the condition all is as it was";
}

TEST(Conditions, BoundsOfSizesAreListsOfThem) {
  Files files;
  files.with(Files::layer, before_end, with(R"(<where><if fact="electrode" less-than="14 AWG"/>
    <uses rule="gap" force="required"><cite section="9" basis="read" source="B1"/></uses></where>)"));
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  EXPECT_EQ(loaded.law->scopes[0].words, "fact electrode is less than 14 AWG");
  // 14 AWG has 2.08 mm2 (ASTM B258: 64.1 mil), and 1.5 mm2 is the next smaller size in millimetres.
  EXPECT_EQ(loaded.law->scopes[0].when.parts.at(0).words,
            (std::vector<std::string>{"18 AWG", "16 AWG", "1 mm2", "1.5 mm2"}));
}

TEST(Conditions, WhatALayerAboveSetsHoldsWhateverTheyAre) {
  Files files(Files::over);
  files.with(Files::layer, before_end, with(R"(<where use="garage">
    <parameter name="share" value="20%" section="8" basis="read" source="B1"/>
    <parameter name="reach" value="2ft" section="8" basis="read" source="B1"/></where>)"));
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  ASSERT_EQ(loaded.law->scopes[0].parameters.size(), 1u);
  EXPECT_EQ(loaded.law->scopes[0].parameters[0].name, "reach") << "the layer above sets share";
}

TEST(Conditions, TheDatesOfALayerAreACondition) {
  Files files(Files::over);
  files.with(Files::over, R"(id="hill-2022")",
             R"(id="hill-2022" effective-from="2022-07-01" effective-before="2024-01-01")");
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  ASSERT_EQ(loaded.law->scopes.size(), 1u);
  ASSERT_TRUE(loaded.law->scopes[0].adopts);
  EXPECT_EQ(loaded.law->scopes[0].adopts->id, "marrow-2020");
  EXPECT_EQ(
      loaded.law->scopes[0].words,
      "installation@permit-date is less than 2022-07-01 or installation@permit-date is at least 2024-01-01");
}

TEST(Conditions, TwoThatExcludeEachOtherMaySetTheSame) {
  Files files;
  files.with(Files::layer, before_end, with(R"(
    <where occupancy="dwelling"><if fact="storeys" at-most="2"/><parameter name="reach" value="2ft" section="8" basis="read" source="B1"/></where>
    <where occupancy="farm"><parameter name="reach" value="4ft" section="8" basis="read" source="B1"/></where>
    <where occupancy="dwelling"><if fact="storeys" more-than="2"/><parameter name="reach" value="5ft" section="8" basis="read" source="B1"/></where>)"));
  EXPECT_TRUE(files.load().law) << testing::PrintToString(files.problems());
}

constexpr std::string_view required =
    R"(<requires id="short" subject="raceway" title="It is short" why="So it is." message="{where} is long" cure="Cut it.">
    <cite section="9" basis="read" source="B1"/>
    <given><if attribute="raceway@type" is="EMT"/></given>
    <must><if fact="inside" at-most="3ft"/><count of="circuit" at-most="2"><if attribute="circuit@kind" is="branch"/></count></must>
  </requires>)";

TEST(Conditions, ARequirementIsARuleOfTheLaw) {
  Files files;
  files.with(Files::layer, before_end, with(required));
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  ASSERT_EQ(loaded.law->requirements.size(), 1u);
  EXPECT_EQ(loaded.law->requirements[0].subject, SubjectKind::raceway);
  ASSERT_NE(loaded.law->rule("short"), nullptr);
  EXPECT_EQ(loaded.law->rule("short")->cites.size(), 1u);
}

/// What is written in the place of the mark `@`, and what is said of it.
class ConditionFault : public testing::TestWithParam<Fault> {};

TEST_P(ConditionFault, IsLocated) {
  Files files;
  const Fault& f = GetParam();
  files.with(Files::layer, before_end, with(f.from));
  files["m/t/more.csv"] =
      "# table: widths\n# cites: marrow, 8\n# basis: read\n# source: B1\nkind [key],size [key],weight "
      "[number]\ntin,1/2,4\n";
  files["m/t/other.csv"] =
      "# table: widths\n# cites: marrow, 8\n# basis: read\n# source: B1\nkind [key],size [key],weight "
      "[number]\ntin,1/2,5\n";
  std::string& text = files[Files::layer];
  const auto mark = text.find('^');
  ASSERT_NE(mark, std::string::npos);
  text.erase(mark, 1);
  const std::string before = text.substr(0, mark);
  const std::string place = std::to_string(1 + std::count(before.begin(), before.end(), '\n')) + ":" +
                            std::to_string(mark - (before.rfind('\n') + 1) + 1) + " ";
  const std::vector<std::string> problems = files.problems();
  ASSERT_EQ(problems.size(), 1u) << testing::PrintToString(problems);
  EXPECT_EQ(problems[0].substr(0, place.size() + f.message.size()), place + std::string(f.message))
      << problems[0];
}

#define CHANGE R"(<parameter name="reach" value="2ft" section="8" basis="read" source="B1"/>)"
constexpr Fault faults[] = {
    {"unknown_word",
     "<where ^occupancy=\"dweling\">" CHANGE "</where>",
     {},
     R"("dweling" is no word that documents have for it; did you mean "dwelling"?)"},
    {"unknown_attribute",
     "<where><if ^attribute=\"area@uze\" is=\"garage\"/>" CHANGE "</where>",
     {},
     R"(<area> has no attribute "uze"; did you mean "use"?)"},
    {"unknown_element",
     "<where><if ^attribute=\"aria@use\" is=\"garage\"/>" CHANGE "</where>",
     {},
     R"(conditions ask for no attributes of "aria"; did you mean "area"?)"},
    {"unknown_fact",
     "<where><if ^fact=\"storey\" is=\"2\"/>" CHANGE "</where>",
     {},
     R"(no <fact> declares "storey"; did you mean "storeys"?)"},
    {"unknown_figure",
     "<where><if ^figure=\"raceway-lenght\" at-most=\"6ft\"/>" CHANGE "</where>",
     {},
     R"(there is no figure "raceway-lenght"; did you mean "raceway-length"?)"},
    {"wrong_dimension", "<where><if fact=\"inside\" ^at-most=\"6A\"/>" CHANGE "</where>", {}, R"("6A": )"},
    {"wrong_word_of_fact",
     "<where><if fact=\"district\" ^is=\"older\"/>" CHANGE "</where>",
     {},
     R"("older" is no word that documents have for it)"},
    {"word_with_bound",
     "<where><if fact=\"district\" ^at-least=\"old\"/>" CHANGE "</where>",
     {},
     "words have no order; write is="},
    {"no_comparison",
     "<where><^if fact=\"storeys\"/>" CHANGE "</where>",
     {},
     "<if> says not with what it compares"},
    {"no_question", "<where><^if is=\"2\"/>" CHANGE "</where>", {}, "<if> says not what it asks for"},
    {"two_questions",
     "<where><if fact=\"storeys\" ^figure=\"raceway-length\" is=\"2ft\"/>" CHANGE "</where>",
     {},
     "an <if> asks for one thing"},
    {"bad_date", "<where ^permit-from=\"2024-02-30\">" CHANGE "</where>", {}, R"("2024-02-30" is no date)"},
    {"no_condition", "<^where>" CHANGE "</where>", {}, "<where> says no condition"},
    {"no_change", "<^where use=\"garage\"/>", {}, "<where> changes nothing"},
    {"empty_group", "<where use=\"garage\"><^any/>" CHANGE "</where>", {}, "<any> holds no condition"},
    {"unknown_inside",
     "<where use=\"garage\"><^iff/>" CHANGE "</where>",
     {},
     R"(element "iff" is not known in <where>)"},
    {"unknown_parameter",
     "<where use=\"garage\"><parameter ^name=\"reech\" value=\"2ft\" section=\"8\" basis=\"read\" "
     "source=\"B1\"/></where>",
     {},
     R"(the base has no parameter "reech"; did you mean "reach"?)"},
    {"another_dimension",
     "<where use=\"garage\"><parameter name=\"reach\" ^value=\"2A\" section=\"8\" basis=\"read\" "
     "source=\"B1\"/></where>",
     {},
     R"(parameter "reach" cannot be "2A")"},
    {"same_value",
     "<where use=\"garage\"><parameter ^name=\"reach\" value=\"3ft 6in\" section=\"7.2\" basis=\"read\" "
     "source=\"B1\"/></where>",
     {},
     R"(parameter "reach" is as in the base)"},
    {"new_under_it",
     "<where use=\"garage\"><parameter name=\"reech\" ^change=\"new\" value=\"2ft\" section=\"8\" "
     "basis=\"read\" source=\"B1\"/></where>",
     {},
     "under a condition nothing is new"},
    {"off_without_cite",
     "<where use=\"garage\"><uses ^rule=\"tightness\" force=\"off\"/></where>",
     {},
     R"(the force of rule "tightness" is changed without a <cite>)"},
    {"unknown_law",
     "<where use=\"garage\" ^adopts=\"marrow-1\"/>",
     {},
     R"(no ruleset "marrow-1" is shipped)"},
    {"contradiction",
     "<where use=\"garage\">" CHANGE "</where>\n<^where location=\"wet\"><parameter name=\"reach\" "
     "value=\"1ft\" section=\"8\" basis=\"read\" source=\"B1\"/></where>",
     {},
     "this condition and that of line"},
    {"contradicting_rows",
     "<where use=\"garage\"><table name=\"widths\" file=\"t/more.csv\"/></where>\n<^where "
     "location=\"wet\"><table name=\"widths\" file=\"t/other.csv\"/></where>",
     {},
     "this condition and that of line"},
    {"contradicting_rules",
     "<where use=\"garage\"><uses rule=\"tightness\" force=\"required\"><cite section=\"8\" basis=\"read\" "
     "source=\"B1\"/></uses></where>\n<^where location=\"wet\"><uses rule=\"tightness\" force=\"off\"><cite "
     "section=\"8\" basis=\"read\" source=\"B1\"/></uses></where>",
     {},
     "this condition and that of line"},
    {"fact_twice",
     "<fact ^name=\"storeys\" of=\"installation\" value=\"number\" title=\"x\"/>",
     {},
     R"(name "storeys" stands in line)"},
    {"fact_of_what",
     "<fact name=\"a\" ^of=\"house\" value=\"number\" title=\"x\"/>",
     {},
     "facts are of an installation"},
    {"fact_of_what_value",
     "<fact name=\"a\" of=\"box\" ^value=\"feet\" title=\"x\"/>",
     {},
     R"(value "feet" is not known)"},
    {"words_of_a_number",
     "<fact name=\"a\" of=\"box\" value=\"number\" ^words=\"a b\" title=\"x\"/>",
     {},
     "words are those of"},
    {"requires_nothing",
     "<^requires id=\"a\" subject=\"box\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><cite section=\"8\" "
     "basis=\"read\" source=\"B1\"/></requires>",
     {},
     "<requires> says not what must hold"},
    {"requires_without_cite",
     "<requires ^id=\"a\" subject=\"box\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><must><if "
     "fact=\"storeys\" is=\"2\"/></must></requires>",
     {},
     R"(rule "a" is asked without a <cite>)"},
    {"requires_of_what",
     "<requires id=\"a\" ^subject=\"house\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><cite "
     "section=\"8\" basis=\"read\" source=\"B1\"/><must><if fact=\"storeys\" is=\"2\"/></must></requires>",
     {},
     R"(there is no kind of subject "house")"},
    {"requires_message",
     "<requires id=\"a\" subject=\"box\" title=\"x\" why=\"x\" message=\"{where} of ^{measured}\" "
     "cure=\"x\"><cite section=\"8\" basis=\"read\" source=\"B1\"/><must><if fact=\"storeys\" "
     "is=\"2\"/></must></requires>",
     {},
     "\"{measured}\" is not filled in; a <requires> says {where} only"},
    {"share_without_percent",
     "<where><if figure=\"raceway-fill\" ^at-most=\"40\"/>" CHANGE "</where>",
     {},
     "\"40\" is no share; write \"40%\""},
    {"range_of_nothing",
     "<where><^if figure=\"raceway-length\" at-least=\"10ft\" at-most=\"5ft\"/>" CHANGE "</where>",
     {},
     "nothing lies between these bounds"},
    {"count_that_always_holds",
     "<where><^count of=\"joint\" at-least=\"0\"/>" CHANGE "</where>",
     {},
     "there are always so many"},
    {"count_that_never_holds",
     "<where><^count of=\"joint\" less-than=\"0\"/>" CHANGE "</where>",
     {},
     "there are never so few"},
    {"count_of_what",
     "<where><count ^of=\"lamp\" at-most=\"2\"/>" CHANGE "</where>",
     {},
     R"(there is no kind of element "lamp")"},
    {"count_of_what_it_has_not",
     "<requires id=\"a\" subject=\"bonding-jumper\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><cite "
     "section=\"8\" basis=\"read\" source=\"B1\"/><must><count ^of=\"circuit\" "
     "at-most=\"2\"/></must></requires>",
     {},
     "a condition about each bonding-jumper leads to no circuit; it may ask for installation, area, panel"},
    {"attribute_of_what_it_has_not",
     "<requires id=\"a\" subject=\"conduit-body\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><cite "
     "section=\"8\" basis=\"read\" source=\"B1\"/><must><if ^attribute=\"device@kind\" "
     "is=\"switch\"/></must></requires>",
     {},
     "a condition about each conduit-body leads to no device"},
    {"within_a_count",
     "<where><count of=\"joint\" at-most=\"2\"><if ^attribute=\"device@kind\" is=\"switch\"/></count>" CHANGE
     "</where>",
     {},
     "a condition about each joint leads to no device"},
    {"misspelt_insulation",
     "<where><if attribute=\"conductor@insulation\" ^is=\"THNW-2\"/>" CHANGE "</where>",
     {},
     R"("THNW-2" is no word that documents have for it)"},
    {"system_of_a_circuit",
     "<where><if ^attribute=\"circuit@system\" is=\"class-2\"/>" CHANGE "</where>",
     {},
     R"(<circuit> has no attribute "system"; write wiring@system)"},
    {"no_such_size",
     "<where><if attribute=\"raceway@trade-size\" ^at-least=\"7\"/>" CHANGE "</where>",
     {},
     R"("7" is no word that documents have for it)"},
    {"sizes_of_two_systems",
     "<where><^if attribute=\"raceway@trade-size\" at-least=\"1\" at-most=\"40 mm\"/>" CHANGE "</where>",
     {},
     "these bounds are of two systems of sizes"},
    {"fact_of_an_unknown_unit",
     "<fact name=\"roof\" of=\"installation\" ^value=\"furlong\" title=\"x\"/><where><if fact=\"roof\" "
     "at-most=\"5\"/>" CHANGE "</where>",
     {},
     R"(value "furlong" is not known)"},
    {"count_without_number",
     "<where><^count of=\"device\"/>" CHANGE "</where>",
     {},
     "<count> says not how many"},
};
#define REQUIRES(inner)                                                                          \
  "<requires id=\"a\" subject=\"raceway\" title=\"x\" why=\"x\" message=\"x\" cure=\"x\"><cite " \
  "section=\"8\" "                                                                               \
  "basis=\"read\" source=\"B1\"/>" inner "</requires>"
constexpr Fault never_faults[] = {
    {"unless_the_same",
     "<^where occupancy=\"commercial\"><unless><if attribute=\"installation@occupancy\" "
     "is=\"commercial\"/></unless>" CHANGE "</where>",
     {},
     "this can never hold: \"installation@occupancy is commercial\" and \"not (installation@occupancy is "
     "commercial)\" exclude each other; take one of them away"},
    {"two_words",
     "<^where occupancy=\"commercial\"><if attribute=\"installation@occupancy\" is=\"dwelling farm\"/>" CHANGE
     "</where>",
     {},
     "this can never hold: "},
    {"numbers_apart",
     "<^where><if fact=\"storeys\" less-than=\"3\"/><all><if fact=\"storeys\" more-than=\"5\"/></all>" CHANGE
     "</where>",
     {},
     "this can never hold: \"fact storeys is more than 5\" and \"fact storeys is less than 3\""},
    {"unless_wider",
     "<^where><if figure=\"raceway-length\" at-least=\"5ft\" at-most=\"6ft\"/><unless><if "
     "figure=\"raceway-length\" more-than=\"4ft\"/></unless>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"days_apart",
     "<^where permit-before=\"2025-01-01\"><if attribute=\"installation@permit-date\" "
     "at-least=\"2025-01-01\"/>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"every_branch",
     "<^where><if fact=\"district\" is=\"old\"/><any><if fact=\"district\" is=\"new\"/><unless><if "
     "fact=\"district\" is=\"old new\"/></unless></any>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"word_by_word",
     "<^where><if fact=\"district\" is=\"old new\"/><unless><if fact=\"district\" is=\"old\"/><if "
     "fact=\"district\" is=\"new\"/></unless>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"attested_and_not",
     "<^where><if attested=\"leave\"/><unless><if attested=\"leave\"/></unless>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"two_types_of_one_raceway",
     REQUIRES("<given><^if attribute=\"raceway@type\" is=\"EMT\"/><if attribute=\"raceway@type\" "
              "is=\"RMC\"/></given><must><if fact=\"inside\" at-most=\"3ft\"/></must>"),
     {},
     "this can never hold: "},
    {"must_be_both",
     REQUIRES("<must><^if fact=\"inside\" at-most=\"3ft\"/><if fact=\"inside\" more-than=\"3ft\"/></must>"),
     {},
     "this can never hold: "},
    {"counted_and_never",
     "<where><count of=\"raceway\" at-least=\"2\"><^if attribute=\"raceway@type\" is=\"EMT\"/><if "
     "attribute=\"raceway@type\" is=\"RMC\"/></count>" CHANGE "</where>",
     {},
     "this can never hold: "},
    {"two_counts",
     "<^where><count of=\"box\" at-least=\"2\"/><count of=\"box\" at-most=\"1\"/>" CHANGE "</where>",
     {},
     "this can never hold: "},
};
#undef REQUIRES
#undef CHANGE
INSTANTIATE_TEST_SUITE_P(Never, ConditionFault, testing::ValuesIn(never_faults),
                         [](const auto& info) { return std::string(info.param.name); });

/// What sounds like it, and can hold: several raceways end at a box, and an insulation may have two marks.
TEST(Conditions, ThatCanHoldAreRead) {
  for (
      const std::string_view condition :
      {R"(<if attribute="raceway@type" is="EMT"/><if attribute="raceway@type" is="RMC"/>)",
       R"(<if attribute="conductor@insulation" is="THHN"/><if attribute="conductor@insulation" is="THWN-2"/>)",
       R"(<if attribute="raceway@type" is="EMT RMC"/><unless><if attribute="raceway@type" is="EMT"/></unless>)",
       R"(<if fact="storeys" at-least="3"/><if fact="storeys" at-most="3"/>)",
       R"(<if fact="storeys" at-least="3"/><unless><if fact="storeys" more-than="3"/></unless>)",
       R"(<if fact="district" is="old"/><any><if fact="district" is="new"/><if fact="storeys" is="1"/></any>)",
       R"(<unless><all><if fact="district" is="old"/><if fact="storeys" is="1"/></all></unless><if fact="district" is="old"/>)",
       R"(<count of="box" at-least="2"/><count of="joint" at-most="1"/>)"}) {
    Files files;
    files.with(Files::layer, before_end,
               with("<where>" + std::string(condition) +
                    R"(<parameter name="reach" value="2ft" section="8" basis="read" source="B1"/></where>)"));
    EXPECT_TRUE(files.load().law) << condition << testing::PrintToString(files.problems());
  }
}

TEST(Conditions, ALayerThatAdoptsItsBaseMustSetSomethingElse) {
  Files files("own/layer.xml");
  files["own/layer.xml"] =
      R"(<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="../m/layer.xml">
  <document id="own" title="Own" edition="1"/>
  <where occupancy="farm" adopts="./../m/layer.xml"/>
</ruleset>)";
  ASSERT_EQ(files.problems().size(), 1u);
  EXPECT_TRUE(files.problems()[0].starts_with("3:27 this is what the layer stands upon"))
      << files.problems()[0];
  files.with("own/layer.xml", "  <where",
             R"(  <parameter name="reach" value="2ft" section="8" basis="memory"/>
  <where)");
  EXPECT_EQ(files.problems(), std::vector<std::string>{}) << "the parameter does not hold on farms";
}

INSTANTIATE_TEST_SUITE_P(Each, ConditionFault, testing::ValuesIn(faults),
                         [](const auto& info) { return std::string(info.param.name); });

}  // namespace
}  // namespace raceward::ruleset::test
