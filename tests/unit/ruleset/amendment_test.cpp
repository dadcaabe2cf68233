// Layers over other layers: what each kind of change gives, and every fault of one with its place.
#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

std::shared_ptr<const Law> amended(const Files& files = Files(Files::over)) {
  const LoadedLaw loaded = files.load();
  EXPECT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  return loaded.law;
}

const Citation& cite_of(const Law& law, std::string_view parameter) {
  return law.citation(law.parameter(parameter)->cite);
}

TEST(Amendment, HasTheHeadOfTheUpperLayerAndTheIdsOfAll) {
  const auto law = amended();
  ASSERT_TRUE(law);
  EXPECT_EQ(law->id, "hill-2022");
  EXPECT_EQ(law->title, "Hill town rules");
  ASSERT_EQ(law->periods.size(), 1u);
  EXPECT_EQ(law->periods[0].layer, "marrow-2020") << "the day of the base is not its day";
  EXPECT_EQ(law->layers, (std::vector<std::string>{"marrow-2020", "hill-2022"}));
}

TEST(Amendment, SetsParametersOverThoseOfTheBase) {
  const auto law = amended();
  ASSERT_TRUE(law);
  const Parameter* share = law->parameter("share");
  EXPECT_EQ(share->text, "30%");
  EXPECT_EQ(share->layer, 1u);
  EXPECT_EQ(share->place.file, Files::over);
  EXPECT_EQ(law->citation(share->cite), (Citation{"HT", "5", "2", Basis::read, "Hill gazette", ""}));
  ASSERT_NE(law->parameter("depth"), nullptr);
  EXPECT_EQ(law->parameter("depth")->layer, 1u);
  const Parameter* finest = law->parameter("finest");
  ASSERT_NE(finest, nullptr);
  EXPECT_EQ(finest->text, "9 AWG");
  EXPECT_EQ(finest->layer, 0u);
  EXPECT_EQ(finest->place.file, "n/../m/layer.xml");
}

TEST(Amendment, CitesTheDocumentThatIsInForceAndSaysWhatIsTakenOver) {
  const auto law = amended();
  ASSERT_TRUE(law);
  EXPECT_EQ(cite_of(*law, "finest"), (Citation{"MC 7", "2022", "7.4", Basis::derived, "Book two", "",
                                               "taken over from edition 2020"}));
  EXPECT_EQ(
      cite_of(*law, "reach"),
      (Citation{
          "MC 7", "2022", "8.2", Basis::read, "Book one", "",
          "taken over from edition 2020, where it is 7.2 (number here read in Hill gazette; Page 3.)"}));
  for (const Citation& c : law->citations) EXPECT_NE(c.section, "7.3") << "nothing stands on it any more";
}

TEST(Amendment, LeavesTheDocumentOfTheBaseInForceWhereItIsNotReplaced) {
  Files files(Files::over);
  files.with(Files::over, R"(<document id="marrow" change="replace")", R"(<document id="town")");
  files.with(Files::over, R"(<renumbered from="7.2")", R"(<renumbered document="marrow" from="7.2")");
  files.with(Files::over, R"(<renumbered from="Table 7")", R"(<renumbered document="marrow" from="Table 7")");
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(cite_of(*law, "finest"), (Citation{"MC 7", "2020", "7.4", Basis::derived, "Book two", ""}));
  EXPECT_EQ(cite_of(*law, "reach").inherited,
            "taken over from the base, where it is 7.2 (number here read in Hill gazette; Page 3.)");
}

TEST(Amendment, RenumbersPartsOfASectionButNoLikeNumber) {
  for (const auto& [before, after] :
       std::initializer_list<std::pair<std::string, std::string>>{{"7.2(A)(1)", "8.2(A)(1)"},
                                                                  {"7.1 and 7.2", "7.1 and 8.2"},
                                                                  {"7.2, 7.2(B)", "8.2, 8.2(B)"},
                                                                  {"7.25", "7.25"},
                                                                  {"17.2", "17.2"},
                                                                  {"7.2.1", "7.2.1"},
                                                                  {"7.2A", "7.2A"}}) {
    Files files(Files::over);
    files.with(Files::layer, R"(section="7.4")", "section=\"" + before + '"');
    const auto law = amended(files);
    ASSERT_TRUE(law);
    EXPECT_EQ(cite_of(*law, "finest").section, after);
  }
}

TEST(Amendment, SetsRulesOverThoseOfTheBase) {
  const auto law = amended();
  ASSERT_TRUE(law);
  const RuleSetting* tightness = law->rule("tightness");
  ASSERT_NE(tightness, nullptr);
  EXPECT_EQ(tightness->force, RuleSetting::Force::required);
  ASSERT_EQ(tightness->cites.size(), 1u);
  EXPECT_EQ(law->citation(tightness->cites[0]),
            (Citation{"MC 7", "2022", "7.1", Basis::read, "Book one", ""}));
  EXPECT_EQ(tightness->layer, 1u);
  EXPECT_EQ(law->rule("slack")->force, RuleSetting::Force::required);
  EXPECT_EQ(law->rule("gap")->force, RuleSetting::Force::off);
  EXPECT_EQ(law->rule("gap")->layer, 0u);
}

TEST(Amendment, KeepsTheForceOfARuleThatItOnlyCitesAnew) {
  Files files(Files::over);
  files.with(Files::over, R"(rule="tightness" force="required")", R"(rule="tightness")");
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(law->rule("tightness")->force, RuleSetting::Force::advised);
  EXPECT_EQ(law->rule("tightness")->cites.size(), 1u);
}

TEST(Amendment, SetsRowsOverThoseOfTheBase) {
  const auto law = amended();
  ASSERT_TRUE(law);
  const Table& widths = *law->table("widths");
  ASSERT_EQ(widths.row_count(), 3u);
  const std::uint32_t width = widths.column("width"), weight = widths.column("weight");
  const std::uint32_t changed = widths.find({"tin", "1/2"}), added = widths.find({"zinc", "1/2"}),
                      kept = widths.find({"lead", "1/2"});
  EXPECT_EQ(changed, 0u) << "in its place";
  EXPECT_EQ(widths.count(changed, weight), number(4).count());
  EXPECT_EQ(widths.count(changed, width), inches(622).count() / 1000) << "a column that is left out stays";
  EXPECT_EQ(widths.text(changed, widths.column("word")), "plain");
  EXPECT_EQ(widths.layer(changed), 1u);
  EXPECT_EQ(law->citation(widths.cite(changed)), (Citation{"HT", "5", "3", Basis::read, "Hill gazette", ""}));
  EXPECT_EQ(widths.find({"tin", "3/4"}), Table::none);
  ASSERT_EQ(widths.removed.size(), 1u);
  EXPECT_EQ(widths.removed[0].keys, (std::vector<std::string>{"tin", "3/4"}));
  EXPECT_EQ(widths.removed[0].layer, 1u);
  EXPECT_EQ(law->citation(widths.removed[0].cite).section, "3");
  ASSERT_NE(added, Table::none);
  EXPECT_EQ(widths.count(added, width), Table::blank) << "a new row has nothing in it";
  EXPECT_EQ(widths.layer(kept), 0u);
  EXPECT_EQ(law->citation(widths.cite(kept)).section, "Table 9");
}

TEST(Amendment, TakesRowsInAnotherUnitOfTheSameKind) {
  Files files(Files::over);
  files.with(Files::amending_table, "weight [number]", "width [ft]");
  const auto law = amended(files);
  ASSERT_TRUE(law);
  const Table& widths = *law->table("widths");
  EXPECT_EQ(widths.count(widths.find({"tin", "1/2"}), widths.column("width")), feet(4).count());
}

TEST(Amendment, ReplacesATableAsAWhole) {
  Files files(Files::over);
  files.with(Files::over, R"(<table name="widths")", R"(<table change="replace" name="widths")");
  files.with(Files::over, R"(  <renumbered from="Table 7" to="Table 9" basis="memory"/>)", "");
  files[Files::amending_table] =
      "# table: widths\n# cites: hill, 3\n# basis: memory\nkind [key],worth [V]\nbrass,3\n";
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(law->table("widths")->row_count(), 1u);
  EXPECT_EQ(law->table("widths")->columns.size(), 2u);
  EXPECT_EQ(law->table("widths")->layer(0), 1u);
}

TEST(Amendment, BringsATableOfItsOwn) {
  Files files(Files::over);
  files.with(Files::over, R"(<table name="widths")", R"(<table change="new" name="depths")");
  files[Files::amending_table] =
      "# table: depths\n# cites: hill, 3\n# basis: memory\nkind [key],worth [V]\nbrass,3\n";
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(law->table("depths")->row_count(), 1u);
  EXPECT_EQ(law->table("widths")->row_count(), 3u);
}

TEST(Amendment, StandsOnShippedRulesetsById) {
  Files files(Files::over);
  files.with(Files::over, R"(base="../m/layer.xml")", R"(base="shipped-2020")");
  files.with(Files::amending_table, "zinc,1/2,7,new", "lead,3/4,7,new");  // words are measured
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(law->parameter("finest")->place.file, "shipped/m/layer.xml");
}

TEST(Amendment, MayStandOnAnAmendment) {
  Files files("o/top.xml");
  files["o/top.xml"] = R"(<ruleset xmlns="urn:raceward:ruleset:1" id="lane" title="Lane" base="../n/over.xml">
  <document id="lane" title="Lane"/>
  <parameter name="share" value="20%" section="1" basis="memory"/>
</ruleset>)";
  const auto law = amended(files);
  ASSERT_TRUE(law);
  EXPECT_EQ(law->layers, (std::vector<std::string>{"marrow-2020", "hill-2022", "lane"}));
  EXPECT_EQ(law->parameter("share")->layer, 2u);
  EXPECT_EQ(law->parameter("depth")->layer, 1u);
  EXPECT_EQ(law->parameter("finest")->layer, 0u);
  EXPECT_EQ(cite_of(*law, "share").document, "Lane") << "the first document of the layer itself";
  EXPECT_EQ(cite_of(*law, "depth").inherited, "");
}

const Fault faults[] = {
    {"unknown_base", R"(base="../m/layer.xml")", R"(^base="shipped-2002")",
     R"(no ruleset "shipped-2002" is shipped; shipped: shipped-2020; did you mean "shipped-2020"?)"},
    {"no_such_file", R"(base="../m/layer.xml")", R"(^base="../m/lair.xml")",
     R"(base "../m/lair.xml": n/../m/lair.xml cannot be read)"},
    {"path_from_the_root", R"(base="../m/layer.xml")", R"(^base="/m/layer.xml")",
     R"(base "/m/layer.xml" is no path from this layer)"},
    {"itself", R"(base="../m/layer.xml")", R"(^base="./over.xml")",
     "the bases lead in a circle: n/over.xml -> n/over.xml"},
    {"same_id", R"(id="hill-2022")", R"(^id="marrow-2020")",
     R"(a layer below this one is called "marrow-2020" too)"},
    {"id_of_a_shipped_one", R"(id="hill-2022")", R"(^id="shipped-2020")",
     R"("shipped-2020" is the id of a shipped ruleset, and reports could not tell the two apart; give this)"},
    {"unknown_parameter", R"(name="share")", R"(^name="shares")",
     R"(the base has no parameter "shares"; did you mean "share"?; say change="new" where it is new)"},
    {"known_parameter_as_new", R"(name="depth" value="2ft" change="new")",
     R"(name="reach" value="2ft" ^change="new")", R"(the base has parameter "reach"; leave change out)"},
    {"new_parameter_named_like_a_table", R"(basis="read" source="H1"/>
  <table name="widths" file="t/widths.csv"/>)",
     R"(basis="read" source="H1"/>
  <parameter ^name="widths" value="2ft" change="new" section="1" basis="memory"/>)",
     R"(name "widths" is that of a table of the base)"},
    {"unit_mismatch", R"(value="30%")", R"(^value="30in")",
     R"(parameter "share" cannot be "30in"; in the base it is "40%")"},
    {"word_for_a_number", R"(value="30%")", R"(^text="much")",
     R"(parameter "share" is a number in the base; write value="40%" or the like)"},
    {"parameter_twice", R"(name="depth" value="2ft" change="new")", R"(^name="share" value="20%")",
     R"(name "share" stands in line 14 already)"},
    {"unknown_change", R"(value="2ft" change="new")", R"(value="2ft" ^change="add")",
     R"(change "add" is not known here; write new, or leave it out)"},
    {"unknown_rule", R"(rule="tightness")", R"(^rule="tightnes")",
     R"(the base has no rule "tightnes"; did you mean "tightness"?)"},
    {"half_a_rule", R"(rule="tightness")", R"(^rule="tight")",
     R"(the base has no rule "tight"; did you mean "tightness"?)"},
    {"nothing_to_switch_off", R"(rule="tightness" force="required")",
     R"(^rule="tight" change="new" force="off")",
     R"(the base has no rule "tight" that could be switched off; did you mean "tightness"?)"},
    {"rule_as_in_the_base", R"(<uses rule="tightness" force="required">
    <cite section="7.1" basis="read" source="B1"/>
  </uses>)",
     R"(<uses ^rule="gap"/>)", R"(rule "gap" is as in the base; leave it out)"},
    {"force_without_authority", R"(<uses rule="tightness" force="required">
    <cite section="7.1" basis="read" source="B1"/>
  </uses>)",
     R"(<uses ^rule="tightness" force="off"/>)",
     R"(the force of rule "tightness" is changed without a <cite>; say on what authority)"},
    {"unknown_table", R"(<table name="widths")", R"(<table ^name="width")",
     R"(the base has no table "width")"},
    {"known_table_as_new", R"(<table name="widths")", R"(<table ^change="new" name="widths")",
     R"(the base has table "widths"; leave change out to amend it)"},
    {"document_of_the_base", R"(<document id="hill")",
     R"(<document id="hill" title="a"/><document ^id="habit")",
     R"(document "habit" is the base's; give yours another id, or say change="replace")"},
    {"document_replaces_nothing", R"(<document id="hill")", R"(<document ^id="hill" change="replace")",
     R"(document "hill" replaces nothing: the base has none of this id)"},
    {"document_as_in_the_base", R"(<document id="hill")",
     R"(<document ^id="habit" change="replace" title="what people do"/><document id="hill")",
     R"(document "habit" is as in the base; leave it out)"},
    {"document_of_nobody", R"(document="hill" section="2")", R"(^document="hall" section="2")",
     R"(document "hall" is not among the layer's <document> elements nor its base's; did you mean "hill"?)"},
    {"source_of_nobody", R"(section="2" basis="read" source="H1")",
     R"(section="2" basis="read" ^source="H2")",
     R"(source "H2" is not among the layer's <source> elements nor its base's)"},
    {"section_that_nothing_cites", R"(from="7.2")", R"(^from="7.9")",
     R"(the base cites no section "7.9" of marrow; leave this out)"},
    {"section_renumbered_twice", R"(<renumbered from="Table 7")",
     R"(<renumbered from="Table 7" to="Table 9" basis="memory"/><renumbered ^from="7.2")",
     R"(section "7.2" is renumbered twice)"},
    {"number_without_source", R"(<renumbered from="7.2" to="8.2" basis="read" source="H1")",
     R"(<renumbered ^from="7.2" to="8.2" basis="read")",
     R"(basis "read" without source; name what was read)"},
};

class AmendmentFault : public testing::TestWithParam<Fault> {};

TEST_P(AmendmentFault, IsTheOneProblemAndHasItsPlace) {
  const Fault& f = GetParam();
  expect_fault(Files::over, f.from, f.to, f.message, Files(Files::over));
}

INSTANTIATE_TEST_SUITE_P(Each, AmendmentFault, testing::ValuesIn(faults),
                         [](const auto& info) { return info.param.name; });

const Fault table_faults[] = {
    {"row_that_the_base_has_not", "tin,1/2,4,", "^brass,1/2,4,",
     R"(the base has no row of these keys; say new in a column "change" where it is to be added)"},
    {"row_that_the_base_has_as_new", "zinc,1/2,7,new", "lead,1/2,7,^new",
     R"(the base has this row; leave out "new" to change it)"},
    {"removes_what_is_not_there", "tin,3/4,,remove", "^tin,4/3,,remove",
     "the base has no row of these keys to remove"},
    {"removed_row_with_values", "tin,3/4,,remove", "tin,3/4,^5,remove",
     "a row that is removed has keys and a citation, no values"},
    {"unknown_change", "zinc,1/2,7,new", "zinc,1/2,7,^add",
     R"(change "add" is not known; write new, remove or nothing)"},
    {"row_twice", "zinc,1/2,7,new", "^tin,1/2,7,", "these keys stand in line 6 already"},
    {"keys_in_another_order", "kind [key],size [key]", "^size [key],kind [key]",
     "the keys of the base's table are, in this order: kind, size"},
    {"fewer_keys", "kind [key],size [key]", "kind [key],^size [text]",
     R"(column "size" cannot hold [text]; in the base it holds [key])"},
    {"column_that_the_base_has_not", "weight [number]", "^wait [number]",
     R"(the base's table has no column "wait")"},
    {"column_of_another_kind", "weight [number]", "^weight [ft]",
     R"(column "weight" cannot hold [ft]; in the base it holds [number])"},
};

class AmendingTableFault : public testing::TestWithParam<Fault> {};

TEST_P(AmendingTableFault, IsTheOneProblemAndHasItsPlace) {
  const Fault& f = GetParam();
  Files files(Files::over);
  if (std::string_view(f.name) == "keys_in_another_order" || std::string_view(f.name) == "fewer_keys") {
    files.with(Files::amending_table, "tin,1/2,4,\ntin,3/4,,remove\n", "");
  }
  expect_fault(Files::amending_table, f.from, f.to, f.message, files);
}

INSTANTIATE_TEST_SUITE_P(Each, AmendingTableFault, testing::ValuesIn(table_faults),
                         [](const auto& info) { return info.param.name; });

TEST(Amendment, RefusesAParameterThatIsAsInTheBase) {
  Files files(Files::over);
  files[Files::over] =
      R"(<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill" base="../m/layer.xml">
  <parameter name="reach" value="42in" section="7.2" basis="read" source="B1"/>
</ruleset>)";
  EXPECT_EQ(files.problems(),
            (std::vector<std::string>{R"(2:14 parameter "reach" is as in the base; leave it out)"}));
  files.with(Files::over, R"(section="7.2")", R"(section="7.3")");
  EXPECT_TRUE(files.problems().empty()) << "another section is a change";
  files.with(Files::over, R"(>
  <parameter)",
             R"(>
  <document id="marrow" change="replace" title="Wiring in Marrow County" cited-as="MC 7" edition="2022"/>
  <parameter)");
  files.with(Files::over, R"(section="7.3")", R"(section="7.2")");
  EXPECT_TRUE(files.problems().empty()) << "read in the edition that is in force";
}

TEST(Amendment, RefusesARowThatIsAsInTheBase) {
  Files files(Files::over);
  files[Files::over] =
      R"(<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill" base="../m/layer.xml">
  <table name="widths" file="t/widths.csv"/>
</ruleset>)";
  files[Files::amending_table] =
      "# table: widths\n# cites: marrow, Table 7\n# basis: read\n# source: B1\n# note: Read in the first "
      "printing.\n"
      "kind [key],size [key],weight [number]\ntin,1/2,3\n";
  EXPECT_EQ(files.problems(),
            (std::vector<std::string>{"n/t/widths.csv:7:1 this row is as in the base; leave it out"}));
  files.with(Files::amending_table, "# note: Read in the first printing.\n", "# note: Read in the second.\n");
  EXPECT_TRUE(files.problems().empty()) << "another authority is a change";
}

TEST(Amendment, RefusesChangesOfRowsInATableThatAmendsNone) {
  Files files(Files::over);
  files.with(Files::over, R"(<table name="widths")", R"(<table change="replace" name="widths")");
  const auto problems = files.problems();
  ASSERT_EQ(problems.size(), 1u) << testing::PrintToString(problems);
  EXPECT_EQ(problems[0], "n/t/widths.csv:7:10 the table amends none; leave the column \"change\" out");
}

TEST(Amendment, RefusesACircleOfSeveralLayers) {
  Files files("a.xml");
  const auto layer = [](std::string id, std::string base) {
    return "<ruleset xmlns='urn:raceward:ruleset:1' id='" + id + "' title='x' base='" + base + "'/>";
  };
  files["a.xml"] = layer("a", "q/b.xml");
  files["q/b.xml"] = layer("b", "../q/../c.xml");
  files["c.xml"] = layer("c", "q/b.xml");
  EXPECT_EQ(files.problems(),
            (std::vector<std::string>{
                "q/../q/../c.xml:1:58 the bases lead in a circle: q/b.xml -> c.xml -> q/b.xml"}));
}

TEST(Amendment, RefusesATowerOfLayers) {
  Files files("0.xml");
  for (int i = 0; i < 40; ++i) {
    files[std::to_string(i) + ".xml"] = "<ruleset xmlns='urn:raceward:ruleset:1' id='l" + std::to_string(i) +
                                        "' title='x' base='" + std::to_string(i + 1) + ".xml'/>";
  }
  const auto problems = files.problems();
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_NE(problems[0].find("more than 32 layers stand one upon another"), std::string::npos) << problems[0];
}

TEST(Amendment, TellsTheFaultsOfItsBaseAndNotWhatFollowsFromThem) {
  Files files(Files::over);
  files.with(Files::layer, R"(<parameter name="share" value="40%")",
             R"(<parameter name="share" value="40V%")");
  const auto problems = files.problems();
  ASSERT_EQ(problems.size(), 1u) << testing::PrintToString(problems);
  EXPECT_EQ(problems[0].find("n/../m/layer.xml:13:"), 0u) << problems[0];
}

}  // namespace
}  // namespace raceward::ruleset::test
