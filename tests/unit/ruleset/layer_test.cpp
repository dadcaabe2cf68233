// Layers: what a good one gives, and every fault of one with its place.
#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

TEST(Layer, GivesTheLawItWrites) {
  const LoadedLaw loaded = Files().load();
  ASSERT_TRUE(loaded.law) << Files().problems().front();
  const Law& law = *loaded.law;
  EXPECT_EQ(law.id, "marrow-2020");
  EXPECT_EQ(law.title, "Marrow County rules");
  EXPECT_EQ(law.effective_from, "2024-02-29");
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

const Fault faults[] = {
    {"unknown_element", R"(<parameter name="share")", R"(<^sorce/><parameter name="share")",
     R"(element "sorce" is not known here, did you mean "source"?)"},
    {"unknown_element_in_uses", R"(<cite document="habit" basis="common-practice"/>)", R"(<^cites/>)",
     R"(element "cites" is not known in <uses>; it holds <cite>)"},
    {"unknown_attribute", R"(section="7.3" basis)", R"(section="7.3" ^nte="x" basis)",
     R"(attribute "nte" is not known on <parameter>, did you mean "note"?)"},
    {"attribute_of_root", R"(effective-from)", R"(^efective-from)",
     R"(attribute "efective-from" is not known on <ruleset>, did you mean "effective-from"?)"},
    {"twice_on_one_element", R"(name="share")", R"(name="share" ^name="share")",
     R"(attribute "name" stands twice on <parameter>)"},
    {"empty_attribute", R"(title="Book two")", R"(^title=" ")",
     R"(attribute "title" is empty; leave it out or write its value)"},
    {"missing_attribute", R"(<source id="B2" title="Book two"/>)", R"(<^source id="B2"/>)",
     R"(<source> has no "title"; it needs one)"},
    {"text", R"(<parameter name="share")", R"(^B3 <parameter name="share")",
     "text has no meaning here; values stand in attributes"},
    {"something_inside", R"(file="t/widths.csv"/>)", R"(file="t/widths.csv"><^a/></table>)",
     "nothing may stand inside <table>; its values are attributes"},
    {"bad_number", R"(value="40%")", R"(^value="forty")", R"(value "forty": not a number with a unit)"},
    {"bad_unit", R"(value="40%")", R"(^value="40amps")", R"(value "40amps": )"},
    {"too_exact", R"(value="40%")", R"(^value="0.00000000000001in")", R"(value "0.00000000000001in": )"},
    {"no_value", R"(<parameter name="share" value="40%")", R"(<^parameter name="share")",
     "a parameter has either a value or a text"},
    {"value_and_text", R"(<parameter name="share")", R"(<^parameter text="much" name="share")",
     "a parameter has either a value or a text"},
    {"bad_name", R"(name="share")", R"(^name="the share")",
     R"(parameter "the share" is no name; write small letters, digits and hyphens)"},
    {"bad_id", R"(id="marrow-2020")", R"(^id="Marrow")",
     R"(id "Marrow" is no name; write small letters, digits and hyphens)"},
    {"name_twice", R"(name="share")", R"(^name="reach")", R"(name "reach" stands in line 12 already)"},
    {"name_of_parameter_and_table", R"(<table name="widths")", R"(<table ^name="share")",
     R"(name "share" stands in line 13 already)"},
    {"rule_twice", R"(rule="gap")", R"(^rule="tightness")", R"(rule "tightness" stands in line 7 already)"},
    {"no_section", R"(name="share" value="40%" section="7.3" )", R"(^name="share" value="40%" )",
     "a value without section; say where in the document it stands"},
    {"no_basis", R"(<parameter name="share" value="40%" section="7.3" basis="memory"/>)",
     R"(<^parameter name="share" value="40%" section="7.3"/>)",
     R"(<parameter> has no "basis"; it needs one)"},
    {"unknown_basis", R"(basis="memory")", R"(^basis="memmory")",
     R"(basis "memmory" is not known, did you mean "memory"?)"},
    {"unknown_source", R"(source="B2"/>)", R"(^source="B1 B3"/>)",
     R"(source "B3" is not among the layer's <source> elements, did you mean "B1"?)"},
    {"read_without_source", R"(name="share" value="40%" section="7.3" basis="memory")",
     R"(^name="share" value="40%" section="7.3" basis="read")",
     R"(basis "read" without source; name what was read)"},
    {"memory_with_source", R"(basis="memory")", R"(basis="memory" ^source="B1")",
     R"(basis "memory" has no source; leave the source out, or say read or derived)"},
    {"unknown_document", R"(document="habit")", R"(^document="habits")",
     R"(document "habits" is not among the layer's <document> elements, did you mean "habit"?)"},
    {"document_twice", R"(title="what people do"/>)",
     R"(title="what people do"/><document ^id="habit" title="again"/>)",
     R"(id "habit" stands twice; documents and sources need ids of their own)"},
    {"source_twice", R"(title="Book two"/>)", R"(title="Book two"/><source ^id="B2" title="again"/>)",
     R"(id "B2" stands twice; documents and sources need ids of their own)"},
    {"source_called_as_a_document", R"(title="Book two"/>)",
     R"(title="Book two"/><source ^id="habit" title="again"/>)",
     R"(id "habit" stands twice; documents and sources need ids of their own)"},
    {"source_id_with_blank", R"(title="Book two"/>)", R"(title="Book two"/><source ^id="B 3" title="more"/>)",
     R"(source id "B 3" may hold no space, comma or semicolon)"},
    {"unknown_force", R"(force="advised")", R"(^force="advise")",
     R"(force "advise" is not known; write required, advised or off, did you mean "advised"?)"},
    {"rule_without_cite", R"(rule="gap" force="off")", R"(^rule="gap")",
     R"(rule "gap" is asked without a <cite>; say where the requirement stands)"},
    {"bad_date", R"(effective-from="2024-02-29")", R"(^effective-from="2023-02-29")",
     R"("2023-02-29" is no date; write year-month-day, such as 2024-01-01)"},
    {"base", R"(id="marrow-2020")", R"(id="marrow-2020" ^base="nec-2023")",
     "this version reads no layers upon another one; leave base out"},
    {"missing_table", R"(file="t/widths.csv")", R"(^file="t/width.csv")",
     R"(file "t/width.csv" cannot be read; it should stand beside the layer)"},
    {"path_upwards", R"(file="t/widths.csv")", R"(^file="t/../../widths.csv")",
     R"(file "t/../../widths.csv" leads out of the layer's folder; name a file in it)"},
    {"path_from_the_root", R"(file="t/widths.csv")", R"(^file="/t/widths.csv")",
     R"(file "/t/widths.csv" leads out of the layer's folder; name a file in it)"},
    {"table_of_another_name", R"(name="widths")", R"(^name="width")",
     R"(the file calls its table "widths", the layer "width")"},
    {"wrong_namespace", R"(xmlns="urn:raceward:ruleset:1")", R"(^xmlns="urn:raceward:ruleset:2")",
     R"(namespace "urn:raceward:ruleset:2" is not known here; this version reads "urn:raceward:ruleset:1")"},
    {"no_namespace", R"(<ruleset xmlns="urn:raceward:ruleset:1")", R"(<^ruleset)",
     R"(the namespace is missing; write xmlns="urn:raceward:ruleset:1")"},
    {"not_well_formed", R"(<source id="B2" title="Book two"/>)", R"(<source id="B2" title="Book two" ^< />)",
     "the file is not well-formed XML"},
};
INSTANTIATE_TEST_SUITE_P(Each, LayerFault, testing::ValuesIn(faults),
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
