// Amendments without effect: which are refused, and which are told.
#include "own_layer.hpp"

namespace raceward::ruleset::test {
namespace {

constexpr const char* support_columns =
    "raceway-type [key],trade-size [key],condition [key],change,spacing [ft]";

TEST(Idle, ARowForAllSizesThatHoldsOfNoneIsRefused) {
  EXPECT_EQ(own_rows("raceway-support", support_columns, "PVC-40,all,general,new,2").problems,
            (Texts{"t.csv:6:1: this row would hold of no size: each has a row of its own in the base; change "
                   "those for 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3, 3-1/2, 4, 5, 6"}));
  EXPECT_EQ(own_rows("raceway-support", support_columns, "RTRC,all,general,new,2").problems.size(), 1u)
      << "of which the law has no areas";
  EXPECT_EQ(own_rows("egc-raceway", "raceway-type [key],trade-size [key],change,use [text]", "FMC,all,new,no")
                .problems.size(),
            1u);
  EXPECT_EQ(own_rows("raceway-support", support_columns, "EMT,all,general,,8").problems, Texts{});
}

TEST(Idle, ARowForAllSizesWithRowsBesideItIsTold) {
  const OwnLayer own =
      own_rows("raceway-support", "raceway-type [key],trade-size [key],condition [key],change,unsecured [ft]",
               "FMC,all,flexibility-needed,new,2");
  EXPECT_EQ(own.problems, Texts{});
  ASSERT_EQ(own.remarks.size(), 1u);
  EXPECT_EQ(own.remarks[0].substr(0, 60), "t.csv:6:1: this row does not hold of all sizes: the base has");
}

TEST(Idle, WhereTheRowsBySizeAreTakenOutTheRowForAllHolds) {
  std::string rows = "PVC-40,all,general,new,2";
  for (const char* size : {"1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6"})
    rows += std::string("\nPVC-40,") + size + ",general,remove,";
  EXPECT_EQ(own_rows("raceway-support", support_columns, rows).problems, Texts{});
}

TEST(Idle, ANewTableThatNothingReadsIsRefused) {
  EXPECT_EQ(own_layer(R"(<table name="my-table" change="new" file="t.csv"/>)").problems,
            (Texts{"layer.xml:4:8: nothing reads table \"my-table\"; a rule as data reads parameters"}));
}

TEST(Idle, ATableThatMethodsOfOtherCodesReadMayBeNew) {
  const OwnLayer own = own_layer(R"(<table name="trip-multiple" change="new" file="t.csv"/>)",
                                 "# table: trip-multiple\n# cites: marrow, 1\n# basis: read\n# source: S1\n"
                                 "characteristic [key],multiple [number]\nB,5\n");
  EXPECT_EQ(own.problems, Texts{});
}

TEST(Idle, ASectionThatKeepsItsNumberIsRefused) {
  EXPECT_EQ(
      own_layer(R"(<renumbered document="nfpa-70" from="358.26" to="358.26" basis="read" source="S1"/>)")
          .problems,
      (Texts{"layer.xml:4:46: section \"358.26\" keeps its number; leave this out"}));
}

struct Told {
  const char* name;
  const char* elements;
  Texts remarks;
};
void PrintTo(const Told& told, std::ostream* out) { *out << told.name; }

class IdleTold : public testing::TestWithParam<Told> {};

TEST_P(IdleTold, WithItsPlace) {
  const OwnLayer own = own_layer(GetParam().elements);
  EXPECT_EQ(own.problems, Texts{});
  EXPECT_EQ(own.remarks, GetParam().remarks);
}

INSTANTIATE_TEST_SUITE_P(
    All, IdleTold,
    testing::Values(
        Told{"change", R"(<parameter name="nipple-length" value="18in" @/>)", {}},
        Told{"unread_parameter",
             R"(<parameter name="nothing-reads-this" value="3ft" change="new" @/>)",
             {"layer.xml:4:12: nothing of this ruleset reads parameter \"nothing-reads-this\"; a rule of a "
              "module may"}},
        Told{"same_value",
             R"(<parameter name="nipple-length" value="2ft" @/>)",
             {"layer.xml:4:12: parameter \"nipple-length\" is 24in in the base as well; it is only cited "
              "anew"}},
        Told{"same_force",
             R"(<uses rule="bend-total" force="required"><cite @/></uses>)",
             {"layer.xml:4:25: rule \"bend-total\" is required in the base as well; it is only cited anew"}},
        Told{
            "same_under_a_condition",
            R"(<where occupancy="commercial"><parameter name="nipple-length" value="24in" @/></where>)",
            {"layer.xml:4:42: parameter \"nipple-length\" is 24in without this condition as well; it is only "
             "cited anew"}},
        Told{"of_a_rule_that_is_off",
             R"(<parameter name="most" value="72in" change="new" @/>
<rule id="r" change="new" force="off" subject="raceway" title="t" why="w"><cite @/>
<assert test="figures/@raceway-length &lt;= $most" message="m" cure="c"/></rule>)",
             {"layer.xml:4:12: what compares with parameter \"most\" is off: rule r",
              "layer.xml:5:27: rule \"r\" is off, and no condition asks it"}},
        Told{"asked_under_a_condition",
             R"(<parameter name="most" value="72in" change="new" @/>
<rule id="r" change="new" force="off" subject="raceway" title="t" why="w"><cite @/>
<assert test="figures/@raceway-length &lt;= $most" message="m" cure="c"/></rule>
<where occupancy="commercial"><uses rule="r" force="required"><cite @/></uses></where>)",
             {}},
        Told{"document",
             R"(<document id="other" title="Other"/>
<parameter name="nipple-length" value="18in" @/>)",
             {"layer.xml:4:11: nothing cites document \"other\""}},
        Told{"source",
             R"(<source id="S9" title="Other"/>
<parameter name="nipple-length" value="18in" @/>)",
             {"layer.xml:4:9: nothing was read in source \"S9\""}},
        Told{"nothing", "", {"layer.xml:1:41: the layer sets nothing: what it stands upon holds as it is"}},
        Told{
            "always",
            R"(<requires id="q" subject="raceway" change="new" title="t" why="w" message="{where}" cure="c"><cite @/>
<given><if attribute="raceway@type" is="EMT"/></given>
<must><if attribute="raceway@type" is="EMT IMC"/></must></requires>)",
            {"layer.xml:4:11: what rule \"q\" says must hold wherever it is asked; it can be undetermined "
             "and "
             "never violated"}},
        Told{
            "not_always",
            R"(<requires id="q" subject="circuit" change="new" title="t" why="w" message="{where}" cure="c"><cite @/>
<given><if attribute="area@use" is="garage"/></given>
<must><if attribute="area@use" is="garage"/></must></requires>)",
            {}},
        Told{
            "off",
            R"(<requires id="q" subject="raceway" force="off" change="new" title="t" why="w" message="{where}" cure="c">
<cite @/><must><if attribute="raceway@type" is="EMT"/></must></requires>)",
            {"layer.xml:4:36: rule \"q\" is off, and no condition asks it"}},
        Told{"far",
             R"(<where><if attribute="bonding-jumper@material" is="copper"/>
<uses rule="overcurrent-rating-standard" force="off"><cite @/></uses></where>)",
             {"layer.xml:5:7: rule \"overcurrent-rating-standard\" is asked of each overcurrent-device, "
              "which leads "
              "to no "
              "bonding-jumper: what the condition asks of that never holds there"}}),
    [](const auto& info) { return info.param.name; });

TEST(Idle, ARowAsInTheBaseIsTold) {
  EXPECT_EQ(own_rows("bend-limit", "raceway-type [key],limit [deg]", "EMT,360").remarks,
            (Texts{"layer.xml:4:8: of table \"bend-limit\" the row EMT says what the base says; only cited "
                   "anew"}));
}

TEST(Idle, ShippedLayersSetNothingInVain) {
  for (const RulesetInfo& info : shipped_rulesets()) {
    const LoadedLaw loaded = load_ruleset(info.id);
    EXPECT_TRUE(loaded.law) << info.id;
    EXPECT_TRUE(loaded.remarks.empty()) << info.id << ": " << loaded.remarks.front().message;
  }
}

}  // namespace
}  // namespace raceward::ruleset::test
