// <rule> in layers: what it gives, what layers above may do to it, and every fault with its place.
#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

constexpr std::string_view good_rule =
    R"x(<rule id="slim" subject="raceway" title="It is slim" why="It is carried." force="advised"
    needs="@length" may-lack="@name">
    <cite section="9" basis="memory"/>
    <when test="@type = 'EMT' and not(@name)" reason="it is named"/>
    <assert test="@length &lt;= $reach" measured="@length" limit="$reach" message="{where}: {measured} &gt; {limit}" cure="Cut."/>
  </rule>
  )x";
constexpr std::string_view table_line = R"(<table name="widths" file="t/widths.csv"/>
</ruleset>)";

Files with_rule() {
  Files files;
  files.with(Files::layer, table_line, std::string(good_rule) + std::string(table_line));
  return files;
}

/// The same under an amendment with `own` in it.
Files amended(std::string_view own) {
  Files files(Files::over);
  files.with(Files::layer, table_line, std::string(good_rule) + std::string(table_line));
  files.with(Files::over, table_line, std::string(own) + std::string(table_line));
  return files;
}

TEST(RuleElement, GivesARuleAndItsSetting) {
  const LoadedLaw loaded = with_rule().load();
  ASSERT_TRUE(loaded.law) << ::testing::PrintToString(with_rule().problems());
  ASSERT_EQ(loaded.law->data_rules.size(), 1u);
  const DataRule& rule = loaded.law->data_rules.front();
  EXPECT_EQ(rule.id, "slim");
  EXPECT_EQ(rule.subject, SubjectKind::raceway);
  EXPECT_EQ(rule.title, "It is slim");
  EXPECT_EQ(rule.needs, std::vector<std::string>{"@length"});
  EXPECT_EQ(rule.may_lack, std::vector<std::string>{"@name"});
  ASSERT_EQ(rule.whens.size(), 1u);
  EXPECT_EQ(rule.whens[0].reason, "it is named");
  ASSERT_EQ(rule.asserts.size(), 1u);
  EXPECT_EQ(rule.asserts[0].test, "@length <= $reach");
  EXPECT_EQ(rule.asserts[0].message, "{where}: {measured} > {limit}");
  EXPECT_EQ(rule.place.line, 15u);
  const RuleSetting* setting = loaded.law->rule("slim");
  ASSERT_NE(setting, nullptr);
  EXPECT_EQ(setting->force, RuleSetting::Force::advised);
  ASSERT_EQ(setting->cites.size(), 1u);
  EXPECT_EQ(loaded.law->citation(setting->cites[0]).section, "9");
}

struct RuleFault {
  const char *from, *to, *message;
};
class RuleFaults : public testing::TestWithParam<RuleFault> {};

TEST_P(RuleFaults, IsTheOneProblemAndHasItsPlace) {
  expect_fault(Files::layer, GetParam().from, GetParam().to, GetParam().message, with_rule());
}

INSTANTIATE_TEST_SUITE_P(
    Each, RuleFaults,
    testing::Values(
        RuleFault{"@length &lt;= $reach", "@length &lt;= ^$reech",
                  "the ruleset has no parameter \"reech\"; did you mean \"reach\"?"},
        RuleFault{"test=\"@length &lt;= $reach\"", "test=\"  1 &lt; 2 and\n    @^lenght &lt;= $reach\"",
                  "a raceway has no fact \"lenght\""},
        RuleFault{"@type = 'EMT' and", "@type = ^'EMTT' and", "\"EMTT\" is no word of this fact"},
        RuleFault{"@type = 'EMT' and", "@type = 'EMT' and ^@type = 'RMC' and",
                  "this can never hold: @type is to be = 'EMT' and = 'RMC' at once"},
        RuleFault{"<assert test", "<when test=\"^@type = 'RMC'\" reason=\"r\"/><assert test",
                  "this can never hold: @type is to be = 'EMT' and = 'RMC' at once"},
        RuleFault{"@length &lt;= $reach\"", "@length &lt;= $reach and ^@length &gt; $reach\"",
                  "this can never hold: @length is to be <= $reach and > $reach at once"},
        RuleFault{"measured=\"@length\"", "measured=\"^@type\"", "this gives a text, and a number is wanted"},
        RuleFault{"limit=\"$reach\"", "limit=\"^$share\"", "limit is not of the dimension of measured"},
        RuleFault{"needs=\"@length\"", "needs=\"@length @^lenght\"", "a raceway has no fact \"lenght\""},
        RuleFault{"needs=\"@length\"", "needs=\"support^[@kind]\"", "a need is a path without conditions"},
        RuleFault{"may-lack=\"@name\"", "may-lack=\"@name ^end\"", "no expression of the rule reads \"end\""},
        RuleFault{"{where}: {measured}", "{where}: ^{measure}", "\"{measure}\" is not filled in"},
        RuleFault{"measured=\"@length\" limit=\"$reach\" message=\"{where}: {measured}",
                  "message=\"{where}: ^{measured}", "{measured} is filled in from"},
        RuleFault{"subject=\"raceway\"", "^subject=\"racewy\"",
                  "subject \"racewy\" is not known; did you mean \"raceway\"?"},
        RuleFault{"<rule id=\"slim\" subject=\"raceway\"", "<^rule id=\"slim\"", "<rule> has no \"subject\""},
        RuleFault{"force=\"advised\"\n", "^force=\"adviced\"\n", "force \"adviced\" is not known"},
        RuleFault{"id=\"slim\"", "^id=\"bend-total\"", "rule \"bend-total\" is one of this program"},
        RuleFault{"id=\"slim\"", "^id=\"gap\"", "rule \"gap\" stands in line"},
        RuleFault{"id=\"slim\"", "id=\"slim\" ^change=\"new\"", "a layer without base has nothing to change"},
        RuleFault{"<when test", "<^whn/><when test", "element \"whn\" is not known in <rule>"},
        RuleFault{"reason=\"it is named\"", "reason=\"it is named\" ^reson=\"x\"",
                  "attribute \"reson\" is not known on <when>"}));

TEST(RuleElement, HasACite) {
  Files files = with_rule();
  files.with(Files::layer, R"(<cite section="9" basis="memory"/>)", "");
  ASSERT_EQ(files.problems().size(), 1u);
  EXPECT_TRUE(files.problems().front().starts_with("15:9 rule \"slim\" is asked without a <cite>"))
      << files.problems().front();
}

constexpr std::string_view own_cite = R"(<cite document="hill" section="3" basis="memory"/>)";

std::string box_rule(std::string_view attributes) {
  return "<rule " + std::string(attributes) + R"( subject="box" title="T" why="W">)" + std::string(own_cite) +
         R"(<assert test="@covered = 'yes'" message="m" cure="c"/></rule>)";
}

TEST(RuleElement, OfABaseIsReplacedOrSwitchedOff) {
  EXPECT_EQ(amended({}).load().law->data_rules.size(), 1u);
  const LoadedLaw replaced = amended(box_rule(R"(id="slim")")).load();
  ASSERT_TRUE(replaced.law);
  ASSERT_EQ(replaced.law->data_rules.size(), 1u);
  EXPECT_EQ(replaced.law->data_rules.front().subject, SubjectKind::box);
  EXPECT_EQ(replaced.law->data_rules.front().layer, 1u);
  EXPECT_EQ(replaced.law->rule("slim")->force, RuleSetting::Force::advised) << "as in the base";
  const LoadedLaw off =
      amended(R"(<uses rule="slim" force="off">)" + std::string(own_cite) + "</uses>").load();
  ASSERT_TRUE(off.law);
  EXPECT_EQ(off.law->rule("slim")->force, RuleSetting::Force::off);
}

TEST(RuleElement, SaysWhatItDoesToTheBase) {
  const auto rule = [](std::string_view attributes) {
    const auto problems = amended(box_rule(attributes)).problems();
    return problems.empty() ? "" : problems.front();
  };
  EXPECT_NE(rule(R"(id="slim" change="new")").find("the base has rule \"slim\"; leave change out"),
            std::string::npos);
  EXPECT_NE(rule(R"(id="slin")").find("did you mean \"slim\""), std::string::npos);
  EXPECT_NE(rule(R"(id="other")").find("say change=\"new\""), std::string::npos);
  EXPECT_NE(rule(R"(id="other" change="amend")").find("write new"), std::string::npos);
  EXPECT_NE(rule(R"(id="gap")").find("of another sort"), std::string::npos);
  EXPECT_EQ(rule(R"(id="other" change="new")"), "");
}

TEST(RuleElement, IsSwitchedByConditions) {
  const LoadedLaw loaded = amended(R"(<where location="wet"><uses rule="slim" force="off">)" +
                                   std::string(own_cite) + "</uses></where>")
                               .load();
  ASSERT_TRUE(loaded.law);
  ASSERT_EQ(loaded.law->scopes.size(), 1u);
  ASSERT_EQ(loaded.law->scopes[0].rules.size(), 1u);
  EXPECT_EQ(loaded.law->scopes[0].rules[0].rule, "slim");
  // What is written again without a condition holds everywhere.
  Files files = amended(box_rule(R"(id="slim")"));
  files.with(
      Files::layer, "</ruleset>",
      R"(<where location="wet"><uses rule="slim" force="off"><cite section="3" basis="memory"/></uses></where></ruleset>)");
  const LoadedLaw over = files.load();
  ASSERT_TRUE(over.law) << ::testing::PrintToString(files.problems());
  EXPECT_TRUE(over.law->scopes[0].rules.empty());
}

TEST(RuleElement, ReadsTheFactsThatALayerDeclares) {
  const std::string fact =
      R"(<fact name="painted" of="raceway" value="word" words="red blue" title="how it is painted"/>)";
  const auto with = [&](std::string_view test) {
    Files files = with_rule();
    files.with(Files::layer, "<rule id=\"slim\"", fact + "\n<rule id=\"slim\"");
    files.with(Files::layer, "@length &lt;= $reach", std::string(test));
    const auto problems = files.problems();
    return problems.empty() ? std::string{} : problems.front();
  };
  EXPECT_EQ(with("stated/@painted = 'red' and @length &lt;= $reach"), "");
  EXPECT_NE(with("stated/@pained = 'red'").find("the ruleset declares no fact \"pained\"; did you mean"),
            std::string::npos);
  EXPECT_NE(with("stated/@painted = 'rde'").find("\"rde\" is no word of fact painted"), std::string::npos);
  EXPECT_NE(with("stated/@painted &gt; 3").find("a text is compared with"), std::string::npos);
  EXPECT_NE(with("area/stated/@painted = 'red'").find("fact \"painted\" is of each raceway"),
            std::string::npos);
  EXPECT_NE(with("fact/@name = 'painted'").find("written as stated/@name"), std::string::npos);
  EXPECT_NE(with("stated/@painted").find("whether this is there cannot be asked"), std::string::npos);
}

}  // namespace
}  // namespace raceward::ruleset::test
