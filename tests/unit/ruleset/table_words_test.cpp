// Words of a layer of somebody's own, measured by those of the shipped law.
#include "ruleset/table_words.hpp"

#include <filesystem>
#include <fstream>

#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

namespace fs = std::filesystem;

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
std::vector<std::string> problems(const std::string& elements, const std::string& table = {}) {
  const fs::path folder = fs::path(testing::TempDir()) / "raceward-table-words";
  fs::create_directories(folder);
  std::ofstream(folder / "layer.xml", std::ios::binary)
      << R"(<ruleset xmlns="urn:raceward:ruleset:1" id="marrow" title="Marrow" base="nec-2023">
<document id="marrow" title="Marrow"/>
)" << elements
      << "\n</ruleset>";
  std::ofstream(folder / "t.csv", std::ios::binary) << table;
  const LoadedLaw loaded = load_ruleset((folder / "layer.xml").string());
  std::vector<std::string> out;
  for (const Problem& p : loaded.problems) out.push_back(text_of(p).substr(folder.string().size() + 1));
  fs::remove_all(folder);
  return out;
}

using Texts = std::vector<std::string>;

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
      (Texts{"layer.xml:3:12: nothing reads parameter \"nipple-lenght\"; did you mean \"nipple-length\"? "
             "Then leave change out; or give it a name that is less like that one"}));
  EXPECT_EQ(
      problems(R"(<parameter name="longest-pull" value="60ft" change="new" section="1" basis="memory"/>)"),
      Texts{});
}

TEST(KnownWords, NoDayLiesInAPeriodThatEndsBeforeItBegins) {
  EXPECT_EQ(problems(R"(<where permit-from="2026-02-01" permit-before="2026-01-01">
<uses rule="working-space" force="off"><cite section="1" basis="memory"/></uses></where>)"),
            (Texts{"layer.xml:3:33: no day lies from 2026-02-01 on and before 2026-01-01"}));
}

}  // namespace
}  // namespace raceward::ruleset::test
