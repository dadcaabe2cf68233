// Words of a layer of somebody's own, measured by those of the shipped law.
#include "ruleset/table_words.hpp"

#include "installation/terms.hpp"
#include "own_layer.hpp"

namespace raceward::ruleset::test {
namespace {

KnownWords words_of(std::string_view table, std::string_view column) {
  static const LoadedLaw nec = load_shipped_ruleset("nec-2023");
  const Table* const found = nec.law->table(table);
  EXPECT_NE(found, nullptr) << table;
  return KnownWords::of(*found, found->column(column));
}

void expect(std::string_view table, std::string_view column, std::vector<std::string_view> known,
            std::vector<std::string_view> unknown) {
  const KnownWords words = words_of(table, column);
  for (const std::string_view word : known) EXPECT_TRUE(words.may_be(word)) << table << ' ' << word;
  for (const std::string_view word : unknown) EXPECT_FALSE(words.may_be(word)) << table << ' ' << word;
}

TEST(KnownWords, OfAClosedListOfDocumentsMayAllBe) {
  expect("raceway-place", "raceway-type", {"EMT", "surface-metal"}, {"emt", "tubing"});
  expect("least-conductor", "size", {"12 AWG", "10 AWG"}, {"12AWG", "12", "#12", ""});
  expect("arc-fault-places", "use", {"garage", "workshop"}, {"garden"});
}

TEST(KnownWords, WithoutAListAreThoseThatAreThere) {
  expect("raceway-place", "place", {"wet", "corrosive"}, {"garage", "Wet"});
  expect("raceway-support", "condition", {"general"}, {"genral"});
  expect("ground-fault-places", "asked", {"yes", "no", "unfinished"}, {"Yes", "required", ""});
  expect("raceway-reaming", "asked", {"yes", "no"}, {"YES", ""});
}

TEST(KnownWords, NumbersMayBeOthersOfTheirUnit) {
  expect("egc-size", "not-above", {"35", "100"}, {"35A", "many"});
  expect("working-depth", "voltage-to-ground", {"300V"}, {"300"});
}

TEST(KnownWords, SentencesAreFree) {
  expect("tamper-resistant-places", "words", {"say what the area is used for", ""}, {});
}

TEST(KnownWords, SaysWhatCouldBeMeant) {
  EXPECT_EQ(words_of("raceway-support", "condition").instead_of("genral"), "; did you mean \"general\"?");
  EXPECT_EQ(words_of("receptacle-location", "cover").instead_of("wood"), "; it says closed, in-use, none");
}

/// Problems of a layer over nec-2023 with these elements and one table beside it.
Texts problems(const std::string& elements, const std::string& table = {}) {
  return own_layer(elements, table).problems;
}

TEST(KnownWords, ARowThatNothingLooksForIsRefused) {
  EXPECT_EQ(
      problems(R"(<table name="raceway-support" file="t.csv"/>)",
               "# table: raceway-support\n# cites: marrow, 1\n# basis: memory\n"
               "raceway-type [key],trade-size [key],condition [key],spacing [ft],change\n"
               "EMT,all,genral,8,new\n"),
      (Texts{"t.csv:5:1: column \"condition\" cannot say \"genral\": nothing looks for it; did you mean "
             "\"general\"?"}));
}

TEST(KnownWords, AWordThatNothingLooksForIsRefused) {
  EXPECT_EQ(
      problems(R"(<parameter name="smallest-parallel-conductor" text="1/0" section="1" basis="memory"/>)")
          .size(),
      1u);
  EXPECT_EQ(
      problems(
          R"(<parameter name="smallest-parallel-conductor" text="2/0 AWG" section="1" basis="memory"/>)"),
      Texts{});
}

TEST(KnownWords, AMisspeltNameIsNotTakenForANewOne) {
  EXPECT_EQ(
      problems(R"(<parameter name="nipple-lenght" value="12in" change="new" section="1" basis="memory"/>)"),
      (Texts{"layer.xml:4:12: nothing reads parameter \"nipple-lenght\"; did you mean \"nipple-length\"? "
             "Then leave change out; or give it a name that is less like that one"}));
  EXPECT_EQ(
      problems(R"(<parameter name="longest-pull" value="60ft" change="new" section="1" basis="memory"/>)"),
      Texts{});
}

TEST(KnownWords, NoDayLiesInAPeriodThatEndsBeforeItBegins) {
  EXPECT_EQ(problems(R"(<where permit-from="2026-02-01" permit-before="2026-01-01">
<uses rule="working-space" force="off"><cite section="1" basis="memory"/></uses></where>)"),
            (Texts{"layer.xml:4:33: no day lies from 2026-02-01 on and before 2026-01-01"}));
}

TEST(KnownWords, EachOccupancyMayHaveARowOfItsOwn) {
  const std::pair<const char*, const char*> tables[] = {
      {"arc-fault-places", "occupancy [key],use [key],change,asked [text]\n?,living,new,yes"},
      {"equipment-outlet-kinds",
       "occupancy [key],kind [key],change,to-ground [V],rating [A]\n?,ev-charger,new,150,60"},
      {"equipment-outlet-places", "occupancy [key],use [key],change,asked [text]\n?,workshop,new,yes"},
      {"ground-fault-lighting", "occupancy [key],use [key],change,asked [text]\n?,crawl-space,new,yes"},
      {"ground-fault-locations", "occupancy [key],location [key],change,asked [text]\n?,damp,new,yes"},
      {"ground-fault-places", "occupancy [key],use [key],change,asked [text]\n?,living,new,yes"},
      {"ground-fault-reach", "occupancy [key],phases [key],change,asked [text]\n?,single,new,yes"},
      {"panel-places", "occupancy [key],use [key],change,allowed [text]\n?,roof,new,yes"},
      {"required-lighting", "occupancy [key],use [key],change,per [text]\n?,roof,new,area"},
      {"required-receptacles", "occupancy [key],use [key],change,per [text]\n?,roof,new,building"},
      {"tamper-resistant-places", "occupancy [key],use [key],change,asked [text]\n?,shop,new,yes"},
  };
  for (const auto& [table, file] : tables) {
    for (const auto& term : installation::terms_of(installation::Occupancy{})) {
      std::string text(file);
      text.replace(text.find('?'), 1, term.spelling);
      const std::size_t end = text.find('\n');
      Texts found = own_rows(table, text.substr(0, end), text.substr(end + 1)).problems;
      std::erase_if(
          found, [](const std::string& p) { return p.find("the base has this row") != std::string::npos; });
      EXPECT_EQ(found, Texts{}) << table << ' ' << term.spelling;
    }
  }
}

TEST(KnownWords, WhatDocumentsWriteFreelyIsFree) {
  EXPECT_EQ(own_rows("fixed-heating", "kind [key],change,asked [text]", "sauna-heater,new,yes").problems,
            Texts{});
  EXPECT_EQ(own_rows("conductor-color", "color [key],change,is [text]", "mauve,new,ungrounded").problems,
            Texts{});
  const OwnLayer slip =
      own_rows("protection-otherwise", "equipment [key],change,group [text]", "conveyr,new,motor");
  EXPECT_EQ(slip.problems, Texts{});
  EXPECT_EQ(slip.remarks,
            (Texts{"t.csv:6:1: column \"equipment\" says \"conveyr\", which is found only where a "
                   "document says the same; did you mean \"conveyor\"?"}));
}

TEST(KnownWords, FillIsLimitedByNumberOrByRaceway) {
  constexpr const char* columns = "conductors [key],change,limit [%]";
  for (const char* key : {"EMT", "3", "over 3", "wireway-metal"}) {
    Texts found = own_rows("raceway-fill-limit", columns, std::string(key) + ",new,35").problems;
    std::erase_if(found,
                  [](const std::string& p) { return p.find("the base has this row") != std::string::npos; });
    EXPECT_EQ(found, Texts{}) << key;
  }
  EXPECT_EQ(own_rows("raceway-fill-limit", columns, "emt,new,35").problems,
            (Texts{"t.csv:6:1: column \"conductors\" cannot say \"emt\": nothing looks for it; did you mean "
                   "\"EMT\"?"}));
}

TEST(KnownWords, OnlyTablesThatHaveRowsForAllSizesTakeSuchARow) {
  EXPECT_EQ(own_rows("raceway-area", "raceway-type [key],trade-size [key],change,internal-diameter [in]",
                     "RTRC,all,new,1")
                .problems.size(),
            1u);
}

}  // namespace
}  // namespace raceward::ruleset::test
