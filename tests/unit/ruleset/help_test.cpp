// What people write otherwise, and what they are told.
#include "own_layer.hpp"

namespace raceward::ruleset::test {
namespace {

struct Slip {
  const char* name;
  std::string elements;
  const char* told;  ///< how the one problem ends
};
void PrintTo(const Slip& slip, std::ostream* out) { *out << slip.name; }

class Helps : public testing::TestWithParam<Slip> {};

TEST_P(Helps, SaysWhatToWrite) {
  const Texts problems = own_layer(GetParam().elements).problems;
  ASSERT_EQ(problems.size(), 1u) << testing::PrintToString(problems);
  const std::string told(GetParam().told);
  const std::string& found = problems.front();
  EXPECT_EQ(found.substr(found.size() - std::min(found.size(), told.size())), told) << found;
}

/// A rule that asserts this.
std::string asks(const std::string& test) {
  return "<parameter name=\"most\" value=\"12ft\" change=\"new\" @/>\n<rule id=\"r\" change=\"new\" "
         "subject=\"raceway\" "
         "title=\"t\" why=\"w\"><cite @/><assert test=\"" +
         test + "\" message=\"m\" cure=\"c\"/></rule>";
}
std::string where(const std::string& condition) {
  return "<where>" + condition + "<uses rule=\"bend-total\" force=\"off\"><cite @/></uses></where>";
}

INSTANTIATE_TEST_SUITE_P(
    All, Helps,
    testing::Values(
        Slip{"share_of_the_whole", where(R"(<if figure="raceway-fill" at-most="0.35"/>)"),
             R"("0.35" is no share; write "35 %" for 0.35 of the whole)"},
        Slip{"percentage_without_sign", where(R"(<if figure="raceway-fill" at-most="35"/>)"),
             R"("35" is no share; write "35%")"},
        Slip{"all_of_it", where(R"(<if figure="raceway-fill" at-most="1"/>)"),
             R"("1" is no share; write "100 %" for 1 of the whole)"},
        Slip{"figure_in_other_words", where(R"(<if figure="length-of-raceway" at-most="3ft"/>)"),
             "there is raceway-fill-limit-any-length, raceway-length"},
        Slip{"is_not", where(R"(<if attribute="raceway@type" is="EMT" is-not="RMC"/>)"),
             R"(; write <unless><if ... is="..."/></unless>)"},
        Slip{"exception", R"(<exception/>)",
             R"(an exception is a <where> with its conditions and <uses rule="..." force="off"> in it)"},
        Slip{"basis", R"(<parameter name="nipple-length" value="18in" section="1" basis="law"/>)",
             R"(basis "law" is not known; write read, derived, memory or common-practice)"},
        Slip{"double_prime", R"(<parameter name="nipple-length" value='18"' @/>)",
             R"(the mark " is not read as a unit; write in)"},
        Slip{"decimal_comma", R"(<parameter name="nipple-length" value="18,5in" @/>)",
             "a point stands before decimals, and nothing between thousands"},
        Slip{"unit_in_an_expression", asks("figures/@raceway-length &lt;= 12ft"),
             R"(is a parameter, such as <parameter name="most" value="12ft">, and is written $most)"},
        Slip{"twice_equal", asks("@type == 'EMT'"), "equal is written with one ="},
        Slip{"open_quote", asks("@type = 'EMT"), "this quote is not closed"},
        Slip{"order_of_sizes", asks("@trade-size &gt;= '3/4'"),
             R"(Sizes have an order in conditions: <if attribute="..." at-least="..."/> of <requires>)"},
        Slip{"order_of_dates", asks("installation/@permit-date &gt;= '2025-01-01'"),
             "A date is compared as a number: number(translate(@permit-date, '-', '')) and 20250101"},
        Slip{"days_between",
             asks("number(translate(installation/@permit-date, '-', '')) - "
                  "number(translate(installation/@permit-date, '-', '')) &lt;= 90"),
             "Compare each date with a day, or ask for the days between as a <fact>"},
        Slip{"always", asks("@trade-size = '1/2' or @trade-size != '1/2'"),
             "this holds whatever is written: it asks nothing. What is only to be known stands in needs"},
        Slip{"of_nothing", asks("$nipple-length &gt;= $setback-noncombustible"),
             "this reads nothing of the installation: it is the same for every one"},
        Slip{"no_such_function", asks("max(1, 2) = 2"), "sum(), translate(), true()"},
        Slip{"adopts_itself", R"(<where occupancy="farm" adopts="./layer.xml"/>)",
             "the layer adopts itself; name what holds in its place"}),
    [](const auto& info) { return info.param.name; });

TEST(Helps, OfTables) {
  EXPECT_EQ(
      own_rows("bend-limit", "raceway-type [key];limit [deg]", "EMT;270").problems,
      (Texts{"t.csv:5:1: columns stand apart by semicolons here; save the table with commas between them"}));
  EXPECT_EQ(
      own_rows("bend-limit", "raceway-type [key],limit [deg]", "emt,270").problems,
      (Texts{"t.csv:6:1: key \"raceway-type\": \"emt\" is no word that documents have for it; did you mean "
             "\"EMT\"?"}));
  EXPECT_EQ(
      own_rows("bend-limit", "raceway-type [key],limit [deg]", "EMT,\"8,5\"").problems,
      (Texts{"t.csv:6:5: column \"limit\": \"8,5\" has a comma; write a point before decimals and nothing "
             "between thousands"}));
  EXPECT_EQ(
      own_rows("bend-limit", "raceway-type [key],limit [deg]", "EMT,8,5").problems,
      (Texts{"t.csv:6:1: the row has 3 cells and the table 2 columns; decimals have a point, and text with a "
             "comma stands in double quotes"}));
}

TEST(Helps, AFolderIsNoLayer) {
  const std::string folder = testing::TempDir() + "raceward-help-folder";
  std::filesystem::create_directories(folder);
  std::ofstream(folder + "/layer.xml") << "x";
  const LoadedLaw loaded = load_ruleset(folder);
  ASSERT_EQ(loaded.problems.size(), 1u);
  EXPECT_EQ(text_of(loaded.problems[0]),
            folder + ": this is a folder; name the layer in it: " + folder + "/layer.xml");
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace raceward::ruleset::test
